"""Every component as a row: where it is, its time line, what must not be missed."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from passbell.cook.alerts import component_alert
from passbell.cook.cards import waits_for_heat
from passbell.cook.cue import Cue
from passbell.cook.cues import cues
from passbell.cook.expect import next_look
from passbell.cook.neighbours import held_by, is_raw, on_the_heat, raw_left
from passbell.cook.outlook import WORTH_SAYING, Outlook
from passbell.cook.outlook_words import expected_row, expected_short, still_rising
from passbell.cook.share import out_words, per_cent, share_now
from passbell.cook.state import CookState
from passbell.cook.timing import action_at, off_time
from passbell.cook.verdicts import may_leave
from passbell.cook.wording import minutes, spoken
from passbell.heat import Cooked, NoForecast
from passbell.heat.dose import OVERDONE
from passbell.tui.views.model import Row, RowState, Segment, SegmentKind, Tick


def rows(
    state: CookState,
    now: int,
    selected: int | None,
    beside: tuple[Callable[[int], str], Mapping[int, Outlook | NoForecast]],
) -> tuple[Row, ...]:
    """All components, in file order; `beside`: the local time, and the forecasts worked out."""
    local, outlooks = beside
    table: dict[str | None, list[Cue]] = {}
    for cue in cues(state):
        table.setdefault(cue.component, []).append(cue)
    return tuple(
        _expecting(
            _row(state, index, now, (selected == index, tuple(table.get(c.name, ())), local)),
            (state, index, now),
            outlooks.get(index),
        )
        for index, c in enumerate(state.plan.components)
    )


def _row(
    state: CookState,
    index: int,
    now: int,
    more: tuple[bool, tuple[Cue, ...], Callable[[int], str]],
) -> Row:
    selected, own, local = more
    where = row_state(state, index)
    upcoming = own[0] if own else None
    step = on_the_heat(state, index)
    return Row(
        name=state.component(index).name,
        state=where,
        words=_words(state, index, now, upcoming),
        left=_left(state, index, now, upcoming),
        drift=_drift(state, index),
        segments=tuple(segments_of(state, index, now)),
        ticks=tuple(_ticks(state, index)),
        raw=_raw(state, index, step),
        selected=selected,
        alert=component_alert(state, index, now, local),
    )


def _left(state: CookState, index: int, now: int, upcoming: Cue | None) -> int | None:
    """Until its next act, or while it rests until that is over; None: nothing counts down."""
    current = state.current(index)
    if current is not None and row_state(state, index) == "resting":
        return state.schedule.ends[index][current] - now
    if upcoming is None or waits_for_heat(state, upcoming):
        return None
    return upcoming.at - now


def _expecting(
    row: Row, where: tuple[CookState, int, int], found: Outlook | NoForecast | None
) -> Row:
    """The row with what is expected of it: by its readings, or by the dose at its core."""
    state, index, now = where
    if isinstance(found, Outlook):
        if found.out is not None:
            return replace(row, expect=still_rising(found, now))
        step = on_the_heat(state, index)
        if step is not None and may_leave(state, index, step):
            return row
        return replace(row, expect=expected_row(found, now), soon=expected_short(found, now))
    cooked = share_now(state, index, now)
    if cooked is None:
        return row
    if on_the_heat(state, index) is None:
        return replace(row, share=per_cent(cooked), expect=out_words(cooked))
    away = row.left is None or abs((cooked.over_s or 0) + row.left) >= WORTH_SAYING
    soon = _soon(cooked) if away and row.state == "in" else ""
    return replace(row, share=per_cent(cooked), expect=cooked.words, soon=soon)


def _soon(cooked: Cooked) -> str:
    """The words for a narrow row: how many minutes until it is done, or how many over."""
    if cooked.over_s is None or cooked.share < OVERDONE:
        return cooked.words if cooked.over_s is not None else ""
    return f"{round(cooked.over_s / 60)} min over"


def _raw(state: CookState, index: int, step: int | None) -> str:
    if step is None:
        return ""
    if is_raw(state, index):
        return "raw"
    left = raw_left(state, index, step)
    touched = left is not None and left[1] > state.at
    return "by raw" if touched or held_by(state, index, step) else ""


def row_state(state: CookState, index: int) -> RowState:
    """Where a component is, in one word."""
    if index in state.skipped:
        return "skipped"
    current = state.current(index)
    plan = state.component(index)
    if current is None:
        done = plan.steps[-1].kind == "finish" or state.served is not None
        return "plated" if done else "holding"
    if state.served is not None and plan.steps[current].kind == "finish":
        return "plated"
    if state.steps[index][current].began is not None:
        running: dict[str, RowState] = {
            "prep": "prep",
            "cook": "in",
            "rest": "resting",
            "finish": "finish",
        }
        return running[plan.steps[current].kind]
    last = plan.last_cook
    return "holding" if last is not None and current > last else "waiting"


def _words(state: CookState, index: int, now: int, upcoming: Cue | None) -> str:
    step = on_the_heat(state, index)
    if step is not None:
        began = state.steps[index][step].began
        assert began is not None
        since = f"in for {minutes(now - began)}"
        meat = held_by(state, index, step)
        if meat:
            return f"{since}, stays with {state.component(meat[0][0]).name}"
        return since
    if row_state(state, index) == "holding":
        return _held(state, index, now)
    under_way = _UNDER_WAY.get(row_state(state, index), "")
    return under_way or (upcoming.verb.lower() if upcoming is not None else "")


def _held(state: CookState, index: int, now: int) -> str:
    """How long it has waited off the heat, its rest apart, and whether that is past its hold."""
    component, row = state.component(index), state.steps[index]
    last = component.last_cook
    ends = [real.ended for real in row[last:] if real.ended is not None] if last is not None else []
    if not ends:
        return ""
    held = now - max(ends)
    over = held - component.hold
    past = f", {spoken(over)} too long" if over >= 60 else ""
    return f"held for {minutes(held)}{past}"


_UNDER_WAY: dict[RowState, str] = {"prep": "preparing", "resting": "resting", "finish": "finishing"}


def _drift(state: CookState, index: int) -> int:
    """By how much its last step ends later than the plan said at the start."""
    planned, expected = state.first.ends[index], state.schedule.ends[index]
    if not expected or index in state.skipped:
        return 0
    return expected[-1] - planned[len(expected) - 1]


def segments_of(state: CookState, index: int, now: int) -> Iterator[Segment]:
    """The time line of a component: what was, what is to come, and the waits in between."""
    plan = state.component(index)
    reach = min(len(plan.steps), len(state.schedule.starts[index]))
    for place in range(reach):
        real = state.steps[index][place]
        kind: SegmentKind = plan.steps[place].kind
        start = real.began if real.began is not None else state.schedule.starts[index][place]
        end = real.ended if real.ended is not None else state.schedule.ends[index][place]
        if real.running and start < now < end:
            yield Segment(kind, start, now, real=True)
            yield Segment(kind, now, end, real=False)
        else:
            yield Segment(kind, start, end, real=real.began is not None)
    yield from _holding(state, index, reach)


def _holding(state: CookState, index: int, reach: int) -> Iterator[Segment]:
    """The waits between its last cook step and dish-up."""
    last = state.component(index).last_cook
    if last is None or last >= reach:
        return
    ends = [*state.schedule.ends[index][last:reach]]
    starts = [*state.schedule.starts[index][last + 1 : reach], state.schedule.dish_up]
    for end, start in zip(ends, starts, strict=True):
        if start > end:
            yield Segment("hold", end, start, real=start <= state.at)


def _ticks(state: CookState, index: int) -> Iterator[Tick]:
    plan = state.component(index)
    for place in range(min(len(plan.steps), len(state.schedule.starts[index]))):
        step, real = state.step(index, place)
        if step.kind != "cook":
            continue
        start = real.began if real.began is not None else state.schedule.starts[index][place]
        off = off_time(state, index, place, state.at)
        for n in range(len(step.during)):
            yield Tick("during", start + action_at(step, n) + off, n in real.acted)
        for look in real.looks:
            yield Tick("check", look, done=True)
        coming = next_look(state, index, place)
        if coming is None and real.began is None and step.first_look is not None:
            coming = start + step.first_look
        if coming is not None:
            yield Tick("probe" if step.until else "check", coming, done=False)
