"""What every test can rely on, however the suite was started."""

import signal

from hypothesis import settings

settings.register_profile("busy machine", deadline=None)
settings.load_profile("busy machine")


def pytest_configure() -> None:
    """Take signals as a terminal's own shell hands them on.

    Started in the background or shielded from hanging up, the suite ignores SIGHUP or SIGINT, and
    so would every program it starts: the application leaves an ignored signal ignored.
    """
    for number in (signal.SIGHUP, signal.SIGINT):
        if signal.getsignal(number) is signal.SIG_IGN:
            signal.signal(
                number, signal.default_int_handler if number == signal.SIGINT else signal.SIG_DFL
            )
