"""A cook without a screen and without waiting: every cue is done the moment it is due.

It goes through the same session, engine and journal as a cook beside the stove; only the clock is
moved by hand, to the next instant at which anything happens.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from passbell.clock import HandClock
from passbell.cook.cards import cards, is_due
from passbell.cook.commands import Command, Done, Probe, TakeOut
from passbell.cook.cue import Cue, CueKey
from passbell.cook.cues import can_be_done, cues, raw_cues
from passbell.cook.events import Acted, Event, FellDue, Replanned, Started
from passbell.cook.neighbours import held_by, on_the_heat
from passbell.cook.replan import replan
from passbell.cook.state import CookState
from passbell.cook.timing import expected_time
from passbell.cook.verdicts import is_gated
from passbell.cook.wake import next_wake
from passbell.cook.whose import NotUnderstood
from passbell.cook.words import read_words
from passbell.session.cook import CookSession

LONGEST = 7 * 24 * 3600
"""No cook goes on longer than this, in seconds: three days of waits, and then some."""


@dataclass(frozen=True, slots=True)
class ScriptLine:
    """A line of a script: at which engine second what is said, and where it stands."""

    at: int
    words: str
    line: int


class ScriptError(ValueError):
    """A script that cannot be followed: the line, what is wrong and how to mend it."""


def read_script(text: str) -> tuple[ScriptLine, ...]:
    """Lines `SECONDS COMMAND`; blank lines and lines that begin with # are passed over.

    Raises:
        ScriptError: when a line does not begin with whole seconds, or they go backwards.
    """
    found: list[ScriptLine] = []
    for number, line in enumerate(text.splitlines(), 1):
        seconds, _, words = line.strip().partition(" ")
        if not seconds or seconds.startswith("#"):
            continue
        if not seconds.isdecimal() or not words.strip() or int(seconds) > LONGEST:
            raise ScriptError(f'line {number}: write whole seconds, then words: "600 done"')
        if found and int(seconds) < found[-1].at:
            raise ScriptError(f"line {number}: time goes backwards; put the lines in order")
        found.append(ScriptLine(int(seconds), words.strip(), number))
    return tuple(found)


class Headless:
    """Runs a cook to its end.

    Args:
        session: the cook, whose clock is moved by hand.
        clock: that clock.
        script: what is said and when.
        heard: called with every object that is to be printed.
    """

    def __init__(
        self,
        session: CookSession,
        clock: HandClock,
        script: tuple[ScriptLine, ...],
        heard: Callable[[dict[str, Any]], None],
    ) -> None:
        self._session = session
        self._clock = clock
        self._script = list(script)
        self._heard = heard
        self.refused = False

    def run(self) -> int:
        """Cook to the end; the dish-up instant.

        Raises:
            ScriptError: when a line of the script is not understood.
        """
        self._tell_of(self._session.begun)
        while self._session.state.served is None:
            if self._act():
                continue
            at = self._next()
            if at is None or at > LONGEST:
                break
            self._clock.move(max(0, at - self._session.now()))
            self._tell_of(self._session.tick())
            self._speak()
        served = self._session.state.served
        end = served if served is not None else self._session.state.at
        self._heard({"type": "end", "dish_up": end})
        return end

    def _next(self) -> int | None:
        wake = next_wake(self._session.state)
        instants = [wake] if wake is not None else []
        instants += [self._script[0].at] if self._script else []
        instants += [end for _, end in self._unread()]
        if self._serves_anyway():
            instants += [cue.at for cue in cues(self._meant()) if cue.at > self._session.now()]
        return max(min(instants), self._session.now()) if instants else None

    def _unread(self) -> Iterator[tuple[int, int]]:
        """Food that waits for a reading nobody will take, and when its time is up.

        What shares its tray leaves after it, as the record will say.
        """
        state = self._session.state
        for component in range(len(state.steps)):
            index = on_the_heat(state, component)
            if index is None:
                continue
            began = state.steps[component][index].began
            if began is not None and self._never_offered(component, index):
                end = began + expected_time(state, component, index, state.at)
                yield component, max(end, state.at)

    def _never_offered(self, component: int, index: int) -> bool:
        """Whether no reading to come will let it leave."""
        state = self._session.state
        if is_gated(state, component, index) and not self._will_be_read(component):
            return True
        meats = held_by(state, component, index)
        out = all(state.steps[meat][step].ended is not None for meat, step in meats)
        return bool(meats) and out and not any(self._will_be_read(meat) for meat, _ in meats)

    def _serves_anyway(self) -> bool:
        """Whether food is off the heat too early that will not go back on it."""
        return any(cue.key.goes_back and self._waits(cue) for cue in cues(self._session.state))

    def _meant(self) -> CookState:
        """The cook with the schedule it is done by: what will not go back holds nothing up."""
        state = self._session.state
        if not self._serves_anyway():
            return state
        return state.but(schedule=replan(state, state.at, back=False))

    def _will_be_read(self, component: int) -> bool:
        for line in self._script:
            try:
                command = read_words(line.words, self._session.state)
            except NotUnderstood:
                continue
            if isinstance(command, Probe) and command.component == component:
                return True
        return False

    def _speak(self) -> None:
        while self._script and self._script[0].at <= self._session.now():
            line = self._script.pop(0)
            try:
                command = read_words(
                    line.words, self._session.state, serve_in=self._session.serve_in
                )
            except NotUnderstood as error:
                raise ScriptError(f"line {line.line}: {error}") from None
            self._say(command, line.words)

    def _say(self, command: Command, words: str) -> None:
        events, refusal = self._session.tell_events(command)
        self._tell_of(events)
        if refusal is not None:
            self.refused = True
            at = self._session.now()
            self._heard({"at": at, "type": "event", "kind": "refused", "component": None,
                         "text": refusal, "data": {"words": words}})  # fmt: skip

    def _act(self) -> bool:
        """Do one thing that is due; False: nothing is."""
        state = self._session.state
        for component, end in self._unread():
            if end <= self._session.now():
                self._say(TakeOut(component=component), "take out")
                return True
        for card in cards(self._meant()):
            for cue in card.lines:
                due = is_due(state, cue) or (cue.at <= state.at and can_be_done(state, cue.key))
                if due and not self._waits(cue):
                    self._say(Done(cue=cue.key.id), "done")
                    if self._session.state.commands > state.commands:
                        return True
        return False

    def _waits(self, cue: Cue) -> bool:
        """Whether a probe cue waits for a reading that the script will bring.

        Food goes back only where a reading to come can let it leave again.
        """
        to_come = not cue.key.of_appliance and self._will_be_read(cue.key.owner)
        return to_come if cue.key.kind == "probe" else cue.key.goes_back and not to_come

    def _tell_of(self, events: tuple[Event, ...]) -> None:
        state = self._session.state
        table = {cue.key.id: cue for cue in raw_cues(state)}
        for event in events:
            if isinstance(event, FellDue):
                if event.cue in table:
                    self._heard(cue_object(table[event.cue], event.at))
            elif not (isinstance(event, Replanned) and event.schedule is None):
                self._heard(event_object(event, state))


def cue_object(cue: Cue, at: int) -> dict[str, Any]:
    """A cue that fell due, as the object that is printed."""
    data = {"cue": cue.key.id, "place": cue.place, "display": cue.display}
    kind = cue.key.kind
    return {
        "at": at,
        "type": "cue",
        "kind": kind,
        "component": cue.component,
        "text": cue.text,
        "data": data,
    }


def event_object(event: Event, state: CookState) -> dict[str, Any]:
    """An event as the object that is printed."""
    data = event.model_dump(mode="json", exclude={"type", "at"})
    index = data.get("component")
    name = state.component(index).name if isinstance(index, int) else None
    if isinstance(event, Started):
        data["schedule"] = {"dish_up": event.schedule.dish_up, "start": event.schedule.start}
    elif isinstance(event, Replanned):
        assert event.schedule is not None
        data["schedule"] = {"dish_up": event.schedule.dish_up}
    elif isinstance(event, Acted):
        key = CueKey.read(event.cue)
        data["act"] = key.kind
        if not key.of_appliance and not key.of_meal:
            name = state.component(key.owner).name
    text = data.get("words") or data.get("text") or ""
    return {
        "at": event.at,
        "type": "event",
        "kind": event.type,
        "component": name,
        "text": text,
        "data": data,
    }
