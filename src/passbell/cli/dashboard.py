"""`passbell` without a command: the plan list."""

from passbell.cli.parser import say
from passbell.journal import Journal, home
from passbell.tui.run import run_list, trouble


def open_list() -> int:
    """Show the plan list; the exit code."""
    why = trouble()
    if why is not None:
        say(f"{why} In a script name a command: passbell --help")
        return 2
    with Journal.open() as journal:
        for notice in journal.notices:
            say(notice)
        return run_list(journal, home())
