"""Laws of the engine, for any order of commands and waits (hypothesis)."""

from dataclasses import replace
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from passbell.cook import commands as cm
from passbell.cook.cards import cards
from passbell.cook.commands import COMMANDS, Command
from passbell.cook.cues import cues
from passbell.cook.engine import advance, tell
from passbell.cook.events import EVENTS
from passbell.cook.expect import safety_rest_end
from passbell.cook.fold import fold
from passbell.cook.put_back import reason_to_go_back
from passbell.cook.replan import problem_now, replan
from passbell.cook.state import CookState
from passbell.cook.timing import look_interval
from passbell.schedule.feasible import violations
from tests.cook.meals import CHOPS, TRAY, Hand, cooked

MEALS = (TRAY, CHOPS)
QUICK = settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True
)
waits = st.integers(0, 240)
changes = st.integers(-300, 600).filter(bool)


def fixed(make: type) -> st.SearchStrategy[Command]:
    """A command without arguments."""
    return st.builds(make)


simple = st.one_of(
    *(fixed(c) for c in (cm.Earlier, cm.Away, cm.Back, cm.HeatOff, cm.HeatOn, cm.Mark)),
    st.builds(cm.ExtendStage, appliance=st.integers(0, 1), by=changes),
    st.builds(cm.ExtendStep, component=st.integers(0, 2), by=changes),
    st.builds(cm.NotReady, appliance=st.integers(0, 1)),
    st.builds(cm.Dial, appliance=st.integers(0, 1), seconds=st.integers(0, 1200)),
    st.builds(cm.TakeOut, component=st.integers(0, 2)),
    st.builds(cm.PutBack, component=st.integers(0, 2)),
    st.builds(cm.Skip, component=st.integers(0, 2)),
    st.builds(cm.ServeAt, at=st.one_of(st.none(), st.integers(0, 9000))),
    st.builds(cm.Note, text=st.just("a note")),
    st.builds(
        cm.Probe,
        component=st.integers(0, 2),
        place=st.sampled_from([None, "1", "2"]),
        shown=st.floats(100, 200).map(lambda x: round(x, 1)),
        scale=st.just("F"),
    ),
)
undo = st.one_of(fixed(cm.TakeBack), fixed(cm.Redo))
Move = tuple[int, str | Command]
acts = st.one_of(st.sampled_from(["done", "put off", "seen"]), simple)
moves = st.lists(st.tuples(waits, st.one_of(st.just("done"), acts, undo)), max_size=25)


def carry_out(hand: Hand, move: Move) -> str | None:
    """One wait and one command; words stand for the first cue of the first card."""
    wait, what = move
    hand.at(hand.now + wait)
    if not isinstance(what, str):
        return hand.say(what)
    found = cards(hand.state)
    if not found:
        return "nothing is left"
    cue = found[0].lines[0].key.id
    makes: dict[str, Command] = {
        "done": cm.Done(cue=cue),
        "put off": cm.PutOff(cue=cue),
        "seen": cm.Seen(cue=cue),
    }
    return hand.say(makes[what])


def without_record(state: CookState) -> CookState:
    """A state without what a take back leaves in the record."""
    return replace(state, commands=0, log=(), struck=())


@QUICK
@given(st.sampled_from(MEALS), moves)
def test_replaying_the_events_gives_the_live_state(
    meal: dict[str, Any], played: list[Move]
) -> None:
    hand = Hand(meal)
    for move in played:
        carry_out(hand, move)
    written = [EVENTS.dump_json(event) for event in hand.events]
    read = [EVENTS.validate_json(text) for text in written]
    assert fold(hand.state.plan, read) == hand.state


@QUICK
@given(st.sampled_from(MEALS), moves, acts)
def test_a_take_back_restores_what_would_have_been(
    meal: dict[str, Any], played: list[Move], last: str | Command
) -> None:
    hand = Hand(meal)
    for move in played:
        carry_out(hand, move)
    before, now = hand.state, hand.now
    if last == "seen" or carry_out(hand, (30, last)) is not None:
        return
    hand.at(now + 100)
    assert hand.say(cm.TakeBack()) is None
    lived = advance(before, now + 100).state
    assert without_record(hand.state) == without_record(lived)
    assert hand.say(cm.Redo()) is None


@QUICK
@given(st.sampled_from(MEALS), moves, st.lists(st.integers(1, 400), max_size=8))
def test_ticks_of_any_length_lead_to_the_same_state(
    meal: dict[str, Any], played: list[Move], ticks: list[int]
) -> None:
    hand = Hand(meal)
    for move in played:
        carry_out(hand, move)
    state, now = hand.state, hand.now
    for tick in ticks:
        now += tick
        state = advance(state, now).state
    assert state == advance(hand.state, now).state


@QUICK
@given(st.sampled_from(MEALS), moves)
def test_every_schedule_keeps_the_rules_it_can(meal: dict[str, Any], played: list[Move]) -> None:
    hand = Hand(meal)
    for move in played:
        carry_out(hand, move)
        if hand.state.served is None:
            problem = problem_now(hand.state, hand.state.replanned)
            assert violations(problem, hand.state.schedule) == []


@QUICK
@given(st.sampled_from(MEALS), moves)
def test_time_never_runs_backwards_and_facts_are_not_in_the_future(
    meal: dict[str, Any], played: list[Move]
) -> None:
    hand = Hand(meal)
    for move in played:
        before = hand.state.at
        carry_out(hand, move)
        back = isinstance(move[1], cm.TakeBack | cm.Redo)
        assert hand.state.at >= before or back
        for row in hand.state.steps:
            for step in row:
                assert step.began is None or step.began <= hand.now
                assert step.ended is None or step.began is not None
                assert step.ended is None or step.began is None or step.began <= step.ended


@QUICK
@given(st.sampled_from(MEALS), moves)
def test_no_component_is_lost_and_food_leaves_only_by_command(
    meal: dict[str, Any], played: list[Move]
) -> None:
    """Every beginning of a list of moves is one too, so it is enough to look ahead at its end."""
    hand = Hand(meal)
    for move in played:
        carry_out(hand, move)
        assert len(hand.state.steps) == len(hand.state.plan.components)
    on_heat = [
        (c, i)
        for c, row in enumerate(hand.state.steps)
        for i, s in enumerate(row)
        if s.running and hand.state.plan.components[c].steps[i].kind == "cook"
    ]
    later = advance(hand.state, hand.now + 900).state
    assert all(later.steps[c][i].running for c, i in on_heat)


@QUICK
@given(moves, acts)
def test_nothing_shortens_a_safety_rest(played: list[Move], last: str | Command) -> None:
    """US chart, pork: 3 min after the minimum was read and the meat was out (FSIS)."""
    hand = Hand(CHOPS)
    for move in played:
        carry_out(hand, move)
    end = safety_rest_end(hand.state, 0)
    if end is None or end <= hand.now or isinstance(last, cm.Probe | cm.PutBack):
        return
    carry_out(hand, (0, last))
    after = safety_rest_end(hand.state, 0)
    assert after is None or after >= end
    finishes = [c for c in cues(hand.state) if c.key.kind == "finish" and c.key.owner == 0]
    for cue in finishes:
        refusal = tell(hand.state, cm.Done(cue=cue.key.id), end - 1).refusal
        assert refusal is not None


@QUICK
@given(moves)
def test_raw_meat_and_its_neighbours_are_never_offered(played: list[Move]) -> None:
    hand = Hand(TRAY)
    for move in played:
        carry_out(hand, move)
        meat_in = hand.state.steps[1][1].running
        readings = {r.place: r.shown for r in hand.state.readings if r.component == 1}
        if meat_in and (len(readings) < 2 or min(readings.values()) < 165):
            offered = [c for c in cues(hand.state) if c.key.kind == "take_out"]
            running = [c for c in offered if hand.state.steps[c.key.owner][c.key.item].running]
            assert None in readings or running == []


@QUICK
@given(
    st.integers(21, 36), st.lists(st.tuples(waits, simple), max_size=2), waits, st.integers(0, 1)
)
def test_food_out_too_early_never_brings_dish_up_forward(
    minute: int, played: list[Move], outside: int, component: int
) -> None:
    """The carrots share the tray of the raw chicken: either of them out belongs back."""
    hand = cooked(minute * 60)
    for move in played:
        carry_out(hand, move)
    planned = replan(hand.state, hand.now).dish_up
    if hand.say(cm.TakeOut(component=component)) or not reason_to_go_back(hand.state, component):
        return
    assert hand.state.schedule.dish_up >= planned
    state = hand.at(hand.now + outside).state
    look = look_interval(state.component(component).steps[1].time)
    assert state.schedule.dish_up >= planned
    assert state.schedule.ends[component][1] >= state.replanned + look


@QUICK
@given(st.sampled_from(MEALS), moves)
def test_every_command_survives_the_journal(meal: dict[str, Any], played: list[Move]) -> None:
    for _, what in played:
        if not isinstance(what, str):
            assert COMMANDS.validate_json(COMMANDS.dump_json(what)) == what
