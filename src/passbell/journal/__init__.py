"""The journal: every cook, written down before it is acted on, in one SQLite file.

Text in, text out: this room knows what a run and an entry are, not what a command means.
"""

from passbell.journal.claim import Claim
from passbell.journal.errors import JournalError, Missing
from passbell.journal.folder import home, log_folder, make_file, make_folder
from passbell.journal.rows import Entry, RunMeta, RunRow, RunState
from passbell.journal.store import Journal

__all__ = [
    "Claim",
    "Entry",
    "Journal",
    "JournalError",
    "Missing",
    "RunMeta",
    "RunRow",
    "RunState",
    "home",
    "log_folder",
    "make_file",
    "make_folder",
]
