"""Keeps a sound process running: notices a crash or a hang and puts a new one in its place."""

from collections import deque
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from passbell.sound.chain import NOBODY
from passbell.sound.faults import LIMIT, Faults
from passbell.sound.link import Link
from passbell.sound.players import NATIVE

ANSWER_TIME = 0.5
"""Seconds in which every line must be answered."""

PROOF_TIME = 2.0
"""Seconds a player may take to prove itself."""

START_TIME = 5.0
"""Seconds from the start of the process to its first word."""

PING = 1.0
"""Seconds between two pings."""

RETRY = 60.0
"""Seconds after which a bell without a player looks for one again."""

_STALL = 1.0  # seconds between two looks: longer, and it was the program that stood still
_START = "start"  # stands for the name of a player while none is tried yet


@dataclass(slots=True)
class _Run:
    """What is known of the process that runs now."""

    link: Link
    heard: float
    patience: float = START_TIME
    suspect: str = _START
    player: str | None = None
    pinged: float = float("-inf")


class Keeper:
    """The sound process, kept running. No call waits for it.

    Args:
        arguments: what the process is always started with.
        before: called, in another thread, before each start.
        greet: gives the lines a new process is told first.
        tell: called with each sentence the cook should read.

    Attributes:
        silent_since: since when no player has been in use, None while one is.
    """

    def __init__(
        self,
        arguments: Sequence[str],
        before: Callable[[], object],
        greet: Callable[[], Iterable[str]],
        tell: Callable[[str], None],
    ) -> None:
        self._arguments = tuple(arguments)
        self._before = before
        self._greet = greet
        self._tell = tell
        self._run: _Run | None = None
        self._sent: deque[float] = deque()
        self._skip: dict[str, None] = {}
        self._failed: dict[str, str] = {}
        self._faults = Faults()
        self._retry_at = float("inf")
        self._looked = float("-inf")
        self.silent_since: float | None = None

    @property
    def running(self) -> bool:
        """Whether there is a process, be it only being started."""
        return self._run is not None

    @property
    def player(self) -> str | None:
        """The name of the player in use, "none", or None while that is not known yet."""
        return self._run.player if self._run else NOBODY

    @property
    def pid(self) -> int | None:
        """The number of the process that runs now, None without one."""
        return self._run.link.pid if self._run else None

    @property
    def works(self) -> bool:
        """Whether a player is in use."""
        return self.player not in {None, NOBODY}

    def launch(self, now: float) -> None:
        """Start a process."""
        self.silent_since = now if self.silent_since is None else self.silent_since
        skip = (word for name in self._skip for word in ("--skip", name))
        self._run = _Run(Link((*self._arguments, *skip), self._before), now)
        self._retry_at = float("inf")
        self._failed.clear()
        self._sent.clear()
        for line in (*self._greet(), "ping"):
            self.send(line, now)

    def send(self, line: str, now: float) -> None:
        """Hand the process a line; without one it is dropped, since `greet` tells the next all."""
        if self._run:
            self._sent.append(now)
            self._run.link.send(line)

    def look(self, now: float) -> list[str]:
        """See how the process does, and replace it if it does not do well.

        Returns:
            The lines it told that are not about itself.
        """
        told = self._hear(now)
        self._looked = now
        self._watch(now)
        return told

    def close(self, *, ring_on: bool, wait: float) -> None:
        """Let go of the process.

        Args:
            ring_on: it goes on ringing what is armed for a bounded time; else it ends now.
            wait: seconds to wait for what was sent to be written, and for its end.
        """
        run, self._run, self._retry_at = self._run, None, float("inf")
        if run is None:
            return
        if not ring_on:
            run.link.send("quit")
        run.link.close(wait if ring_on else 0.0)
        if not ring_on and not run.link.wait(wait):
            run.link.kill()
            run.link.wait(wait)

    def _hear(self, now: float) -> list[str]:
        run = self._run
        if run is None:
            return []
        lines = run.link.read()
        if lines or now - self._looked > _STALL:
            run.heard = now
        return [told for line in lines if (told := self._understand(run, line, now))]

    def _understand(self, run: _Run, line: str, now: float) -> str | None:
        first, _, rest = line.partition(" ")
        if first != "news":
            if self._sent:
                self._sent.popleft()
            return None
        name, _, about = rest.partition(" ")
        if name == "proving":
            run.suspect, run.patience = about, PROOF_TIME
        elif name == "failed":
            player, _, self._failed[player] = about.partition(" ")
        elif name == "player":
            self._settle(run, about, now)
        elif name != "hello":
            return rest
        return None

    def _settle(self, run: _Run, player: str, now: float) -> None:
        run.player = run.suspect = player
        run.patience = ANSWER_TIME
        if player != NOBODY:
            self.silent_since = None
        else:
            self._retry_at = now + RETRY
            self._tell(f"No sound player works ({self._reasons()}); the terminal bell rings.")
        if player not in {NOBODY, NATIVE}:
            self._tell(f"The sound comes from {player} ({self._reasons()}).")

    def _reasons(self) -> str:
        absent = "it is not installed"
        known = {name: f"{name}: {why}" for name, why in self._failed.items()}
        worth = [text for name, text in known.items() if name == NATIVE or absent not in text]
        skipped = [f"{name}: it failed too often" for name in self._skip]
        return "; ".join(worth + skipped) or "none is installed"

    def _watch(self, now: float) -> None:
        run = self._run
        if run is None or run.player == NOBODY:
            self._retry(run, now)
        elif run.link.gone:
            self._replace(run, "ended", now)
        elif self._sent and now - max(self._sent[0], run.heard) > run.patience:
            run.link.kill()
            self._replace(run, "did not answer", now)
        elif not self._sent and now - run.pinged >= PING:
            run.pinged = now
            self.send("ping", now)

    def _retry(self, run: _Run | None, now: float) -> None:
        """Without a player: look for one again after a while, one may have been plugged in."""
        if now < self._retry_at:
            return
        if run:
            run.link.kill()
        self._skip.clear()
        self._faults.forget()
        self.launch(now)

    def _replace(self, run: _Run, how: str, now: float) -> None:
        if not self._faults.add(run.suspect, now):
            user = "" if run.suspect == _START else f" while it used {run.suspect}"
            self._tell(f"The sound process {how}{user}; it was started again.")
        elif run.suspect != _START:
            self._skip[run.suspect] = None
        else:
            self._run, self._retry_at = None, now + RETRY
            self._tell(f"The sound process {how} {LIMIT} times; the terminal bell rings.")
            return
        self.launch(now)
