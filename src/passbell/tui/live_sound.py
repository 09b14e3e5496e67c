"""The sound of a real cook: what rings, how loud, what is spoken, and the quiet of a film take."""

from collections.abc import Callable

from passbell.cook.cards import first_cue
from passbell.cook.state import CookState
from passbell.session import CookSession
from passbell.session.ringing import alarms
from passbell.session.spoken import cue_words, now_line
from passbell.sound.board import SoundBoard
from passbell.sound.chain import NOBODY
from passbell.sound.pattern import Alarm
from passbell.sound.softer import LOUDEST, SHARES
from passbell.sound.speech import Speaker

QUIET_STEPS = (30, 60, 90)
"""The lengths of a quiet take, in seconds; one more press ends it."""


class SoundDesk:
    """What is to be heard of a cook.

    Args:
        session: the cook.
        board: the bell; None: nothing sounds.
        real: seconds of real time, sleep included.
        speaker: says the line of Now after its sound; None: nothing is spoken.
        silent: kinds of cue that the cook wants to hear only when they are late.
    """

    def __init__(
        self,
        session: CookSession,
        board: SoundBoard | None,
        real: Callable[[], float],
        speaker: Speaker | None,
        silent: frozenset[str],
    ) -> None:
        self._session = session
        self._board = board
        self._real = real
        self._speaker = speaker
        self._silent = silent
        self._quiet: tuple[int, float] | None = None
        self._bells = 0
        self._armed: tuple[CookState, int, dict[str, Alarm]] | None = None
        if speaker is not None and board is not None:
            speaker.percent = _percent(board.volume)

    def ring(self, now: int) -> str:
        """Say which alarms there are, and speak what has rung; a sentence to read, or nothing."""
        board = self._board
        if board is None:
            return ""
        board.sync(self._alarms(now))
        self._bells += board.poll()
        rung, lasts = board.take_rung()
        if self._speaker is None:
            return board.take_reason() or ""
        if rung:
            self._speaker.say(now_line(self._session.state, now, rung), lasts)
        self._speaker.poll()
        return board.take_reason() or self._speaker.take_fault()

    def _alarms(self, now: int) -> dict[str, Alarm]:
        """The alarms, worked out once for all the looks at the same second of the same state."""
        state, known = self._session.state, self._armed
        if known is None or known[0] is not state or known[1] != now:
            found = alarms(state, now, self._session.awake_at, self._silent)
            known = self._armed = (state, now, found)
        return known[2]

    def take_bells(self) -> int:
        """How many times the terminal bell is to ring now."""
        bells, self._bells = self._bells, 0
        return bells

    def hush(self) -> None:
        """Stop what is being spoken: the cue has been seen."""
        if self._speaker is not None:
            self._speaker.stop()

    def next_quiet(self) -> None:
        """Quiet for a film take: 30, 60, 90 seconds, then no more."""
        real = self._real()
        step = self._quiet[0] + 1 if self._quiet is not None and self._quiet[1] > real else 0
        until = real + QUIET_STEPS[step] if step < len(QUIET_STEPS) else real
        self._quiet = (step, until) if step < len(QUIET_STEPS) else None
        if self._board is not None:
            self._board.quiet(until)

    def next_volume(self) -> str:
        """One step softer, and from the softest back to the loudest; what it is now, in words."""
        if self._board is None or self._board.muted:
            return "there is no sound whose volume could be set"
        if self.bell_only:
            return "only the bell of the terminal rings: its volume is set in the terminal"
        volume = self._board.volume - 1 if self._board.volume > min(SHARES) else LOUDEST
        self._board.set_volume(volume)
        self._board.ring_now("soon")
        if self._speaker is not None:
            self._speaker.percent = _percent(volume)
        return f"volume {volume} of {LOUDEST}"

    def speak(self, now: int) -> str:
        """Speech on or off; on, it says the line of Now at once. What came of it, in words."""
        speaker = self._speaker
        if self._board is None or self._board.muted:
            return "there is no sound, so nothing is spoken"
        if speaker is None or speaker.program is None:
            return "nothing can be spoken: no speech program is installed, such as espeak-ng"
        speaker.on = not speaker.on
        if not speaker.on:
            speaker.stop()
            return "nothing is spoken any more"
        cue = first_cue(self._session.state)
        speaker.say(
            cue_words(self._session.state, cue, now) if cue is not None else "nothing to do"
        )
        return f"Now is spoken by {speaker.program} after its sound"

    def close(self, *, ring_on: bool) -> None:
        """Let go of the bell; what is armed rings on for a while when `ring_on`."""
        if self._speaker is not None:
            self._speaker.close()
        if self._board is not None:
            self._board.close(ring_on=ring_on)

    @property
    def trouble(self) -> str:
        """Why no sound comes out of a player; empty: all is well."""
        status = self._board.status if self._board is not None else "sound: none"
        well = self._board is not None and self._board.player not in (NOBODY, None)
        return "" if well and status not in ("sound: muted", "sound: bell only") else status

    @property
    def volume(self) -> str:
        """How loud it is and whether it speaks, in a word or two; empty without a player."""
        if self._board is None or self.trouble:
            return ""
        spoken = ", spoken" if self._speaker is not None and self._speaker.on else ""
        return f"sound {self._board.volume}/{LOUDEST}{spoken}"

    @property
    def bell_only(self) -> bool:
        """Whether nothing but the bell of the terminal is left."""
        return self._board is not None and self._board.status == "sound: bell only"

    @property
    def quiet(self) -> int | None:
        """Seconds left of a quiet take; None: none."""
        left = self._quiet[1] - self._real() if self._quiet is not None else 0
        return round(left) if left > 0 else None


def _percent(volume: int) -> int:
    return round(100 * SHARES[volume])
