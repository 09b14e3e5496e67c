"""A guard against a wet cloth: held keys and chords do nothing."""

from dataclasses import dataclass, field

REPEAT = 0.7
"""Seconds in which the same key again is the same press; a held key begins to repeat sooner."""

FAST_REPEAT = 0.12
"""The same for keys pressed fast on purpose; a held key repeats faster than this."""

CHORD = 0.04
"""Seconds in which several different keys are one thing falling on the keyboard; every key waits
so long. Common practice, no source: what falls has landed by then, and two fingers that mean two
keys are further apart."""

QUIET = 0.3
"""Seconds without any key after which a chord is over."""


@dataclass
class KeyGuard:
    """Decides which presses a person meant; the time is handed in.

    A press waits for CHORD seconds: `press` takes it, `settle` gives it back when no other key
    came with it. Two or more different keys within CHORD drop each other, and everything is
    dropped until the keyboard has been still for QUIET seconds.
    """

    chords: int = 0
    """How many chords have been dropped."""
    _waiting: list[tuple[str, float]] = field(default_factory=list)
    _last: dict[str, float] = field(default_factory=dict)
    _latest: float = float("-inf")
    _latest_key: str = ""
    _deaf: bool = False

    def press(self, key: str, now: float, fast: bool = False) -> bool:
        """Take a press.

        Args:
            key: the key's name.
            now: seconds on any clock that runs forward.
            fast: whether pressing it fast again means more of it.

        Returns:
            Whether it waits for `settle`; False: dropped.
        """
        repeat = now - self._last.get(key, float("-inf")) < (FAST_REPEAT if fast else REPEAT)
        chord = self._with_another(key, now)
        if not chord:
            self._last[key] = now
        self._latest, self._latest_key = now, key
        if chord:
            self.chords += not self._deaf
            self._deaf = True
            for dropped, _ in self._waiting:
                self._last.pop(dropped, None)
            self._waiting.clear()
        if chord or self._deaf or repeat:
            return False
        self._waiting.append((key, now))
        return True

    def _with_another(self, key: str, now: float) -> bool:
        """Whether this key came together with another, or within a chord still going on."""
        still = now - self._latest
        self._hear_again(now)
        return self._deaf or (key != self._latest_key and still < CHORD)

    def _hear_again(self, now: float) -> None:
        if now - self._latest >= QUIET:
            self._deaf = False

    def note(self, key: str, now: float) -> None:
        """See a key that needs no guard, such as one typed into a box."""
        self._hear_again(now)
        self._latest, self._latest_key = now, key

    @property
    def waiting(self) -> bool:
        """Whether any press waits for `settle`."""
        return bool(self._waiting)

    def settle(self, now: float) -> list[str]:
        """The keys pressed CHORD seconds ago or more that nothing spoke against, oldest first."""
        ripe = [key for key, at in self._waiting if now - at >= CHORD]
        self._waiting = [(key, at) for key, at in self._waiting if now - at < CHORD]
        return ripe
