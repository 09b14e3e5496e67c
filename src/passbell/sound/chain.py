"""The players from the best to the last, and a sound that is carried down them until one works."""

from collections.abc import Callable, Iterable

from passbell.sound.players import Player, PlayerError, player_makers
from passbell.sound.wavfile import Wav

NOBODY = "none"
"""The name told when no player is left."""


class Chain:
    """The player in use, and those after it.

    Args:
        silence: the sound each proves itself with.
        skip: names of players not to be tried.
        say: called with "proving NAME", "failed NAME reason" and "player NAME".
    """

    def __init__(self, silence: Wav, skip: Iterable[str], say: Callable[[str], None]) -> None:
        makers = player_makers()
        self._left = [(name, makers[name]) for name in makers if name not in set(skip)]
        self._silence = silence
        self._say = say
        self._last: Wav | None = None
        self.player: Player | None = None

    def advance(self) -> None:
        """Take the next player that proves itself, or none when no more are left."""
        self.player = None
        while self._left and self.player is None:
            name, make = self._left.pop(0)
            self._say(f"proving {name}")
            try:
                player = make()
                player.prove(self._silence)
            except PlayerError as error:
                self._say(f"failed {name} {error}")
            else:
                self.player = player
        self._say(f"player {self.player.name if self.player else NOBODY}")

    def play(self, wav: Wav) -> bool:
        """Start a sound with the player in use, or the first after it that can; whether one did."""
        self._last = wav
        while self.player:
            try:
                self.player.play(wav)
            except PlayerError as error:
                self._fail(self.player, error)
            else:
                return True
        return False

    def check(self) -> None:
        """See whether the last sound comes out; if not, the next player plays it again."""
        if self.player is None:
            return
        try:
            self.player.check()
        except PlayerError as error:
            self._fail(self.player, error)
            if self._last:
                self.play(self._last)

    def stop(self) -> None:
        """End the sound that is playing."""
        self._last = None
        if self.player:
            self.player.stop()

    def _fail(self, player: Player, error: PlayerError) -> None:
        self._say(f"failed {player.name} {error}")
        self.advance()
