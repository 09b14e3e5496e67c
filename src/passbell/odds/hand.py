"""A cook who does what she is asked, as soon as she can, with the luck of one cook.

She says nothing the engine cannot hear from any cook: the same commands at the same kind of
instants, through `tell` and `advance`, so every delay is replanned as it would be.
"""

from typing import NamedTuple

from passbell.cook.commands import Back, Command, Done, ExtendStep, HeatOn, Probe
from passbell.cook.cue import HARM_ORDER, CueKey
from passbell.cook.cues import dues
from passbell.cook.engine import Outcome, advance, tell
from passbell.cook.events import Event
from passbell.cook.slide import slid
from passbell.cook.state import CookState
from passbell.cook.timing import expected_time, machine_of
from passbell.cook.verdicts import is_gated
from passbell.cook.wake import next_wake
from passbell.odds.luck import Luck
from passbell.safety.chart import chart_rows
from passbell.safety.places import wanted_places
from passbell.safety.verdict import Setup

Where = tuple[int, int]
"""Component and step."""

ONE_OPENING = 60
"""What is done at an appliance within this time, in seconds, is done in one opening."""

LONGEST = 7 * 24 * 3600
"""No cook goes on longer than this, in seconds."""

COLD, HOT = 40.0, 95.0
"""What her thermometer shows before the food is done, and after, in °C."""

_HARM = {kind: place for place, kind in enumerate(HARM_ORDER)}
_OPENS = ("add", "take_out", "during", "check", "probe")


class Lead(NamedTuple):
    """A cue that she does so many seconds before it is due, where what comes before is over."""

    key: CueKey
    by: int


class Hand:
    """Cooks one meal to its end.

    Args:
        state: the cook as it stands.
        luck: the draws.
        leads: what she does early.
        leaps: whether instants at which only the clock moves the rest along are passed over; the
            cook is the same, but for their events.

    Attributes:
        state: the cook so far.
        events: what has happened since.
    """

    def __init__(
        self, state: CookState, luck: Luck, leads: tuple[Lead, ...] = (), *, leaps: bool = True
    ) -> None:
        self.state = state
        self.events: list[Event] = []
        self._luck = luck
        self._leads = leads
        self._leaps = leaps
        self._now = state.at
        self._busy: dict[Where, int] = {}
        self._ends: dict[Where, int] = {}
        self._true: dict[Where, int] = {}
        self._back: dict[Where, int] = {}
        self._opened: dict[int, tuple[int, int]] = {}
        self._take_over()

    def cook(self) -> int | None:
        """Cook to the end; the dish-up instant, or None when it never comes."""
        while self.state.served is None:
            if self._act() or (self._leaps and self._leap()):
                continue
            at = self._next()
            if at is None or at > LONGEST:
                return None
            self._take(advance(self.state, at))
            self._now = at
        return self.state.served

    def _take_over(self) -> None:
        """Begin where the cook stands: she is back, and the heat is on again."""
        if self.state.away is not None:
            self._say(Back())
        if any(a.stopped is not None for a in self.state.appliances):
            self._say(HeatOn())
        for component, row in enumerate(self.state.steps):
            for index, real in enumerate(row):
                if real.running:
                    self._begun((component, index))

    def _take(self, outcome: Outcome) -> None:
        self.state = outcome.state
        self.events.extend(outcome.events)

    def _say(self, command: Command) -> bool:
        outcome = tell(self.state, command, self._now)
        self._take(outcome)
        return outcome.refusal is None

    def _begun(self, where: Where) -> None:
        """Draw how long a step that is under way really takes."""
        plan, real = self.state.step(*where)
        began = real.began if real.began is not None else self._now
        passed, time = self._now - began, expected_time(self.state, *where, self._now)
        if plan.kind in ("prep", "finish"):
            hands = time if plan.hands_time >= plan.time else min(time, plan.hands_time)
            over = passed if hands == time else min(passed, hands)
            self._busy[where] = began + self._luck.hands(where, hands, over)
            self._ends[where] = self._busy[where] + time - hands
        elif plan.kind == "cook":
            if plan.hands_time:
                hands = min(passed, plan.hands_time)
                self._busy[where] = began + self._luck.hands(where, plan.hands_time, hands)
            if is_gated(self.state, *where):
                self._true[where] = began + self._luck.probe(where, time, passed)

    def _leap(self) -> bool:
        """Pass over what only moves the rest along; False: there is nothing to pass over."""
        early = self._early() if self._leads else []
        asked = [*self._asked(), *(key for key, at in early if at <= self._now)]
        if any(self._may(key) for key in asked):
            return False
        own = [at for at in (*self._busy.values(), *self._ends.values()) if at > self._now]
        own += [at for _, at in early if at > self._now]
        found = slid(self.state, min(own, default=LONGEST))
        if found is None:
            return False
        self.state, event = found
        self.events.append(event)
        self._now = self.state.at
        return True

    def _asked(self) -> list[CueKey]:
        """What she is asked for now."""
        return [CueKey.read(cue) for cue, known in self.state.cues if known.until is None]

    def _next(self) -> int | None:
        """The next instant at which anything happens, to the meal or to her."""
        wake = next_wake(self.state)
        found = [wake] if wake is not None else []
        found += [end for end in (*self._busy.values(), *self._ends.values()) if end > self._now]
        if self._leads:
            found += [at for _, at in self._early() if at > self._now]
        return min(found) if found else None

    def _early(self) -> list[tuple[CueKey, int]]:
        """What is done before it is due, and when."""
        by = dict(self._leads)
        return [(due.key, due.at - by[due.key]) for due in dues(self.state) if due.key in by]

    def _act(self) -> bool:
        """Do one thing; False: nothing is to be done, or can be."""
        for where, end in self._ends.items():
            if end <= self._now:
                del self._ends[where]
                kind = self.state.component(where[0]).steps[where[1]].kind
                return self._say(Done(cue=CueKey(kind, *where, "end").id))  # type: ignore[arg-type]
        keys = self._asked()
        keys.sort(key=lambda key: _HARM[key.kind])
        if self._leads:
            keys += [key for key, at in self._early() if at <= self._now and self._is_hot(key)]
        return any(self._may(key) and self._do(key) for key in keys)

    def _is_hot(self, key: CueKey) -> bool:
        """Whether the appliance of an early cue is ready, and in a stage its food may be in."""
        if key.kind != "add":
            return True
        machine = machine_of(self.state, key.owner, key.item)
        work = self.state.problem.works[key.owner][key.item]
        if machine is None:
            return True
        real, stage = self.state.appliances[machine], self.state.appliances[machine].stage or 0
        ready = real.ready is not None or not self.state.appliance(machine).preheat
        return ready and (not work.runs or any(a <= stage <= b for a, b in work.runs))

    def _may(self, key: CueKey) -> bool:
        """Whether she can: what comes before is over, and where it needs hands, they are free."""
        if key.part == "end":
            return False
        if key.kind == "dish_up":
            return self._all_done()
        if key.part != "begin" and key.kind != "add":
            return True
        row, place = self.state.steps[key.owner], key.item
        if place and row[place - 1].ended is None:
            return False
        busy = sum(end > self._now for end in self._busy.values())
        hands = self.state.problem.works[key.owner][place].hands
        return not hands or busy < self.state.plan.hands

    def _all_done(self) -> bool:
        rows = enumerate(self.state.steps)
        return all(
            s.ended is not None for c, row in rows if c not in self.state.skipped for s in row
        )

    def _do(self, key: CueKey) -> bool:
        where = key.owner, key.item
        if key.kind == "take_out" and not is_gated(self.state, *where):
            late = self._back.pop(where, 0)
            if late:
                return self._say(ExtendStep(component=key.owner, by=late, step=key.item))
        if key.kind in _OPENS:
            self._open(where)
        if key.kind == "probe":
            return self._probe(where)
        if not self._say(Done(cue=key.id)):
            return False
        if (key.part == "begin" or key.kind == "add") and self.state.steps[where[0]][
            where[1]
        ].running:
            self._begun(where)
        return True

    def _probe(self, where: Where) -> bool:
        """Read every place, once each."""
        done = self._true.get(where, 0) + self._back.get(where, 0) <= self._now
        shown = HOT if done else COLD
        told = [
            self._say(Probe(component=where[0], place=str(place + 1), shown=shown, scale="C"))
            for place in range(_places(self.state, where[0]))
        ]
        return any(told)

    def _open(self, where: Where) -> None:
        """An oven is opened: what stays in it is set back by what that opening costs."""
        machine = machine_of(self.state, *where)
        if machine is None or not self.state.appliance(machine).stages:
            return
        count, last = self._opened.get(machine, (0, -ONE_OPENING))
        if self._now - last < ONE_OPENING:
            return
        self._opened[machine] = count + 1, self._now
        lost = self._luck.door(machine, count)
        for component, row in enumerate(self.state.steps):
            for index, real in enumerate(row):
                other = component, index
                if real.running and other != where and machine_of(self.state, *other) == machine:
                    self._back[other] = self._back.get(other, 0) + lost


def _places(state: CookState, component: int) -> int:
    """How many places of a component have to be read."""
    plan = state.component(component)
    rows = [row for row in chart_rows(plan.food, state.chart) if not row.no_figure]
    return max(1, len(wanted_places(rows, Setup(pieces=plan.pieces))))
