"""The whole engine under any order of commands and waits, as a machine that is told and watched.

What is checked against something outside the engine: the minimum and the rest of two foods of the
US chart (FSIS, Safe Minimum Internal Temperature Chart: poultry 165 °F, pork whole cuts 145 °F and
three minutes), by a plain comparison of the readings that were told.
"""

from hypothesis import HealthCheck, settings
from hypothesis.stateful import invariant

from passbell.cook import commands as cm
from passbell.cook.cards import first_cue
from passbell.cook.cues import cues, dues
from passbell.cook.engine import advance, tell
from passbell.cook.events import EVENTS, Event
from passbell.cook.expect import safety_rest_end
from passbell.cook.fold import apply, fold
from passbell.cook.neighbours import held_by, on_the_heat
from passbell.cook.replan import problem_now, replan
from passbell.cook.tables import tables_of
from passbell.cook.verdicts import verdict
from passbell.cook.wake import next_wake
from passbell.tui.views.cook import Beside, cook_view, everything
from tests.cook.machine import AnyCook, bare
from tests.cook.meals import TRAY, Hand

PRINTED = {"poultry_pieces": 165.0, "pork_whole": 145.0}
"""US chart, °F, from FSIS."""


class Kitchen(AnyCook):
    """What holds after everything that the cook did."""

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
