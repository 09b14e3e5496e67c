"""The cook's own times for other sizes, read from the record."""

import itertools

from passbell.cook.own_times import OwnTimes, other_size, own_times
from passbell.journal import Journal, JournalError, RunRow
from passbell.plan.problem import PlanError
from passbell.plan.read import read_plan
from passbell.planfiles import LoadedPlan
from passbell.session.kitchen import in_kitchen
from passbell.session.revise import is_of
from passbell.session.runs import UnreadableRun, kept_run

NEWEST = 12
"""So many cooks with other sizes are read again."""


def own_times_of(journal: Journal, loaded: LoadedPlan) -> OwnTimes:
    """What runs of a plan with pieces of another size needed, the newest cooks first.

    A run that cannot be read says nothing, nor does a record that cannot.
    """
    try:
        rows = [row for row in journal.runs() if _tells(row, loaded)]
    except JournalError:
        return {}
    kept = []
    for row in itertools.islice(rows, NEWEST):
        try:
            kept.append(kept_run(journal, row))
        except (JournalError, UnreadableRun):
            continue
    return own_times(loaded.plan, kept, in_kitchen(loaded.plan).habits)


def _tells(row: RunRow, loaded: LoadedPlan) -> bool:
    """Whether a run is a finished cook of this plan with pieces of another size."""
    if row.state != "finished" or row.meta.rehearsal:
        return False
    if not is_of(row, loaded.file, loaded.plan.title) or row.meta.plan_text == loaded.text:
        return False
    try:
        return other_size(loaded.plan, read_plan(row.meta.plan_text, row.meta.plan_file))
    except PlanError:
        return False
