"""The bell as the session sees it: say which alarms there are, ask four times a second how it goes.

The sounds themselves are made by another process, which holds the deadlines too. No call here
waits for it: lines are handed to a thread, and what the process tells is picked up by `poll`.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path
from urllib.parse import quote, unquote

from passbell.sound.chain import NOBODY
from passbell.sound.folders import own_sounds
from passbell.sound.keeper import Keeper
from passbell.sound.pattern import SPEEDS, Alarm, Kind
from passbell.sound.pidfile import silence_orphan
from passbell.sound.players import NATIVE
from passbell.sound.ringer import Ringer
from passbell.sound.softer import LOUDEST
from passbell.units import clean_text

GRACE = 1.5
"""Seconds without a player after which the bell of the terminal rings instead."""

CLOSE_WAIT = 0.5
"""Seconds `close` gives the sound process to leave before it is killed."""

_MARK = "="  # begins every id on the wire, so that an empty one is still a word


class SoundBoard:
    """The bell beside the stove.

    Args:
        clock: seconds on the clock that counts sleep (`passbell.sound.ticks`, or `awake` of
            the system clock); the alarms are set by it. It may not be a sped-up one: a rehearsal
            turns its instants into real ones first.
        folders: folders with sounds of the cook's own; the first that has a sound wins, ours
            come last.
        pid_file: where the sound process writes its number, so that a later start can end it
            when it has outlived its program; None to go without.
        muted: begin without any sound.

    Attributes:
        volume: how loud the sounds are, from 1, soft, to 4; set by `set_volume`.
    """

    def __init__(
        self,
        clock: Callable[[], float],
        folders: Sequence[Path] = (),
        pid_file: Path | None = None,
        *,
        muted: bool = False,
    ) -> None:
        self._clock = clock
        self._wanted: dict[str, Alarm] = {}
        self._ringer = Ringer()
        self._ringer.muted = muted
        self.volume = LOUDEST
        self._bells_owed = 0
        self._rung: list[str] = []
        self._lasts = 0.0
        self._told: dict[str, None] = {}
        self._untold: list[str] = []
        self._keeper = Keeper(
            _arguments(folders, pid_file),
            partial(silence_orphan, pid_file) if pid_file else lambda: None,
            self._greeting,
            self._tell,
        )

    @property
    def player(self) -> str | None:
        """The name of the player in use, "none" for the bell, None while it is not known yet."""
        return self._keeper.player

    @property
    def pid(self) -> int | None:
        """The number of the sound process, None when none runs."""
        return self._keeper.pid

    @property
    def status(self) -> str:
        """What makes the sound, for the screen."""
        if self._ringer.muted:
            return "sound: muted"
        if self._rings_bell(self._clock()):
            return "sound: bell only"
        if self.player is None:
            return "sound: starting"
        return f"sound: {'' if self.player == NATIVE else 'system player '}{self.player}"

    def take_reason(self) -> str | None:
        """A sentence about the sound not read yet; each is given once, none while muted."""
        return self._untold.pop(0) if self._untold and not self.muted else None

    @property
    def muted(self) -> bool:
        """Whether nothing sounds."""
        return self._ringer.muted

    def take_rung(self) -> tuple[tuple[str, ...], float]:
        """The alarms that have rung since the last call, and how long the last sound lasts."""
        rung, self._rung = tuple(self._rung), []
        return rung, self._lasts

    def start(self) -> None:
        """Start the sound process; one that an earlier start left ringing is ended first."""
        if not self._keeper.running:
            self._keeper.launch(self._clock())

    def sync(self, alarms: Mapping[str, Alarm]) -> None:
        """Say which alarms there are now; the others are acknowledged and fall silent.

        Args:
            alarms: every alarm that is to ring, by its id, also those that ring already.
        """
        for key in [key for key in self._wanted if key not in alarms]:
            del self._wanted[key]
            self._ringer.cancel(key)
            self._send(f"cancel {_word(key)}")
        for key, alarm in alarms.items():
            if self._wanted.get(key) != alarm:
                self._wanted[key] = alarm
                self._ringer.arm(alarm)
                self._send(self._arm(alarm))

    def poll(self) -> int:
        """See how the sound does; to be called four times a second.

        A crash of the sound process is noticed at the next call, a hang by its missing answer;
        a new process then takes over all alarms.

        Returns:
            How many times the screen should ring the bell of the terminal now: 0 as long as a
            player works, and when muted.
        """
        now = self._clock()
        for line in self._keeper.look(now):
            self._hear(line)
        return self._bells(now)

    def ring_now(self, kind: Kind, speed: int = SPEEDS[0]) -> None:
        """Play one sound at once, as a sample: no alarm, and not held back by a quiet time."""
        if self._rings_bell(self._clock()):
            self._bells_owed += _bells_of(kind)
        else:
            self._send(f"play {kind}_{speed}")

    def mute(self, on: bool) -> None:
        """Silence everything, or ring again; what was missed rings when it is over."""
        self._ringer.muted = on
        self._send(self._muted())

    def set_volume(self, volume: int) -> None:
        """Ring so loud from now on: 1, soft, to 4; the bell of the terminal knows no volume."""
        self.volume = volume
        self._send(self._loud())

    def quiet(self, until: float) -> None:
        """Until this instant only *late* and *probe* ring; the others follow when it is over."""
        self._ringer.quiet_until = until
        self._send(self._quiet())

    def close(self, *, ring_on: bool = False) -> None:
        """Let go of the sound process, within about half a second.

        Args:
            ring_on: leave it ringing what is armed, for a bounded time; for a window that is
                closed while food is on the heat.
        """
        self._keeper.close(ring_on=ring_on, wait=CLOSE_WAIT)

    def _rings_bell(self, now: float) -> bool:
        since = self._keeper.silent_since
        return self.player == NOBODY or (since is not None and now - since > GRACE)

    def _bells(self, now: float) -> int:
        owed, self._bells_owed = self._bells_owed, 0
        if self._rings_bell(now) and (turn := self._ringer.take(now)):
            owed += _bells_of(turn.ring.kind)
            self._rung.extend(turn.ids)
            self._lasts = 0.0
        return 0 if self._ringer.muted else owed

    def _hear(self, line: str) -> None:
        name, *words = line.split(" ")
        if name == "rang":
            for word in words[1:]:
                self._ringer.note(_id(word), float(words[0]))
                self._rung.append(_id(word))
        elif name == "lasts":
            self._lasts = float(words[0])
        elif name == "broken":
            self._tell(f"The sound {' '.join(words)}; another is used in its place.")
        else:
            self._tell(f"The sound process says: {line}.")

    def _send(self, line: str) -> None:
        self._keeper.send(line, self._clock())

    def _tell(self, sentence: str) -> None:
        sentence = clean_text(sentence)
        if sentence not in self._told:
            self._told[sentence] = None
            self._untold.append(sentence)

    def _greeting(self) -> Iterator[str]:
        yield self._muted()
        yield self._quiet()
        yield self._loud()
        yield from map(self._arm, self._wanted.values())

    def _arm(self, alarm: Alarm) -> str:
        rung = self._ringer.rung(alarm.id)
        last = "-" if rung is None else repr(float(rung))
        return f"arm {_word(alarm.id)} {alarm.kind} {float(alarm.at)!r} {last}"

    def _muted(self) -> str:
        return f"mute {'on' if self._ringer.muted else 'off'}"

    def _loud(self) -> str:
        return f"volume {self.volume}"

    def _quiet(self) -> str:
        return f"quiet {self._ringer.quiet_until!r}"


def _arguments(folders: Sequence[Path], pid_file: Path | None) -> list[str]:
    searched = [word for path in (*folders, own_sounds()) for word in ("--folder", str(path))]
    return [*searched, *(("--pid-file", str(pid_file)) if pid_file else ())]


def _bells_of(kind: Kind) -> int:
    return 1 if kind == "soon" else 2


def _word(alarm_id: str) -> str:
    return _MARK + quote(alarm_id, safe="", errors="surrogatepass")


def _id(word: str) -> str:
    return unquote(word.removeprefix(_MARK), errors="surrogatepass")
