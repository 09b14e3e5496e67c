"""A storm of random keys on the desk of a cook, looked at and replayed afterwards."""

import random
from dataclasses import replace

from passbell.clock import HandClock
from passbell.cook.events import EVENTS, Event
from passbell.cook.fold import fold
from passbell.session import CookSession
from passbell.tui.keys import FUNCTIONS, key_name, standard
from passbell.tui.listen import Listener
from passbell.tui.live import LiveDesk
from tests.cook.meals import CHOPS, TRAY, plan_of

TYPED = "0123456789 abcdefghijklmnopqrstuvwxyzFC:+-.=é\u202e\x1b"
KEYS = (
    *(key_name(key) for function in FUNCTIONS for key in function.keys),
    *("up", "down", "pageup", "pagedown", "escape", "tab", "enter", "enter", "enter", "backspace"),
)


def storm(presses: int, seed: int) -> str:
    """So many random keys; what went wrong, empty: nothing.

    The cook begins anew when it is over. Every view is drawn; at the end of each cook its events,
    through JSON, must fold to its state.
    """
    dice = random.Random(seed)
    left = presses
    while left > 0:
        clock = HandClock(utc=1_800_000_000.0, awake=50.0)
        session = CookSession.begin(plan_of(dice.choice((TRAY, CHOPS))), clock)
        heard = _listening(session, session.begun)
        desk = LiveDesk(session, None, lambda clock=clock: clock.now().awake)  # type: ignore[misc]
        listener = Listener(desk, standard())
        for _ in range(min(left, 400)):
            left -= 1
            clock.move(dice.choice((0.01, 0.1, 0.3, 0.8, 5.0, 9.0, 40.0)))
            _press(listener, dice, clock.now().awake)
            listener.view = desk.tick()
            if listener.view.over:
                break
        plan = session.state.plan
        folded = fold(plan, [EVENTS.validate_json(EVENTS.dump_json(event)) for event in heard])
        if replace(folded, plan=plan) != session.state:
            return f"seed {seed}: the events do not fold to the state"
    return ""


def _listening(session: CookSession, started: tuple[Event, ...]) -> list[Event]:
    """Every event of a cook, as it comes."""
    heard = list(started)
    take = session._take

    def listen(command, outcome, now):  # type: ignore[no-untyped-def]
        heard.extend(outcome.events)
        return take(command, outcome, now)

    session._take = listen  # type: ignore[method-assign]
    return heard


def _press(listener: Listener, dice: random.Random, now: float) -> None:
    if listener.typing is not None and dice.random() < 0.7:
        typed = dice.choice(TYPED)
        listener.key(typed, typed, now)
    elif dice.random() < 0.05:
        listener.paste("".join(dice.choices(TYPED, k=dice.randrange(3000))))
    elif dice.random() < 0.1:
        listener.clicked(
            dice.choice(("key:done", "row:0", "way:1", "answer:2", "probe:", "cover:"))
        )
    else:
        digit = dice.choice("0123456789") if dice.random() < 0.2 else None
        listener.key(digit or dice.choice(KEYS), digit, now)
    listener.settle(now + 0.07)
