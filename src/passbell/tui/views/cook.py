"""The whole cook screen from the state: a pure function of the cook and of what the cook typed."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from passbell.cook.alerts import component_alert
from passbell.cook.cards import is_due
from passbell.cook.cues import cues
from passbell.cook.neighbours import is_raw, on_the_heat
from passbell.cook.outlook import Outlook
from passbell.cook.state import CookState
from passbell.cook.wording import minutes
from passbell.heat import NoForecast
from passbell.tui.views.appliances import appliance_lines
from passbell.tui.views.change import briefly
from passbell.tui.views.dish_up import dish_up
from passbell.tui.views.hands import hands
from passbell.tui.views.model import CookView, Pending, Row
from passbell.tui.views.now import following, now_cards
from passbell.tui.views.probe import ProbeBox, is_doubted, probe_view
from passbell.tui.views.rows import rows

STEPS_BACK = 5
"""How many of the last commands are shown for a take back."""


@dataclass(frozen=True, slots=True)
class Beside:
    """What the screen shows that is not in the state of the cook.

    Attributes:
        local: from an engine instant to the local time; the second argument: with seconds.
        probe: what was typed and chosen in the probe box.
        pending: a change not yet taken.
        fresh: the cue that has just become first and takes Done only in a moment.
        interruption, notices: lines to show.
        answers: those of the notices that only answer the last key.
        sound: why no player plays the sounds; empty: all is well.
        volume: how loud it is and whether it speaks, when all is well.
        quiet: seconds left of a quiet take.
        speed: seconds of the cook in one real second.
        flash: whether a cue is unacknowledged and no sound can play.
        slack: seconds that may be lost before dish-up moves.
        outlooks: the forecasts worked out so far, by component.
        offer: the change of the stagger that a forecast suggests: (component, words).
        together: acts that could share one opening, in words.
        odds: the chance to be on time, how late the late ones are, what to do, all of it; or none.
    """

    local: Callable[[int, bool], str]
    probe: ProbeBox = field(default_factory=ProbeBox)
    pending: Pending | None = None
    fresh: str | None = None
    interruption: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()
    answers: tuple[str, ...] = ()
    sound: str = ""
    volume: str = ""
    quiet: int | None = None
    speed: float = 1.0
    flash: bool = False
    slack: int = 0
    outlooks: Mapping[int, Outlook | NoForecast] = field(default_factory=dict)
    offer: tuple[int, str] | None = None
    together: str = ""
    odds: tuple[str, ...] = ()


def cook_view(state: CookState, now: int, beside: Beside) -> CookView:
    """Everything the cook screen shows at an instant."""
    first = min(state.first.start, state.schedule.start)
    return CookView(
        title=state.plan.title,
        clock=beside.local(now, True),
        at=now,
        cards=now_cards(
            state, now, beside.fresh, [c for c, f in beside.outlooks.items() if is_doubted(f)]
        ),
        following=following(state, now),
        pending=beside.pending,
        appliances=appliance_lines(state, now),
        rows=_told_of(
            rows(
                state,
                now,
                beside.probe.selected,
                (lambda at: beside.local(at, False), beside.outlooks),
            ),
            beside.pending,
        ),
        span=(min(first, now), max(state.schedule.dish_up, state.first.dish_up, now)),
        hands=hands(state, now, beside.slack),
        probe=probe_view(state, now, beside.probe, (beside.outlooks, beside.offer)),
        dish_up=dish_up(state, now, lambda at: beside.local(at, False)),
        interruption=beside.interruption,
        notices=beside.notices,
        answers=beside.answers,
        sound=beside.sound,
        volume=beside.volume,
        quiet=beside.quiet,
        rehearsal=beside.speed if beside.speed != 1 else None,
        together=beside.together,
        odds=beside.odds,
        steps_back=_steps_back(state),
        over=state.served is not None,
        flash=beside.flash,
    )


def _told_of(found: tuple[Row, ...], pending: Pending | None) -> tuple[Row, ...]:
    """The rows, each with what a change not yet taken does to it."""
    if pending is None:
        return found
    effects = {e.name: e for e in pending.effects if e.kind == "component" and briefly(e)}
    return tuple(replace(row, pending=effects.get(row.name)) for row in found)


def _steps_back(state: CookState) -> tuple[str, ...]:
    """The last commands, newest first; a cancelled one says so."""
    lines = [line for line in state.log if not line.words.startswith("seen ")]
    return tuple(
        f"{'taken back: ' if line.cancelled else ''}{line.words}"
        for line in reversed(lines[-STEPS_BACK:])
    )


def everything(state: CookState, now: int, local: Callable[[int, bool], str]) -> tuple[str, ...]:
    """What is in and since when, what must not be missed, what comes next: lines to read aloud."""
    lines = []
    for index, component in enumerate(state.plan.components):
        step = on_the_heat(state, index)
        if step is not None:
            began = state.steps[index][step].began
            assert began is not None
            on = component.steps[step].on
            lines.append(f"{component.name}: on the heat ({on}) since {local(began, False)}, "
                         f"{minutes(now - began)}")  # fmt: skip
        alert = component_alert(state, index, now, lambda at: local(at, False))
        if alert:
            lines.append(f"{component.name}: {alert}")
        if is_raw(state, index) and state.current(index) is not None:
            lines.append(f"{component.name}: not yet at its minimum")
    coming = [cue for cue in cues(state) if not cue.silent][:3]
    for cue in coming:
        when = "due now" if is_due(state, cue) else f"in {minutes(cue.at - now)}"
        lines.append(f"{when}: {cue.text}")
    return tuple(lines) or ("nothing is on the heat and nothing is left to do",)
