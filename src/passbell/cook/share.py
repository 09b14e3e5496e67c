"""Share cooked of food without a probe, from what it really met: the words for row and preview."""

from functools import lru_cache

from passbell.cook.outlook import exposure_planned, exposure_real, went_in
from passbell.cook.state import CookState
from passbell.cook.wording import TOLD_FROM
from passbell.heat import Cooked, Exposure, NoForecast, Piece, PlanTime, piece_of, share_cooked
from passbell.heat.scope import reason_in
from passbell.plan.model import Component


def share_now(state: CookState, component: int, now: int) -> Cooked | None:
    """How far a component on the heat, or off it again, is at an instant.

    None: it is not in yet, it is judged by a probe, or nothing can be told of its core (no size,
    no hot dry air of a known temperature).
    """
    dish = state.component(component)
    last = dish.last_cook
    if last is None or not dosed(dish) or dish.size is None:
        return None
    if state.steps[component][dish.first_cook or 0].began is None:
        return None
    planned = exposure_planned(state, component, last)
    real = exposure_real(state, component, last)
    if isinstance(planned, NoForecast) or isinstance(real, NoForecast):
        return None
    ended = state.steps[component][last].ended
    zero = went_in(state, component)
    first = state.first
    written = first.ends[component][last] - first.starts[component][dish.first_cook or 0]
    until = (now if ended is None else min(now, ended)) - zero
    piece = piece_of(dish, dish.size.mm)
    return _share(piece, real, max(0, until), PlanTime(written, planned))


def share_at_end(state: CookState, component: int) -> Cooked | None:
    """How far it will be when it comes out as the stagger has it now; None as above."""
    last = state.component(component).last_cook
    if last is None or last >= len(state.schedule.ends[component]):
        return None
    return share_now(state, component, state.schedule.ends[component][last])


@lru_cache(maxsize=512)
def _share(piece: Piece, exposure: Exposure, until_s: int, tested: PlanTime) -> Cooked:
    return share_cooked(piece, exposure, until_s, tested)


def dosed(dish: Component) -> bool:
    """Whether a dish is food without a probe whose softening a core dose describes."""
    if any(step.until is not None for step in dish.steps):
        return False
    if any(key != "plant" for key in dish.food) or not dish.food:
        return False
    texts = (dish.name, *dish.ingredients, *(step.text for step in dish.steps))
    return reason_in(dish.food, texts) is None


def per_cent(found: Cooked) -> int:
    """The share in whole per cent; what is far over counts as 999 at most."""
    return min(999, round(100 * found.share))


def at_end_words(before: CookState, after: CookState, component: int) -> str:
    """What a change does to the share with which a component comes out; empty: nothing to say."""
    old, new = share_at_end(before, component), share_at_end(after, component)
    if new is None or (old is not None and per_cent(old) == per_cent(new)):
        return ""
    else_ = "" if old is None else f" (else {per_cent(old)} %)"
    return f"{per_cent(new)} % cooked{else_}"


def out_words(found: Cooked) -> str:
    """How far it is once it is out of the heat, where nothing goes on: "1 min short"."""
    if found.over_s is not None and abs(found.over_s) < TOLD_FROM:
        return "as planned"
    short = found.words.removeprefix("done in ")
    return found.words if short == found.words else f"{short} short"
