"""One plan made ready to be cooked: when to start, what to gather, whose minimums apply."""

import itertools
from collections.abc import Callable
from pathlib import Path
from typing import Literal

from passbell.awake import KeepAwake
from passbell.clock import SystemClock, local_time, next_local
from passbell.cook.commands import SetIce
from passbell.cook.cues import cues
from passbell.cook.engine import begin
from passbell.cook.sizes import TodayError
from passbell.cook.state import CookState
from passbell.cook.wording import spoken
from passbell.cook.words import CHARTS
from passbell.editor import EditorError, named_editor
from passbell.journal import Journal, JournalError
from passbell.pen import PenError
from passbell.plan.model import ChartKey, Plan
from passbell.plan.problem import PlanError
from passbell.planfiles import LoadedPlan, PlanFileError, load
from passbell.safety.cautions import ALL
from passbell.safety.chart import charts_of, first_unit
from passbell.schedule.late import why_late
from passbell.schedule.model import Contradiction
from passbell.session import CookSession
from passbell.session.kitchen import in_kitchen
from passbell.session.own_times import own_times_of
from passbell.session.revise import to_edit
from passbell.session.servings import Servings, ServingsError, asked, for_people
from passbell.session.today import of_modes, of_sizes, read_size
from passbell.tui.desk import Desk
from passbell.tui.doors import PrepareKind
from passbell.tui.live_thermometer import ThermometerCheck
from passbell.tui.views.before import BeforeView, DrawnLine, GatherItem, TimeRow
from passbell.tui.views.model import Segment
from passbell.tui.views.rows import segments_of
from passbell.units import ClockTime, Duration, Length, UnitError, clean_text

AS_WRITTEN = "as written"
"""What is typed to have all sizes as in the plan."""


def short(problem: str, path: Path) -> str:
    """What is wrong with a plan, its file by name alone: a long folder would push the line out."""
    return problem.replace(str(path), path.name)


class LivePreparation:
    """A plan before its cook.

    Args:
        loaded: the plan and its file.
        journal: where the cook will be recorded.
        start: gives a begun cook its desk.
    """

    def __init__(
        self, loaded: LoadedPlan, journal: Journal, start: Callable[[CookSession], Desk]
    ) -> None:
        self._read = loaded
        self._people = Servings(loaded)
        self._sizes: dict[int, Length] = {}
        self._modes: tuple[str, ...] = ()
        self._sized: tuple[str, ...] = ()
        self._choices: tuple[str, ...] = ()
        self._wanted: tuple[int | None, int | None] = (None, None)
        self._journal = journal
        self._start = start
        self._clock = SystemClock()
        self._awake = KeepAwake()
        self._awake.start()
        self._chart: ChartKey = loaded.plan.chart
        self._scale: Literal["F", "C"] = first_unit(loaded.plan.chart)
        self._check = ThermometerCheck()
        self._ticked: set[int] = set()
        self._message = ""
        self._serve: ClockTime | Duration | None = loaded.plan.serve_at
        self._kitchen = in_kitchen(loaded.plan)
        self._unread = ""
        self._set_people(None, None)

    def look(self) -> BeforeView:
        """What is to be shown now."""
        self._read_again()
        utc = self._clock.now().utc
        try:
            state = begin(self._plan(), self._serve_in(utc), kitchen=self._kitchen.habits).state
        except Contradiction as error:
            return self._broken(f"{error.text} {error.mend}", utc)
        schedule = state.schedule
        message, self._message = self._message, ""
        late = ""
        if schedule.late:
            late = f"{spoken(schedule.late)} late: {why_late(state.problem, schedule)}"
        return BeforeView(
            title=self._people.loaded.plan.title,
            serves=str(self._people.loaded.plan.serves),
            clock=local_time(utc),
            start=local_time(utc + schedule.start),
            start_in=schedule.start,
            dish_up=local_time(utc + schedule.dish_up),
            serving=self._serving(),
            lines=tuple(_lines(state)),
            span=(schedule.start, schedule.dish_up),
            table=tuple(_table(state, utc)),
            gather=self._gather(),
            thermometer=self._thermometer(),
            cautions=() if self._journal.runs() else ALL,
            amounts=self._people.notes,
            sizes=(*self._sized, *self._choices),
            kitchen=self._kitchen.notes,
            problems=self._problems(late),
            message=message,
        )

    def _problems(self, late: str) -> tuple[str, ...]:
        told = self._people.told
        texts = (late, *told, self._unread, self._kitchen.trouble, self._awake.refused())
        return tuple(text for text in (*texts, *self._check.problems) if text)

    def _read_again(self) -> None:
        """Take the plan anew when its file has changed; one that cannot be read changes nothing."""
        try:
            loaded = load(Path(self._read.file))
        except (PlanFileError, PlanError) as error:
            first = short(str(error).splitlines()[0], Path(self._read.file))
            self._unread = f"the plan shown is the one before: {first}"
            return
        self._unread = ""
        if loaded.text != self._read.text:
            self._take_anew(loaded)

    def _take_anew(self, loaded: LoadedPlan) -> None:
        before, self._read = self._read.plan, loaded
        if loaded.plan.serve_at != before.serve_at:
            self._serve = loaded.plan.serve_at
        if loaded.plan.chart != before.chart:
            self._chart = loaded.plan.chart
        if _to_gather(loaded.plan) != _to_gather(before):
            self._ticked.clear()
        self._message = "the plan's file has changed: read anew"
        if [c.name for c in loaded.plan.components] != [c.name for c in before.components]:
            self._sizes, self._modes = {}, ()
        try:
            self._set_people(*self._wanted)
        except (ServingsError, TodayError, Contradiction):
            self._sizes, self._modes = {}, ()
            self._set_people(None, None)
            self._message += f", for {loaded.plan.serves}"

    def ask(self, kind: PrepareKind, text: str) -> bool:
        """Enter the answer to a question; False: refused, the view says why."""
        try:
            if kind == "people":
                self._set_people(*asked(text))
                self._ticked.clear()
            elif kind == "mode":
                self._set_mode(text)
            elif kind == "size":
                self._set_size(text)
            elif kind == "serve":
                self._serve = _serving_time(clean_text(text))
            else:
                self._message = self._check.take(text)
        except (UnitError, ServingsError, TodayError, Contradiction) as error:
            self._choices = error.choices if isinstance(error, TodayError) else ()
            self._message = str(error)
            return False
        return True

    def _set_size(self, text: str) -> None:
        """A component's pieces are of another size today; a size that cannot be changes nothing."""
        if clean_text(text).casefold() == AS_WRITTEN:
            self._try({}, self._modes)
        else:
            component, size = read_size(self._read.plan, text)
            self._try({**self._sizes, component: size}, self._modes)

    def _set_mode(self, text: str) -> None:
        """An oven is set otherwise today, by a rule the cook names; none named changes nothing."""
        if clean_text(text).casefold() == AS_WRITTEN:
            self._try(self._sizes, ())
        else:
            self._try(self._sizes, (text,))

    def _try(self, sizes: dict[int, Length], modes: tuple[str, ...]) -> None:
        """The plan with these, or as it was before when that cannot be."""
        before, self._choices = (self._sizes, self._modes), ()
        self._sizes, self._modes = sizes, modes
        try:
            self._set_people(*self._wanted)
            begin(self._plan(), kitchen=self._kitchen.habits)
        except (TodayError, ServingsError, Contradiction):
            self._sizes, self._modes = before
            self._set_people(*self._wanted)
            raise

    def _set_people(self, serves: int | None, way: int | None) -> None:
        """The plan for so many: always from its own amounts, never from scaled ones."""
        own = own_times_of(self._journal, self._read) if self._sizes else None
        today, sized = of_sizes(self._read, self._sizes, own)
        today, modes = of_modes(today, self._modes)
        serve, habits = self._serve_in(self._clock.now().utc), self._kitchen.habits
        try:
            made = for_people(today, serves, way, serve=serve, chart=self._chart, kitchen=habits)
        except Contradiction:
            if serves is not None:
                raise
            made = Servings(today)
        self._people, self._wanted, self._sized = made, (serves, way), (*sized, *modes)
        self._kitchen = in_kitchen(made.loaded.plan)

    def press(self, action: Literal["chart", "unit"]) -> None:
        """The next chart of minimum temperatures, or the thermometer's other unit."""
        if action == "unit":
            self._scale = "C" if self._scale == "F" else "F"
        else:
            self._chart = CHARTS[(CHARTS.index(self._chart) + 1) % len(CHARTS)]

    def to_edit(self) -> Path | None:
        """The plan's file; of a bundled one a copy, which is then the plan that is cooked."""
        try:
            named_editor()
            path, told = to_edit(Path(self._read.file))
            if told:
                self._take_anew(load(path))
        except (EditorError, PenError, PlanFileError, PlanError) as error:
            self._message = str(error)
            return None
        self._message = told
        return path

    def tick_off(self, item: int) -> None:
        """Tick a thing gathered, or untick it."""
        self._ticked ^= {item}

    def start(self) -> Desk | None:
        """Begin the cook; None: it cannot begin, the view says why."""
        utc = self._clock.now().utc
        book = (self._journal, self._people.loaded.file, self._people.loaded.text)
        try:
            session = CookSession.begin(
                self._plan(),
                self._clock,
                serve=self._serve_in(utc),
                book=book,
                scale=self._scale,
                kitchen=self._kitchen.habits,
            )
        except (Contradiction, JournalError) as error:
            self._message = str(error)
            return None
        self._awake.stop()
        if self._check.ice is not None:
            session.tell(SetIce(shown=self._check.ice))
        return self._start(session)

    def close(self) -> None:
        """Let go of the plan."""
        self._awake.stop()

    def _plan(self) -> Plan:
        return self._people.loaded.plan.model_copy(update={"chart": self._chart})

    def _serve_in(self, utc: float) -> int | None:
        if isinstance(self._serve, ClockTime):
            return round(next_local(self._serve, utc) - utc)
        return int(self._serve) if self._serve is not None else None

    def _serving(self) -> str:
        if isinstance(self._serve, ClockTime):
            return f"serve at {self._serve}"
        return "as soon as possible" if self._serve is None else f"serve in {self._serve}"

    def _thermometer(self) -> str:
        names = [c.name for c in charts_of(self._chart)]
        chart = names[0] if len(names) == 1 else "strictest of all charts"
        return f"{chart} · °{self._scale} · {self._check.words}"

    def _gather(self) -> tuple[GatherItem, ...]:
        return tuple(
            GatherItem(text, component, index in self._ticked)
            for index, (text, component) in enumerate(_to_gather(self._people.loaded.plan))
        )

    def _broken(self, why: str, utc: float) -> BeforeView:
        plan = self._people.loaded.plan
        return BeforeView(
            title=plan.title,
            serves=str(plan.serves),
            clock=local_time(utc),
            start="",
            start_in=0,
            dish_up="",
            serving=self._serving(),
            lines=(),
            span=(0, 60),
            table=(),
            gather=self._gather(),
            thermometer=self._thermometer(),
            problems=(why,),
        )


def _to_gather(plan: Plan) -> list[tuple[str, str]]:
    """The ingredient lines, each with its component; empty for those of the whole meal."""
    lines = [(line, "") for line in plan.ingredients]
    return lines + [(line, c.name) for c in plan.components for line in c.ingredients]


def _serving_time(text: str) -> ClockTime | Duration | None:
    """From now, as typed: "now", a clock time, or how long from now ("in 90 min").

    Raises:
        UnitError: when it is none of them.
    """
    if text.casefold() in ("", "now", "asap"):
        return None
    try:
        if ":" in text:
            return ClockTime.parse(text)
        return Duration.parse(text.casefold().removeprefix("in "))
    except UnitError as error:
        raise UnitError(error.what, 'write "now", "18:45" or "in 90 min"') from None


def _lines(state: CookState) -> list[DrawnLine]:
    found = []
    for index, appliance in enumerate(state.plan.appliances):
        bounds, on = state.schedule.bounds[index], state.schedule.on[index]
        if not bounds or on is None:
            continue
        heat = [Segment("preheat", on, bounds[0], real=False)] if bounds[0] > on else []
        stages = [Segment("stage", a, b, real=False) for a, b in itertools.pairwise(bounds)]
        found.append(DrawnLine(appliance.name, (*heat, *stages)))
    for index, component in enumerate(state.plan.components):
        found.append(DrawnLine(component.name, tuple(segments_of(state, index, 0))))
    return found


def _table(state: CookState, utc: float) -> list[TimeRow]:
    rows = []
    for cue in cues(state):
        if cue.silent:
            continue
        hands = 0
        if cue.key.part == "begin":
            hands = state.component(cue.key.owner).steps[cue.key.item].hands_time
        rows.append(
            TimeRow(local_time(utc + cue.at), cue.verb.casefold(), cue.what, cue.how, int(hands))
        )
    return rows
