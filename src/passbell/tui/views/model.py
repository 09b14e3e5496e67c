"""The cook screen as plain data: everything a widget needs, nothing it has to work out.

All times are whole seconds of engine time (0 = the cook's start) or lengths in seconds; all
texts are cleaned already and are never markup.
"""

from dataclasses import dataclass
from typing import Literal

CueTone = Literal["coming", "due", "late"]
RowState = Literal["waiting", "prep", "in", "resting", "holding", "finish", "plated", "skipped"]
SegmentKind = Literal["prep", "cook", "rest", "hold", "finish", "preheat", "stage"]


@dataclass(frozen=True, slots=True)
class CueLine:
    """One thing to do.

    Attributes:
        cue: the cue's identity, for commands.
        verb: the act in one word or two, capitals ("ADD", "TAKE OUT", "PROBE").
        what: the component or appliance ("green beans").
        how: the instruction ("left side of the tray"); may be empty.
        due_in: seconds until it is due; negative: since when it has been due.
        tone: coming, due, or late (due for 60 s or more).
        standing: new, seen or put off.
        ready: whether Done would be taken now (a line that has just become first is not, 0.7 s).
        banner: what stands in block letters instead of the act; empty: the act.
        waits: until when it waits, where no countdown says it ("once the oven is on again");
            empty: the countdown does.
        under_way: it is being done, and the countdown is what is left of it.
    """

    cue: str
    verb: str
    what: str
    how: str
    due_in: int
    tone: CueTone
    standing: Literal["new", "seen", "put off"] = "new"
    ready: bool = True
    banner: str = ""
    waits: str = ""
    under_way: bool = False


@dataclass(frozen=True, slots=True)
class Card:
    """Cues of one moment at one place, done line by line.

    Attributes:
        place: the appliance, or "hands".
        opening: whether it is several acts in one opening of the appliance.
        lines: in the order to do them; the first is what Done does.
    """

    place: str
    opening: bool
    lines: tuple[CueLine, ...]


@dataclass(frozen=True, slots=True)
class Effect:
    """What a pending change does to one thing.

    Attributes:
        name: component, mode change, rest or dish-up.
        change: seconds later (positive) or earlier (negative).
        words: "3 min later", "unchanged".
        kind: what kind of thing.
        held: by how many seconds food waits longer between the heat and the plate.
        share: how far cooked it comes out then, where that changes ("1 min short (95 %)").
    """

    name: str
    change: int
    words: str
    kind: Literal["component", "mode", "rest", "dish_up"] = "component"
    held: int = 0
    share: str = ""


@dataclass(frozen=True, slots=True)
class Way:
    """A way out of a change.

    Attributes:
        words: what it is and when dinner is then ("hold the carrots 3 min: dish-up unchanged").
        others: what else moves by it; may be empty.
    """

    words: str
    others: str = ""


@dataclass(frozen=True, slots=True)
class Pending:
    """A change not yet taken.

    Attributes:
        words: "oven stage roast: +3 min", "serve at 19:00".
        effects: what it does to everything else.
        warnings: what must be known first ("lengthens crisp by 2 min").
        left: seconds until it is taken as shown; None: it waits for Done or Esc.
        notes: more lines, such as what can still be held back.
        ways: the ways out, each with its effect; digit n takes the nth. They stand in the probe
            box's place.
        by: seconds of the change itself, longer or later positive; 0: not to be counted.
        dish_up: when the meal will be on the table then ("18:48"); may be empty.
    """

    words: str
    effects: tuple[Effect, ...]
    warnings: tuple[str, ...] = ()
    left: int | None = None
    notes: tuple[str, ...] = ()
    ways: tuple[Way, ...] = ()
    by: int = 0
    dish_up: str = ""


@dataclass(frozen=True, slots=True)
class ApplianceLine:
    """One appliance.

    Attributes:
        name: as in the plan.
        standing: "off", "preheating", "hot", "on", "stopped", "over".
        mode: what it does now, mode and temperature ("convection roast 400 °F"); may be empty.
        display: what its own display should read now ("9:41"); None: it has none to show.
        coming: the next change ("crisp: air fry 375 °F in 4:10"); may be empty.
        alert: what must not be missed ("switches itself off in 2:10"); may be empty.
        inside: names of the components on it now.
    """

    name: str
    standing: str
    mode: str
    display: str | None
    coming: str
    alert: str
    inside: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Segment:
    """A stretch of a time line, start to end in engine seconds; `real`: it has happened."""

    kind: SegmentKind
    start: int
    end: int
    real: bool


@dataclass(frozen=True, slots=True)
class Tick:
    """A point on a time line: an act on the way, a check, a mode change."""

    kind: Literal["during", "check", "mode", "probe"]
    at: int
    done: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One component, always shown, always in file order.

    Attributes:
        name: as in the plan.
        state: where it is.
        words: what is going on, short ("in, 2 of 3 probed", "rest 2:10 more").
        left: seconds until its next change; negative: overdue; None: nothing to wait for.
        drift: seconds it will be ready later (positive) or earlier than the plan said at the start.
        segments, ticks: its time line.
        raw: "raw": meat not yet at the minimum; "by raw": it lies with such; empty: neither.
        selected: whether the cook has selected it.
        alert: what must not be missed ("below by 4 °F, look again in 3:00"); may be empty.
        share: how much of its cooking is done, in per cent; None: nothing to say.
        expect: what is expected of it ("63 °C in ~9 min (7 to 12)", "done in 2 min"); may be empty.
        soon: the same in a word or two, for a narrow row; may be empty.
        wanted: whether a cue of this component is due now.
        pending: what the change not yet taken does to it; None: nothing, or there is none.
    """

    name: str
    state: RowState
    words: str
    left: int | None
    drift: int
    segments: tuple[Segment, ...]
    ticks: tuple[Tick, ...]
    raw: str = ""
    selected: bool = False
    alert: str = ""
    share: int | None = None
    wanted: bool = False
    expect: str = ""
    soon: str = ""
    pending: Effect | None = None


@dataclass(frozen=True, slots=True)
class Hands:
    """What the cook's hands have to do.

    Attributes:
        free: seconds she may leave; 0: busy or wanted now; None: nothing more to do.
        until: what ends the freedom ("ADD green beans"); may be empty.
        busy: what they are busy with now; may be empty.
        prepare: what to prepare next and how long it takes ("green beans, 3 min"); may be empty.
        begin: seconds until it is to be begun.
        fits: whether there is time for it before `before`; None: that is no question (any more).
        slack: seconds that may be lost before dish-up moves.
        away: since when she is away, in seconds; None: she is there.
        doing: what there is to prepare; may be empty.
        waits: until when what ends the freedom waits, where no figure says it; may be empty.
        before: what else there is to do next ("ADD green beans"); may be empty.
    """

    free: int | None
    until: str
    busy: str
    prepare: str
    begin: int
    fits: bool | None
    slack: int
    away: int | None = None
    doing: str = ""
    waits: str = ""
    before: str = ""


@dataclass(frozen=True, slots=True)
class ReadingMark:
    """A reading taken: where, what the thermometer showed, and whether it reached the minimum."""

    place: str
    text: str
    reached: bool | None
    struck: bool = False


@dataclass(frozen=True, slots=True)
class Probe:
    """The probe box.

    Attributes:
        component: whose reading is taken; "" : not chosen yet.
        place: the piece or spot the next bare number fills; may be empty.
        scale: the thermometer's unit, "F" or "C".
        chart: whose minimum ("United States, home cooks").
        minimum: as printed ("165 °F"); "" when none.
        verdict: verdict word in the cook's English ("BELOW", "MET", …); "" before a reading.
        sign: a shape that carries the verdict without colour.
        sentence: what the verdict says.
        advice: further lines, most important first.
        readings: those taken.
        rest: the running rest ("safety rest 2:10 more, then quality rest 4:00"); may be empty.
        question: a question one key answers ("1 chicken  2 pork?"); may be empty.
        wash: whether "wash the probe" stands there.
        wash_now: whether it is time for it: the next reading is near, or the probe was just used.
        refusal: why the last text was not understood, with its mend; may be empty.
        odd: an implausible reading, named; may be empty.
        doubted: whether a reading of the last look showed more than can well be.
        expect: the forecast: when to look, then what else belongs to it; empty: none.
        offer: a change of the stagger that the forecast suggests, with what it does; may be empty.
    """

    component: str
    place: str
    scale: Literal["F", "C"]
    chart: str
    minimum: str
    verdict: str
    sign: str
    sentence: str
    advice: tuple[str, ...]
    readings: tuple[ReadingMark, ...]
    rest: str = ""
    question: str = ""
    wash: bool = False
    wash_now: bool = False
    refusal: str = ""
    odd: str = ""
    doubted: bool = False
    expect: tuple[str, ...] = ()
    offer: str = ""


@dataclass(frozen=True, slots=True)
class DishUp:
    """When the meal is on the table: planned, expected, and what the difference comes from.

    Attributes:
        planned, expected: local times ("18:45").
        expected_in: seconds until then.
        drift: by how much it is later than planned, in seconds.
        reason: what the difference comes from; empty: nothing is known.
        served: whether it is on the table.
        minutes: by how many the two local times differ; expected later: more than none.
    """

    planned: str
    expected: str
    expected_in: int
    drift: int
    reason: str
    served: bool = False
    minutes: int = 0


@dataclass(frozen=True, slots=True)
class CookView:
    """The whole cook screen at one instant.

    Attributes:
        title: the plan's title.
        clock: local time ("18:12:05").
        at: engine time of this view.
        cards: what Now shows; the first is what Done does; a second stands beneath it at full
            size when both are due at different places. Empty: nothing more to do.
        following: the next acts after the cards, at least two where there are so many.
        pending: a change not yet taken.
        appliances, rows: in file order.
        span: first and last instant of the time lines.
        hands, probe, dish_up: as named.
        interruption: "you were: …", "since …", "due now: …"; empty: none.
        notices: messages to show once, newest last ("the laptop slept 4:10").
        answers: those of the notices that only say why the last key did nothing.
        sound: why no player plays the sounds ("sound: bell only"); "" when all is well.
        volume: how loud it is and whether it speaks ("sound 3/4, spoken"); "" without a player.
        quiet: seconds left of a quiet take; None: none.
        rehearsal: speed of a rehearsal; None: a real cook.
        together: acts that could share one opening, with what each loses; empty: none.
        odds: the chance to be on time, how late the late ones are, what to do, all of it; or none.
        steps_back: the last commands in words, newest first, struck out ones marked.
        over: whether the meal has been dished up.
        flash: whether a cue is unacknowledged and no sound can play.
    """

    title: str
    clock: str
    at: int
    cards: tuple[Card, ...]
    following: tuple[CueLine, ...]
    pending: Pending | None
    appliances: tuple[ApplianceLine, ...]
    rows: tuple[Row, ...]
    span: tuple[int, int]
    hands: Hands
    probe: Probe
    dish_up: DishUp
    interruption: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()
    answers: tuple[str, ...] = ()
    sound: str = ""
    volume: str = ""
    quiet: int | None = None
    rehearsal: float | None = None
    together: str = ""
    odds: tuple[str, ...] = ()
    steps_back: tuple[str, ...] = ()
    over: bool = False
    flash: bool = False
