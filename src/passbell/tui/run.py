"""Put a cook, or the plan list, on the screen: keys, sound, driver and screens together."""

import contextlib
import gc
import logging
import os
import sys
from pathlib import Path

from passbell.awake import KeepAwake
from passbell.clock import SystemClock
from passbell.journal import Journal, log_folder, make_file, make_folder
from passbell.session import CookSession
from passbell.session.chances import Chances
from passbell.sound.board import SoundBoard
from passbell.sound.choices import SoundChoices, load_choices
from passbell.sound.folders import users_settings, users_sounds
from passbell.sound.speech import Speaker
from passbell.tui.app import PassbellApp
from passbell.tui.desk import Desk
from passbell.tui.driver import guarded_driver, refusal
from passbell.tui.keys import KeyMap, load_keys
from passbell.tui.live import LiveDesk
from passbell.tui.live_after import LiveAftermath
from passbell.tui.live_shelf import LiveShelf
from passbell.tui.screens.cook import CookScreen
from passbell.tui.screens.plans import PlansScreen
from passbell.turns import ask_for_short_turns

_TURN = 0.001
"""Seconds after which a thread lets another go on (Python's own 0.005): a key that was read and a
frame that is drawn wait for it."""


def trouble() -> str | None:
    """Why no screen can be shown here, with the mend; None: it can."""
    return refusal(os.environ, sys.stdin, sys.stderr)


def run_cook(
    session: CookSession, folder: Path, *, muted: bool, far: bool, first: bool = False
) -> int:
    """The cook screen of a cook, to its end or until it is left; the exit code.

    Args:
        session: the cook.
        folder: where the sound process leaves its number.
        muted: without any sound.
        far: the whole screen for Now and the next.
        first: whether it is the first cook of all, before which the cautions are to be read.
    """
    ask_for_short_turns()
    log_to_file()
    keys, choices, notice = _settings()
    desk = live_desk(session, folder, choices, muted=muted)
    app = _app(keys)
    app.start_with(CookScreen(desk, far=far, keys=keys, notice=notice, first=first))
    return _run(app, [desk])


def run_list(journal: Journal, folder: Path) -> int:
    """The plan list, and from there every other screen; the exit code."""
    ask_for_short_turns()
    log_to_file()
    keys, choices, notice = _settings()
    desks: list[LiveDesk] = []

    def desk_of(session: CookSession) -> LiveDesk:
        desks.append(live_desk(session, folder, choices, muted=False))
        return desks[-1]

    app = _app(keys)
    app.notice = notice
    app.start_with(PlansScreen(LiveShelf(journal, desk_of)))
    return _run(app, desks)


def live_desk(
    session: CookSession, folder: Path, choices: SoundChoices, *, muted: bool
) -> LiveDesk:
    """The desk of a cook, its bell started and the computer asked to stay awake."""
    clock = SystemClock()

    def real() -> float:
        return clock.now().awake

    board = SoundBoard(real, (users_sounds(),), folder / "bell.pid", muted=muted)
    board.set_volume(choices.volume)
    board.start()
    awake = KeepAwake()
    awake.start()
    speaker = Speaker(real, on=choices.speak)
    desk = LiveDesk(session, board, real, awake, speaker, choices.silent)
    desk.chances = Chances(real)
    return desk


def settings() -> tuple[KeyMap, str]:
    """The cook's own keys, and what is wrong with them; empty: nothing."""
    return load_keys(users_settings() / "keys.toml")


def sound_choices() -> tuple[SoundChoices, str]:
    """The cook's own choices about the sound, and what is wrong with them; empty: nothing."""
    return load_choices(users_settings() / "sound.toml")


def _settings() -> tuple[KeyMap, SoundChoices, str]:
    """All of the cook's settings, and what is wrong with them."""
    (keys, first), (choices, second) = settings(), sound_choices()
    return keys, choices, " · ".join(text for text in (first, second) if text)


def log_to_file() -> None:
    """What goes wrong is written to a file: the screen is no place for a traceback."""
    try:
        make_folder(log_folder())
        log = log_folder() / "screen.log"
        make_file(log)
        logging.basicConfig(filename=log, level=logging.WARNING)
    except OSError:
        logging.basicConfig(handlers=[logging.NullHandler()])


def _app(keys: KeyMap) -> PassbellApp:
    return PassbellApp(keys=keys, driver_class=guarded_driver(), after=_after)


def _after(desk: Desk) -> LiveAftermath | None:
    if not isinstance(desk, LiveDesk) or desk.session.record is None:
        return None
    return LiveAftermath(desk.session)


def _run(app: PassbellApp, desks: list[LiveDesk]) -> int:
    gc.freeze()  # what is loaded stays: no search for garbage among it holds up a key
    sys.setswitchinterval(_TURN)
    app.run()
    with contextlib.suppress(OSError):  # the terminal itself may be what has gone
        for text in desks[-1].unread() if desks else ():
            sys.stderr.write(f"{text}\n")
    return app.return_code or 0
