"""A cook who does anything at any time, told to the engine: the rules of its machine."""

from dataclasses import replace
from typing import Any

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule

from passbell.cook import commands as cm
from passbell.cook.cards import first_cue
from passbell.cook.commands import COMMANDS, Command
from passbell.cook.cues import cues
from passbell.cook.engine import advance, tell
from passbell.cook.expect import safety_rest_end
from passbell.cook.neighbours import on_the_heat
from passbell.cook.state import CookState
from passbell.cook.timing import off_time
from passbell.cook.together import joint_openings
from passbell.cook.wake import next_wake
from passbell.cook.ways import ways_out
from tests.cook.meals import CHOPS, COLD, TRAY, WAYS, Hand, plan_of

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


class AnyCook(RuleBasedStateMachine):
    """A cook who does anything at any time; what each act must do is asserted at once."""

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

    @precondition(lambda self: bool(self.rests))
    @rule(command=st.sampled_from([cm.ServeAt(at=None), cm.Earlier(), cm.Away(), cm.Back()]))
    def hurry_a_rest(self, command: Command) -> None:
        self.say(command)
