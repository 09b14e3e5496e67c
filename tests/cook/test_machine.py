"""The whole engine under any order of commands and waits, as a machine that is told and watched.

What is checked against something outside the engine: the minimum and the rest of two foods of the
US chart (FSIS, Safe Minimum Internal Temperature Chart: poultry 165 °F, pork whole cuts 145 °F and
three minutes), by a plain comparison of the readings that were told.
"""

from dataclasses import replace
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from passbell.cook import commands as cm
from passbell.cook.cards import first_cue
from passbell.cook.commands import COMMANDS, Command
from passbell.cook.cues import cues, dues
from passbell.cook.engine import advance, tell
from passbell.cook.events import EVENTS, Event
from passbell.cook.expect import safety_rest_end
from passbell.cook.fold import apply, fold
from passbell.cook.neighbours import held_by, on_the_heat
from passbell.cook.replan import problem_now, replan
from passbell.cook.state import CookState
from passbell.cook.tables import tables_of
from passbell.cook.timing import off_time
from passbell.cook.together import joint_openings
from passbell.cook.verdicts import verdict
from passbell.cook.wake import next_wake
from passbell.cook.ways import ways_out
from passbell.tui.views.cook import Beside, cook_view, everything
from tests.cook.meals import CHOPS, TRAY, Hand, plan_of, step

PRINTED = {"poultry_pieces": 165.0, "pork_whole": 145.0}
"""US chart, °F, from FSIS."""

WAYS: dict[str, Any] = {
    "title": "Invented meal of odd steps",
    "serves": 2,
    "hands": 2,
    "appliance": [
        {"name": "pan", "holds": 2},
        {
            "name": "oven",
            "preheat": "4 min",
            "door": "stops",
            "stage": [
                {"name": "low", "mode": "bake", "temp": "170 °C"},
                {
                    "name": "high",
                    "mode": "broil",
                    "temp": "230 °C",
                    "time": "6 min",
                    "spare": "1 min",
                },
            ],
        },
    ],
    "component": [
        {
            "name": "peas",
            "food": "plant",
            "steps": [step("rest", "thaw", "9 min"), step("cook", "boil", "1 min", on="pan")],
        },
        {
            "name": "pork chop",
            "food": "pork_whole",
            "shares": "chop tray",
            "steps": [
                step("prep", "salt", "1 min"),
                step(
                    "cook",
                    "sear",
                    "4 min",
                    on="pan",
                    hands="2 min",
                    during=[{"at": "halfway", "do": "turn it"}],
                ),
                step("cook", "through", "8 min", on="oven", stage="low", until="63 °C"),
                step("finish", "slice", "1 min", hands="0 min"),
            ],
        },
        {
            "name": "bread",
            "steps": [
                step("cook", "crisp", "6 min", on="oven", stage="high", until="90 °C"),
                step("rest", "on a rack", "2 min"),
            ],
        },
        {"name": "salad", "steps": [step("finish", "on the table", "0 min")]},
    ],
}
"""Two appliances, thawing first, a step of one minute, food that fills its program."""

COLD: dict[str, Any] = {
    "title": "Invented cold plates",
    "serves": 1,
    "call": "0 min",
    "component": [
        {"name": "cheese", "steps": [step("finish", "cut", "2 min")]},
        {
            "name": "cucumber",
            "food": "plant",
            "steps": [
                step("prep", "slice", "2 min", keep="30 min"),
                step("rest", "in salt", "5 min"),
                step("finish", "dress", "1 min"),
            ],
        },
    ],
}
"""No appliance at all."""

MEALS = (TRAY, CHOPS, WAYS, COLD)
changes = st.integers(-6, 15).map(lambda n: n * 60).filter(bool)
ONE_KEY: tuple[Command, ...] = (
    cm.Earlier(),
    cm.Away(),
    cm.Back(),
    cm.HeatOff(),
    cm.HeatOn(),
    cm.Mark(),
    cm.TakeBack(),
    cm.Redo(),
)
third = st.integers(0, 3)
places = st.sampled_from([None, None, "1", "2", "3", "thickest"])


def bare(state: CookState) -> CookState:
    """A state without what tells how it was come to, nor which cues are silent.

    A stopped sound is forgotten by a take back: the cue rings anew.
    """
    readings = tuple(replace(reading, command=0) for reading in state.readings)
    cues = tuple((cue, replace(known, seen=False)) for cue, known in state.cues)
    return replace(state, at=0, log=(), commands=0, struck=(), readings=readings, cues=cues)


class Kitchen(RuleBasedStateMachine):
    """A cook who does anything at any time."""

    @initialize(meal=st.sampled_from(MEALS), serve=st.sampled_from([None, 0, 1500, 6000]))
    def begin(self, meal: dict[str, Any], serve: int | None) -> None:
        self.plan, self.serve = plan_of(meal), serve
        self.hand = Hand(self.plan, serve)
        self.names = [c.name for c in self.hand.state.plan.components]
        self.folded: tuple[int, CookState | None] = (0, None)
        self.rests: dict[int, int] = {}
        self.told: dict[int, tuple[int, Command]] = {}

    def say(self, command: Command) -> str | None:
        """Say something, checking that what was foreseen is what is committed."""
        hand, before = self.hand, self.hand.state
        foreseen = tell(before, command, hand.now)
        cooking = self.on_hot_appliances()
        refusal = hand.say(COMMANDS.validate_json(COMMANDS.dump_json(command)))
        assert foreseen.refusal == refusal
        assert foreseen.state == hand.state
        if refusal is not None:
            assert hand.state == advance(before, hand.now).state, "a refusal changed something"
        if not isinstance(command, cm.Probe | cm.TakeBack | cm.Redo | cm.SetChart | cm.SetIce):
            self.no_rest_is_shorter(command)
        if not isinstance(command, cm.HeatOff | cm.TakeBack | cm.Redo):
            self.no_clock_stood_still(cooking)
        if refusal is None and not isinstance(command, cm.TakeBack | cm.Redo):
            self.told[hand.state.commands] = (hand.now, command)
        self.rests = self.running_rests()
        return refusal

    def on_hot_appliances(self) -> dict[tuple[int, int], int]:
        """Food on an appliance whose heat is on: how long its heat was off so far."""
        state, found = self.hand.state, {}
        for component in range(len(self.names)):
            index = on_the_heat(state, component)
            if index is None:
                continue
            on = state.component(component).steps[index].on
            machine = None if on is None else state.plan.appliance_index(on)
            if machine is not None and state.appliances[machine].stopped is None:
                off = off_time(state, component, index, self.hand.now)
                found[component, index] = off
        return found

    def no_clock_stood_still(self, cooking: dict[tuple[int, int], int]) -> None:
        """Neither time nor any key but heat off stops the clock of food on a hot appliance."""
        for (component, index), off in cooking.items():
            if on_the_heat(self.hand.state, component) == index:
                now = off_time(self.hand.state, component, index, self.hand.now)
                assert now == off, (self.names[component], index)

    @rule()
    def take_back_is_exact(self) -> None:
        """The state is what all remaining commands lead to, each at its instant, up to now."""
        self.live_again(cm.TakeBack())

    @rule()
    def redo_is_exact(self) -> None:
        """The command redone counts again, at the instant at which it was told."""
        self.live_again(cm.Redo())

    def live_again(self, command: Command) -> None:
        """Take back or redo, then tell another cook all that holds."""
        if self.say(command) is not None or len(self.told) > 12:
            return
        state = self.hand.state
        again = Hand(self.plan, self.serve)
        for line in state.log:
            at, told = self.told[line.number]
            if not line.cancelled and not isinstance(told, cm.Seen):
                assert again.at(at).say(told) is None, told
        assert bare(again.at(self.hand.now).state) == bare(state)

    def running_rests(self) -> dict[int, int]:
        """Safety rests under way, by component: when they end."""
        found = {}
        for component in range(len(self.names)):
            end = safety_rest_end(self.hand.state, component)
            if end is not None and end > self.hand.now:
                found[component] = end
        return found

    def no_rest_is_shorter(self, command: Command) -> None:
        """No command but a reading shortens a safety rest; on the heat again it begins anew."""
        for component, end in self.rests.items():
            back = on_the_heat(self.hand.state, component) is not None
            if end > self.hand.now and not back:
                now = safety_rest_end(self.hand.state, component)
                assert now is not None, command
                assert now >= end, command

    @rule(seconds=st.one_of(st.integers(1, 90), st.integers(60, 1800)))
    def wait(self, seconds: int) -> None:
        cooking = self.on_hot_appliances()
        self.hand.at(self.hand.now + seconds)
        self.no_clock_stood_still(cooking)

    @rule()
    def wait_for_what_comes(self) -> None:
        wake = next_wake(self.hand.state)
        if wake is not None:
            self.hand.at(max(self.hand.now, wake))

    @rule()
    def done(self) -> None:
        cue = first_cue(self.hand.state)
        if cue is None:
            return
        if self.say(cm.Done(cue=cue.key.id)) is None and self.hand.state.served is None:
            last = self.hand.state.last_act
            assert last is not None
            assert last.cue == cue.key.id

    @rule(place=st.integers(0, 40))
    def done_out_of_turn(self, place: int) -> None:
        every = cues(self.hand.state)
        if every:
            self.say(cm.Done(cue=every[place % len(every)].key.id))

    @rule(seconds=st.integers(1, 600), place=st.integers(0, 8))
    def put_off(self, seconds: int, place: int) -> None:
        every = cues(self.hand.state)
        if not every:
            return
        cue = every[place % len(every)].key.id
        if self.say(cm.PutOff(cue=cue, by=seconds)) is None:
            known = self.hand.state.cue(cue)
            assert known is None or known.until is not None

    @rule()
    def seen(self) -> None:
        cue = first_cue(self.hand.state)
        if cue is not None:
            self.say(cm.Seen(cue=cue.key.id))

    @rule(command=st.sampled_from(ONE_KEY))
    def one_key(self, command: Command) -> None:
        self.say(command)

    @rule(
        command=st.one_of(
            st.builds(cm.HeatOff, appliance=st.integers(0, 1)),
            st.builds(cm.NotReady, appliance=st.integers(0, 1)),
            st.builds(cm.Dial, appliance=st.integers(0, 1), seconds=st.integers(0, 1200)),
            st.builds(cm.TakeOut, component=third),
            st.builds(cm.PutBack, component=third),
            st.builds(cm.ServeAt, at=st.one_of(st.none(), st.integers(0, 9000))),
            st.builds(cm.SetChart, chart=st.sampled_from(["us", "uk", "canada", "strictest"])),
        )
    )
    def something(self, command: Command) -> None:
        self.say(command)

    @rule(component=third)
    def take_out_and_put_back(self, component: int) -> None:
        """Out, a look at it, and in again: it is where it was, its time outside without heat."""
        component %= len(self.names)
        before = on_the_heat(self.hand.state, component)
        if before is None or self.say(cm.TakeOut(component=component)) is not None:
            return
        old = self.hand.state.steps[component][before]
        self.hand.at(self.hand.now + 40)
        assert self.say(cm.PutBack(component=component)) is None
        new = self.hand.state.steps[component][before]
        assert (new.began, new.ended) == (old.began, None)
        off = off_time(self.hand.state, component, before, self.hand.now)
        assert off == old.off + 40
        assert len(self.hand.state.steps[component]) == len(self.hand.state.first.ends[component])

    @rule(component=third)
    def skip(self, component: int) -> None:
        self.say(cm.Skip(component=component))

    @rule(
        component=third,
        place=places,
        shown=st.one_of(st.integers(120, 190), st.sampled_from([144.9, 145.0, 164.9, 165.0])),
    )
    def probe(self, component: int, place: str | None, shown: float) -> None:
        self.say(cm.Probe(component=component, place=place, shown=shown, scale="F"))

    @rule()
    def together(self) -> None:
        """Every opening that is proposed can be taken, and moves nothing by more than it says."""
        found = joint_openings(self.hand.state, self.hand.now, 3600)
        for joint in found:
            assert tell(self.hand.state, joint.command, self.hand.now).refusal is None
        if found:
            assert self.say(found[0].command) is None
            at = {c.key.id: c.at for c in cues(self.hand.state)}
            for cue in found[0].command.cues:
                assert cue not in at or abs(at[cue] - found[0].at) <= 120

    @rule(machine=st.integers(0, 1), by=changes)
    def longer_stage(self, machine: int, by: int) -> None:
        self.look_at_ways(cm.ExtendStage(appliance=machine, by=by))
        self.say(cm.ExtendStage(appliance=machine, by=by))

    @rule(component=third, by=changes)
    def longer_step(self, component: int, by: int) -> None:
        self.say(cm.ExtendStep(component=component, by=by))

    def look_at_ways(self, change: Command) -> None:
        """Every way out is accepted, and shortens no safety rest."""
        for way in ways_out(self.hand.state, change, self.hand.now):
            outcome = tell(self.hand.state, way.command, self.hand.now)
            assert outcome.refusal is None
            for component, end in self.running_rests().items():
                assert (safety_rest_end(outcome.state, component) or 0) >= end, way

    @invariant()
    def nothing_kept_is_stale(self) -> None:
        """What the engine keeps from instant to instant is what it would work out anew."""
        kept = self.hand.state
        fresh = kept.but(tables=tables_of(kept.plan, kept.chart))
        assert dues(kept) == dues(fresh)
        assert next_wake(kept) == next_wake(fresh)
        assert problem_now(kept, kept.at) == problem_now(fresh, kept.at)
        if kept.served is None:
            assert replan(kept, kept.at) == replan(fresh, kept.at)

    @invariant()
    def time_always_moves_on(self) -> None:
        state = advance(self.hand.state, self.hand.now).state
        assert state == self.hand.state, "telling left something undone"
        wake = next_wake(state)
        assert wake is None or wake > self.hand.now

    @invariant()
    def replay_is_what_was_lived(self) -> None:
        """Every event through JSON, folded one by one, gives the state that was lived."""
        done, state = self.folded
        for event in self.hand.events[done:]:
            read: Event = EVENTS.validate_json(EVENTS.dump_json(event))
            assert read == event
            fresh = self.hand.state.plan
            state = fold(fresh, [read]) if state is None else apply(state, read)
        self.folded = (len(self.hand.events), state)
        assert state == self.hand.state

    @invariant()
    def facts_are_in_order(self) -> None:
        state = self.hand.state
        assert [c.name for c in state.plan.components] == self.names
        assert len(state.steps) == len(self.names)
        for component, row in enumerate(state.steps):
            assert len(row) == len(state.plan.components[component].steps)
            reached = True
            for real in row:
                if real.began is not None:
                    assert reached, "a step began before the one before it was over"
                    assert real.began <= self.hand.now
                if real.ended is not None:
                    assert real.began is not None, "a step ended that never began"
                    assert real.began <= real.ended <= self.hand.now
                assert real.off >= 0
                assert real.idle >= 0
                reached = real.ended is not None

    @invariant()
    def nothing_is_forgotten(self) -> None:
        """Whoever is not finished has a cue, or waits for a reading, the heat or a rest."""
        state = self.hand.state
        if state.served is not None:
            return
        offered = {
            (c.key.owner, c.key.item)
            for c in cues(state)
            if not c.key.of_appliance and not c.key.of_meal
        }
        for component in range(len(self.names)):
            index = state.current(component)
            if index is None or component in state.skipped:
                continue
            plan, real = state.step(component, index)
            if plan.on is not None and any(
                a.stopped is not None
                for p, a in zip(state.plan.appliances, state.appliances, strict=True)
                if p.name == plan.on
            ):
                continue
            held = real.running and plan.kind == "rest"
            alone = (component, index) in offered or held
            beside = plan.kind == "cook" and bool(held_by(state, component, index))
            assert alone or beside, (self.names[component], index, real)

    @invariant()
    def no_cue_is_offered_for_food_elsewhere(self) -> None:
        """What is first in Now can be done: it is about food that is where the cue says."""
        cue = first_cue(self.hand.state)
        if cue is None or cue.key.kind not in ("take_out", "probe", "check", "during"):
            return
        real = self.hand.state.steps[cue.key.owner][cue.key.item]
        assert real.began is not None, cue

    @invariant()
    def the_screen_can_be_drawn(self) -> None:
        beside = Beside(local=lambda at, seconds: f"{at // 60:02}:{at % 60:02}")
        view = cook_view(self.hand.state, self.hand.now, beside)
        assert [row.name for row in view.rows] == self.names
        everything(self.hand.state, self.hand.now, beside.local)

    @invariant()
    def no_verdict_is_better_than_the_chart(self) -> None:
        """Met by the US chart only where the last reading told of every place is at or above it."""
        state = self.hand.state
        if state.chart != "us":
            return
        for component, plan in enumerate(state.plan.components):
            minimum = PRINTED.get(plan.food[0]) if plan.food else None
            if minimum is None or verdict(state, component).verdict != "met":
                continue
            told = [r for r in state.readings if r.component == component]
            assert len(told) >= plan.pieces
            named = {r.place: r.shown for r in told if r.place is not None}
            assert all(shown >= minimum for shown in named.values()), told
            assert told[-1].shown >= minimum

    @invariant()
    def meat_is_offered_only_when_read_on_the_heat(self) -> None:
        state = self.hand.state
        if state.chart != "us" or state.served is not None:
            return
        for cue in cues(state):
            if cue.key.kind != "take_out":
                continue
            plan = state.plan.components[cue.key.owner]
            minimum = PRINTED.get(plan.food[0]) if plan.food else None
            running = state.steps[cue.key.owner][cue.key.item].running
            if minimum is None or not running or cue.key.item != plan.last_cook:
                continue
            told = [r for r in state.readings if r.component == cue.key.owner and not r.off_heat]
            assert len([r for r in told if r.shown >= minimum]) >= plan.pieces, told

    @invariant()
    def meat_out_too_early_is_to_go_back(self) -> None:
        """What was taken out below its printed minimum has its cue, and its tray waits for it."""
        state = self.hand.state
        if state.chart != "us" or state.served is not None:
            return
        offered = {(c.key.owner, c.verb) for c in cues(state)}
        for component, plan in enumerate(state.plan.components):
            last, food = plan.last_cook, plan.food[:1]
            if last is None or component in state.skipped or not food:
                continue
            if food[0] not in PRINTED or state.steps[component][last].ended is None:
                continue
            told = [r for r in state.readings if r.component == component]
            if not told or told[-1].shown < PRINTED[food[0]]:
                assert (component, "PUT BACK") in offered
                for other, mate in enumerate(state.plan.components):
                    running = on_the_heat(state, other)
                    if mate.shares == plan.shares and running is not None:
                        on = mate.steps[running].on
                        assert on != plan.steps[last].on or (other, "TAKE OUT") not in offered

    @precondition(lambda self: bool(self.rests))
    @rule(command=st.sampled_from([cm.ServeAt(at=None), cm.Earlier(), cm.Away(), cm.Back()]))
    def hurry_a_rest(self, command: Command) -> None:
        self.say(command)

    @invariant()
    def a_resting_food_is_not_cut(self) -> None:
        state = self.hand.state
        if state.served is not None:
            return
        for component in range(len(self.names)):
            end = safety_rest_end(state, component)
            if end is None or end <= self.hand.now:
                continue
            for cue in cues(state):
                own = cue.key.kind == "finish" and cue.key.owner == component
                if (own and cue.key.part == "begin") or cue.key.kind == "dish_up":
                    done = cm.Done(cue=cue.key.id)
                    assert tell(state, done, self.hand.now).refusal is not None, cue


def test_a_stopped_sound_moves_no_plan_so_a_take_back_over_it_is_exact() -> None:
    """Waiting food is planned anew at the same instants whether its sound was stopped or not."""
    marked, plain = Hand(TRAY), Hand(TRAY)
    marked.say(cm.Mark())
    for hand in (marked, plain):
        cue = first_cue(hand.at(7).state)
        assert cue is not None
        assert hand.say(cm.Seen(cue=cue.key.id)) is None
        hand.at(64)
    assert marked.say(cm.TakeBack()) is None
    assert bare(marked.state) == bare(plain.state)


TestKitchen = Kitchen.TestCase
TestKitchen.settings = settings(
    max_examples=30,
    stateful_step_count=40,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize=True,
)
