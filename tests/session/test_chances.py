"""The odds beside a cook under way: asked seldom, answered by a child, never waited for."""

import signal
import subprocess
import sys
import time
from collections.abc import Callable

from passbell.cook.cue import CueKey
from passbell.cook.engine import begin
from passbell.cook.state import CookState
from passbell.odds.hand import Lead
from passbell.odds.odds import Draws, odds_of
from passbell.odds.say import chance_words, percent
from passbell.session.chances import FIRST, PAUSE, RUNS, Chances
from passbell.session.crew import ask, job_of, started
from tests.cook.meals import plan_of, step
from tests.cook.test_shift import PARTS

SOUP = {
    "title": "Invented: one thing to peel",
    "serves": 1,
    "component": [{"name": "roots", "steps": [step("prep", "peel", "20 min")]}],
}


class Kitchen:
    """The odds of a cook, a clock moved by hand, and all children there were."""

    def __init__(self, state: CookState, child: Callable[[], "subprocess.Popen[bytes]"]) -> None:
        self.now, self.state = 100.0, state
        self.children: list[subprocess.Popen[bytes]] = []
        self._child = child
        self.chances = Chances(lambda: self.now, self._begun)

    def _begun(self) -> "subprocess.Popen[bytes]":
        self.children.append(self._child())
        return self.children[-1]

    def look(self, later: float = 0.0) -> tuple[str, ...]:
        self.now += later
        return self.chances.look(self.state, lambda at: f"t{at}")

    def worked(self) -> tuple[str, ...]:
        end = time.monotonic() + 60
        while self.chances.working and time.monotonic() < end:
            time.sleep(0.01)
        return self.look()


def dying() -> "subprocess.Popen[bytes]":
    pipe = subprocess.PIPE
    return subprocess.Popen([sys.executable, "-c", ""], stdin=pipe, stdout=pipe)


def test_the_odds_come_when_they_are_worked_out_and_say_whose_they_are() -> None:
    state = begin(plan_of(SOUP), 2400).state
    kitchen = Kitchen(state, started)
    try:
        assert kitchen.look() == ()
        assert not kitchen.chances.working, "the first seconds are left to the screen"
        assert kitchen.children == []
        began = time.monotonic()
        assert kitchen.look(FIRST) == ()
        assert time.monotonic() - began < 5, "it waited for the answer"
        chance, late, told, ours, more = kitchen.worked()
        draws = Draws(runs=RUNS)
        known = odds_of(state, draws)
        sooner = odds_of(state, draws, (Lead(CueKey("prep", 0, 0, "begin"), 300),))
        assert chance.endswith(" in 10 by t2700")
        assert late == f"1 in 10 past t{2400 + known.late_90}"
        assert told == f"{chance_words(sooner.chance)} with roots 5 min earlier"
        assert ours == "our estimate; most on roots: peel"
        assert more.endswith(f"rises from {percent(known.chance)} to {percent(sooner.chance)}")
        kitchen.state = kitchen.state.but(at=901)
        assert kitchen.look() == (chance, late, ours), "four minutes before it, nobody can"
        kitchen.state = kitchen.state.but(serve=2700)
        assert kitchen.look() == (), "the odds of another dish-up are none of this one"
    finally:
        kitchen.chances.close()
    assert kitchen.children[0].poll() is not None


def test_the_next_question_waits_for_something_new_and_for_its_pause() -> None:
    kitchen = Kitchen(begin(plan_of(SOUP), 1200).state, dying)
    asked: list[int] = []

    def work(state: CookState) -> None:
        asked.append(state.commands)
        kitchen.chances._from = kitchen.now + PAUSE

    kitchen.chances._work = work  # type: ignore[method-assign]
    for later, commands, known in ((9, 0, 1), (PAUSE, 0, 1), (1, 1, 2), (1, 2, 2), (PAUSE, 2, 3)):
        kitchen.state = kitchen.state.but(commands=commands)
        kitchen.look(later)
        kitchen.worked()
        assert len(asked) == known


def test_without_a_wanted_time_or_after_dishing_up_there_are_none() -> None:
    for state in (begin(plan_of(SOUP)).state, begin(plan_of(SOUP), 1200).state.but(served=1200)):
        kitchen = Kitchen(state, started)
        assert kitchen.look(FIRST + PAUSE) == ()
        assert kitchen.children == []


def test_a_child_that_dies_is_done_without() -> None:
    kitchen = Kitchen(begin(plan_of(SOUP), 1200).state, dying)
    kitchen.look(FIRST)
    assert kitchen.worked() == ()
    kitchen.state = kitchen.state.but(commands=1)
    asked = kitchen.chances._thread
    kitchen.look(10 * PAUSE)
    assert kitchen.chances._thread is asked, "it was asked again"
    assert len(kitchen.children) == 1
    kitchen.chances.close()


def test_leaving_in_the_middle_of_an_answer_leaves_no_process() -> None:
    kitchen = Kitchen(begin(plan_of(PARTS), 4200).state, started)
    kitchen.look(FIRST)
    while not kitchen.children:
        time.sleep(0.01)
    began = time.monotonic()
    kitchen.chances.close()
    assert time.monotonic() - began < 5
    assert kitchen.children[0].poll() == -signal.SIGKILL, "it was waited for"


def test_a_child_in_the_middle_of_a_job_ends_when_nobody_holds_its_pipe_any_more() -> None:
    """As when the program was killed: the system then closes what it held."""
    child = started()
    try:
        ask(child, job_of(begin(plan_of(PARTS), 4200).state, Draws(), range(100_000)))
        assert child.stdin is not None
        child.stdin.close()
        assert child.wait(30) == 0
    finally:
        child.kill()
        child.wait()
        assert child.stdout is not None
        child.stdout.close()
