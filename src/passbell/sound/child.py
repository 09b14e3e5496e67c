"""The sound process: `python -m passbell.sound.child`, started and spoken to by `link` and `board`.

It is given the deadlines, not only the word to play, so that neither a frozen terminal nor a
killed program swallows an alarm. Its program gone, it goes on ringing for a bounded time, then
leaves by itself.

Arguments, in pairs: `--folder PATH` (of sound files; the first that has a sound wins), `--skip
NAME` (a player not to be used), `--pid-file PATH`.

One command a line, and one answer a line, "ok COMMAND" or "no COMMAND: reason":

    ping
    play NAME               a sound, now
    arm ID KIND AT RUNG     an alarm; RUNG is when it rang last, "-" if it did not yet
    cancel ID               it is acknowledged; its sound stops
    mute on|off             nothing rings; what was missed rings when it is off
    quiet AT                until then only late and probe ring
    volume N                1, soft, to 4, as the sounds are made
    quit

Instants are seconds on the clock of `ticks`; an ID is any word without blanks. Besides the
answers it tells, in lines that begin with "news":

    hello PID
    proving NAME            a player is being tried; this may take a moment
    failed NAME reason      a player cannot play
    player NAME             the player in use from now on, "none" if there is none
    broken NAME reason      a sound file that is passed over
    pid-file reason         the file cannot be kept
    lasts SECONDS           so long the sound that is told next lasts, with the pause after it
    rang AT ID...           these alarms rang, with one sound
"""

import contextlib
import os
import signal
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from queue import Empty, SimpleQueue
from types import FrameType
from typing import NoReturn

from passbell.sound.bell import Bell, Voice
from passbell.sound.pattern import KINDS, Alarm, Kind
from passbell.sound.pidfile import PidFile
from passbell.sound.ringer import Ringer
from passbell.sound.ticks import ticks

RING_ON = 300.0
"""Seconds an alarm goes on ringing after the program is gone."""

LOOK = 1.0
"""Seconds between two looks at the clock, so that a sleep of the computer is noticed."""

_LOOK_AT_PLAYER = 0.1  # seconds, while a sound comes out


class SoundProcess:
    """The process at work: it obeys, and rings what falls due."""

    def __init__(self, bell: Bell, voice: Voice, pid_file: PidFile | None) -> None:
        self._bell = bell
        self._voice = voice
        self._pid_file = pid_file
        self._ringer = Ringer()
        self._alone_since: float | None = None
        self._commands: dict[str, Callable[[list[str]], None]] = {
            "ping": lambda words: None,
            "play": self._play,
            "arm": self._arm,
            "cancel": self._cancel,
            "mute": self._mute,
            "quiet": self._quiet,
            "volume": self._volume,
            "quit": self._quit,
        }

    def run(self, lines: "SimpleQueue[str | None]") -> NoReturn:
        """Serve until told to quit, or until nothing is left to ring for a program that is gone."""
        self._bell.prove()
        while True:
            self._hear(lines)
            now = ticks()
            self._bell.check()
            self._give_up(now)
            self._ring(now)
            if self._alone_since is not None and self._finished(now):
                self.leave()

    def leave(self) -> NoReturn:
        """End the process at once: a player's own threads may not hold it."""
        self._bell.close()
        os._exit(0)

    def _hear(self, lines: "SimpleQueue[str | None]") -> None:
        """Wait for a command or for the next ring, then obey all commands that came by then."""
        try:
            self._take(lines.get(timeout=self._patience(ticks())))
            while True:
                self._take(lines.get_nowait())
        except Empty:
            return

    def _take(self, line: str | None) -> None:
        if line is None:
            self._alone()
        else:
            self._obey(line.split())

    def _patience(self, now: float) -> float:
        """Seconds until something is to be looked at."""
        busy = self._bell.busy_until > now
        look = _LOOK_AT_PLAYER if busy else LOOK
        wake = self._ringer.wake()
        if wake is None or not self._bell.works:
            return look
        return min(look, max(0.0, max(wake, self._bell.busy_until) - now))

    def _obey(self, words: list[str]) -> None:
        name = words[0] if words else ""
        try:
            self._commands[name](words[1:])
        except (KeyError, ValueError, IndexError) as error:
            self._voice.say(f"no {name}: {error}")
        else:
            self._voice.say(f"ok {name}")

    def _ring(self, now: float) -> None:
        if not self._bell.works or now < self._bell.busy_until:
            return
        turn = self._ringer.take(now)
        if turn and self._bell.play(turn.ring.wav, turn.ids, now):
            self._voice.news(f"lasts {self._bell.busy_until - now!r}")
            self._voice.news(f"rang {now!r} {' '.join(turn.ids)}")

    def _alone(self) -> None:
        """The program is gone."""
        self._alone_since = ticks()
        if self._pid_file:
            with contextlib.suppress(OSError):  # a full disk must not end the bell
                self._pid_file.orphaned()

    def _give_up(self, now: float) -> None:
        """Nobody can acknowledge an alarm of a program that is gone: it rings its time and ends."""
        alone = self._alone_since
        if alone is None:
            return
        for key, alarm in tuple(self._ringer.alarms.items()):
            if now >= max(alarm.at, alone) + RING_ON:
                self._ringer.cancel(key)

    def _finished(self, now: float) -> bool:
        over = self._ringer.wake() is None and now >= self._bell.busy_until
        return over or not self._bell.works

    def _play(self, words: list[str]) -> None:
        if not self._bell.play(words[0], (), ticks()):
            raise ValueError("no player can play it")

    def _arm(self, words: list[str]) -> None:
        key, kind, at, rung = words
        self._ringer.arm(Alarm(key, _kind(kind), float(at)), None if rung == "-" else float(rung))

    def _cancel(self, words: list[str]) -> None:
        self._ringer.cancel(words[0])
        self._bell.acknowledge(words[0])

    def _mute(self, words: list[str]) -> None:
        self._ringer.muted = words[0] == "on"
        if self._ringer.muted:
            self._bell.stop()

    def _quiet(self, words: list[str]) -> None:
        self._ringer.quiet_until = float(words[0])

    def _volume(self, words: list[str]) -> None:
        self._bell.set_volume(int(words[0]))

    def _quit(self, words: list[str]) -> None:
        self._voice.say("ok quit")
        self.leave()


def main(arguments: list[str]) -> NoReturn:
    """Run the sound process with these arguments; see the head of this module."""
    voice = Voice(sys.stdout.fileno())
    lines: SimpleQueue[str | None] = SimpleQueue()
    threading.Thread(target=_read, args=(lines,), daemon=True).start()
    folders = [Path(path) for path in _values(arguments, "--folder")]
    bell = Bell(folders, _values(arguments, "--skip"), voice)
    process = SoundProcess(bell, voice, _pid_file(arguments, voice))
    _guard(process)
    process.run(lines)


def _guard(process: SoundProcess) -> None:
    """A key that ends the program, or a window that closes, is not meant for the bell."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if sys.platform != "win32":
        signal.signal(signal.SIGHUP, signal.SIG_IGN)

    def leave(number: int, frame: FrameType | None) -> NoReturn:
        process.leave()

    signal.signal(signal.SIGTERM, leave)


def _read(lines: "SimpleQueue[str | None]") -> None:
    for line in sys.stdin.buffer:
        lines.put(line.decode("utf-8", "replace"))
    lines.put(None)


def _values(arguments: list[str], name: str) -> list[str]:
    pairs = zip(arguments[::2], arguments[1::2], strict=False)
    return [value for key, value in pairs if key == name]


def _pid_file(arguments: list[str], voice: Voice) -> PidFile | None:
    for path in _values(arguments, "--pid-file"):
        try:
            return PidFile(Path(path))
        except OSError as error:
            voice.news(f"pid-file {error.strerror}")
    return None


def _kind(word: str) -> Kind:
    for kind in KINDS:
        if word == kind:
            return kind
    raise ValueError(f"{word} is no kind of alarm")


if __name__ == "__main__":
    main(sys.argv[1:])
