"""The odds of the cook under way, made up in a process beside it: the screen never waits for them.

A child process of low priority makes up the cooks, a thread waits for it. The next question is
asked only when something has happened, and so seldom that the processor is nearly always left in
peace. Where no child can be started, or it dies, there are no odds, and nothing else changes.
"""

import subprocess
import threading
from collections.abc import Callable

from passbell.cook.state import CookState
from passbell.odds.hand import Lead, Where
from passbell.odds.matter import Matter, hangs_on, matters
from passbell.odds.odds import Draws, Odds, wanted_of
from passbell.odds.say import screen_lines
from passbell.session.crew import answer, ask, job_of, started

RUNS = 100
"""So many cooks are made up for the screen: the standard error of the chance is then 1 in 20."""

FIRST = 5.0
"""Nothing is asked in the first seconds on the screen, which has enough to do then."""

PAUSE = 60.0
"""Seconds at least from one answer to the next question."""

SHARE = 12.0
"""The pause is at least so many times what the answer took."""

Answer = tuple[int | None, Odds, Where | None, tuple[Matter, ...]]
"""The wanted dish-up, the odds, the step they hang on, the changes that raise them."""

Question = tuple[int, int, int | None]
"""Commands so far, the dish-up to expect, the wanted one."""


class Chances:
    """How likely the meal is on time, as far as it is worked out.

    Args:
        real: seconds of real time.
        child: starts the process that makes up the cooks.
    """

    def __init__(
        self,
        real: Callable[[], float],
        child: Callable[[], "subprocess.Popen[bytes]"] = started,
    ) -> None:
        self._real = real
        self._start = child
        self._child: subprocess.Popen[bytes] | None = None
        self._thread: threading.Thread | None = None
        self._asked: Question | None = None
        self._from = real() + FIRST
        self._found: Answer | None = None
        self._shut = False

    def look(self, state: CookState, local: Callable[[int], str]) -> tuple[str, ...]:
        """The odds in texts (`screen_lines`); none without a wanted time, nor at first.

        Args:
            state: the cook.
            local: from an engine instant to the local time.
        """
        if state.serve is None or state.served is not None:
            return ()
        question = state.commands, state.schedule.dish_up, state.serve
        if self._real() >= self._from and question != self._asked and not self.working:
            self._asked = question
            self._thread = threading.Thread(target=self._work, args=(state,), daemon=True)
            self._thread.start()
        if self._found is None or self._found[0] != state.serve:
            return ()
        return screen_lines(state, *self._found[1:], local)

    @property
    def working(self) -> bool:
        """Whether an answer is being worked out."""
        return self._thread is not None and self._thread.is_alive()

    def close(self) -> None:
        """Send the child away, whatever it is doing."""
        self._shut = True
        if self._child is not None:
            self._child.kill()
        if self._thread is not None:
            self._thread.join(1.0)
        if self._child is not None:
            self._child.communicate()

    def _work(self, state: CookState) -> None:
        began = self._real()
        try:
            if self._child is None:
                self._child = self._start()
            if self._shut:
                self._child.kill()
                return
            self._answered(self._child, state)
        except (OSError, ValueError):
            self._shut = True
        took = self._real() - began
        self._from = float("inf") if self._shut else self._real() + max(PAUSE, SHARE * took)

    def _answered(self, child: "subprocess.Popen[bytes]", state: CookState) -> None:
        """Ask for the odds, then for what would raise them; the first are shown meanwhile."""
        draws = Draws(runs=RUNS)

        def cooked(cook: CookState, leads: tuple[Lead, ...] = ()) -> Odds:
            ask(child, job_of(cook, draws, range(RUNS), leads))
            return Odds(wanted_of(cook), answer(child))

        odds = cooked(state)
        most = hangs_on(state, odds, draws)
        self._found = state.serve, odds, most, ()
        self._found = state.serve, odds, most, matters(state, odds, draws, cooked)
