"""The probe box: whose reading, what the readings say, what to do."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from passbell.cook.alerts import WORDS, held_hot
from passbell.cook.decide_probe import NOT_IN
from passbell.cook.expect import next_look, safety_rest_end
from passbell.cook.neighbours import on_the_heat
from passbell.cook.outlook import Outlook
from passbell.cook.outlook_words import (
    doubted,
    expected,
    more_lines,
    none_words,
    odd_line,
    once_out,
    still_rising,
)
from passbell.cook.state import CookState
from passbell.cook.timing import machine_of
from passbell.cook.verdicts import (
    cut_at,
    has_minimum,
    may_leave,
    proven,
    read_too_soon,
    verdict,
    was_read,
)
from passbell.cook.whose import NotUnderstood, probed_component
from passbell.cook.wording import minutes, until_words
from passbell.heat import NoForecast
from passbell.safety.advise import again, is_rest_line
from passbell.safety.cautions import probe_wash
from passbell.safety.chart import charts_of, minimum_text
from passbell.safety.model import spoken_place
from passbell.tui.views.model import Probe, ReadingMark
from passbell.tui.views.rest import rest_words

SOON = 60
"""Seconds before a look from which the probe is to be washed for it."""

REST_OVER = "The rest that the chart asks for is over."
HEAT_OFF = "The heat is off: no forecast until it is on again."


@dataclass(frozen=True, slots=True)
class ProbeBox:
    """What the cook has typed and chosen.

    Attributes:
        scale: the thermometer's unit.
        selected: the component selected, if any.
        shown: the component last read, if any.
        question: a question one key answers.
        refusal: why the last text was not understood.
    """

    scale: Literal["F", "C"] = "F"
    selected: int | None = None
    shown: int | None = None
    question: str = ""
    refusal: str = ""


Ahead = tuple[Mapping[int, Outlook | NoForecast], tuple[int, str] | None]
"""The forecasts by component, and the change of the stagger that one suggests."""


def probe_view(
    state: CookState, now: int, box: ProbeBox, ahead: Ahead = (MappingProxyType({}), None)
) -> Probe:
    """The probe box at an instant."""
    outlooks, offer = ahead
    index = _whose(state, box)
    chart = " + ".join(c.name for c in charts_of(state.chart))
    if len(charts_of(state.chart)) > 1:
        chart = "strictest of all charts"
    if index is None:
        return Probe(
            "", "", box.scale, chart, "", "", "", "", (), (),
            question=box.question, refusal=box.refusal,
        )  # fmt: skip
    judged = verdict(state, index)
    wash = _wash(state, index)
    wash_now = bool(wash) and (bool(state.readings) or _looks_soon(state, index, now))
    read = was_read(state, index)
    component = state.component(index)
    return Probe(
        component=component.name,
        place=spoken_place(judged.next_place) if judged.next_place else "",
        scale=box.scale,
        chart=chart,
        minimum=minimum_text(component.food, state.chart, box.scale) or "",
        verdict=WORDS[judged.verdict] if read else "",
        sign=judged.sign if read else "",
        sentence=judged.sentence if read else "",
        advice=_advice(state, index, now, (wash if wash_now else "", outlooks.get(index))),
        readings=_readings(state, index),
        rest=_rest(state, index, now, outlooks.get(index)),
        odd=_odd(outlooks.get(index)),
        doubted=is_doubted(outlooks.get(index)),
        expect=_expect(state, index, now, outlooks.get(index)),
        offer=offer[1] if offer is not None and offer[0] == index else "",
        question=box.question,
        wash=bool(wash),
        wash_now=wash_now,
        refusal=box.refusal,
    )


def _advice(
    state: CookState, index: int, now: int, beside: tuple[str, Outlook | NoForecast | None]
) -> tuple[str, ...]:
    """What to do about the readings, the probe itself first; the forecast says when to look.

    A rest that is over is not asked for any more.
    """
    wash, found = beside
    over = _rest_is_over(state, index, now)
    by_forecast = isinstance(found, Outlook) and on_the_heat(state, index) is not None
    when = again() if by_forecast else ""
    return (
        *((wash,) if wash else ()),
        *_goes_on(state, index),
        *_too_soon(state, index),
        *((REST_OVER,) if over else ()),
        *(
            a.replace(when, "")
            for a in verdict(state, index).advice
            if not _about_wash(a) and not (over and is_rest_line(a))
        ),
    )


def _rest_is_over(state: CookState, index: int, now: int) -> bool:
    """Whether the rest that the chart asks for was kept whole; cut into sooner, it was not."""
    end, cut = safety_rest_end(state, index), cut_at(state, index)
    return end is not None and end <= now and (cut is None or cut >= end)


def _goes_on(state: CookState, index: int) -> tuple[str, ...]:
    """What is said of food that has its minimum, but not yet what the plan cooks it to."""
    step = on_the_heat(state, index)
    if step is None or not proven(state, index) or may_leave(state, index, step):
        return ()
    until = state.component(index).steps[step].until
    if until is None:
        return ()
    return (f"The minimum is met; the plan cooks it {until_words(until, state.scale)}.",)


def _too_soon(state: CookState, index: int) -> tuple[str, ...]:
    """What is said of readings that came before the food was in, by the record."""
    if not read_too_soon(state, index):
        return ()
    return (f"What was typed: {NOT_IN}. If it is in, say so first, then read it again.",)


def _wash(state: CookState, index: int) -> str:
    """What to do with the probe before the next reading of a component; empty: nothing."""
    if not any(step.began is not None for step in state.steps[index]):
        return ""
    last = state.readings[-1].component if state.readings else None
    if last is None or not has_minimum(state, last):
        name = None if last is None else state.component(last).name
        return probe_wash(name, None, state.component(index).name)
    word = verdict(state, last).verdict
    return probe_wash(state.component(last).name, word, state.component(index).name)


def _looks_soon(state: CookState, index: int, now: int) -> bool:
    """Whether a component is to be probed within a minute."""
    step = on_the_heat(state, index)
    look = next_look(state, index, step) if step is not None else None
    return look is not None and look - now <= SOON


def _about_wash(line: str) -> bool:
    return line.startswith("Wash the probe")


def _whose(state: CookState, box: ProbeBox) -> int | None:
    if box.selected is not None:
        return box.selected
    try:
        return probed_component(state, None)
    except NotUnderstood:
        return box.shown


def _readings(state: CookState, index: int) -> tuple[ReadingMark, ...]:
    judged = verdict(state, index)
    held = tuple(
        ReadingMark(p.label, p.text, not p.under) for p in judged.places if p.reading is not None
    )
    struck = tuple(
        ReadingMark(r.place or "", f"{r.shown:g} °{r.scale}", None, struck=True)
        for r in state.struck
        if r.component == index
    )
    return (*held, *struck)


def _odd(found: Outlook | NoForecast | None) -> str:
    return odd_line(found) if isinstance(found, Outlook) else ""


def is_doubted(found: Outlook | NoForecast | None) -> bool:
    """Whether the last look at a food showed more than can well be."""
    return isinstance(found, Outlook) and doubted(found)


def _expect(
    state: CookState, index: int, now: int, found: Outlook | NoForecast | None
) -> tuple[str, ...]:
    """The forecast in lines, for food on the heat."""
    if found is None:
        return ()
    step = on_the_heat(state, index)
    if isinstance(found, NoForecast):
        machine = None if step is None else machine_of(state, index, step)
        stopped = machine is not None and state.appliances[machine].stopped is not None
        words = HEAT_OFF if stopped and found.reason == "beyond_reach" else none_words(found)
        return (words,) if words else ()
    if step is None:
        return ()
    if may_leave(state, index, step):
        return (once_out(found),)
    look = next_look(state, index, step)
    return (expected(found, now, look), *more_lines(found, now))


def _rest(state: CookState, index: int, now: int, found: Outlook | NoForecast | None) -> str:
    """The rest that is running, the chart's and the cook's own told apart; or the next look."""
    step = on_the_heat(state, index)
    if step is not None:
        look = next_look(state, index, step)
        said = look is None or look <= now or isinstance(found, Outlook)
        return "" if said or look is None else f"look again in {minutes(look - now)}"
    words = rest_words(state, index, now) or held_hot(state, index)
    rising = still_rising(found, now) if isinstance(found, Outlook) else ""
    return "; ".join(text for text in (words, rising) if text)
