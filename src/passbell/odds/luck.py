"""What differs from cook to cook: our own distributions, and the draws of one cook."""

from dataclasses import dataclass

from passbell.odds.draws import gamma2, lognormal, uniform

_HANDS, _PROBE, _DOOR, _DOOR_TOO = 1, 2, 3, 4


@dataclass(frozen=True, slots=True)
class Spread:
    """How much things differ from cook to cook.

    The figures are ours: no source gives them for a home kitchen.

    Attributes:
        hands: standard deviation of hands-on times, as a share of the expected time (lognormal,
            the expected time its mean).
        probe: the same of food that the thermometer ends.
        door: mean of what one opening of an oven sets the food in it back, in seconds (gamma of
            shape 2).
    """

    hands: float = 0.25
    probe: float = 0.12
    door: float = 30.0


OURS = Spread()
"""What the odds reckon with."""

WORDS = (
    "hands-on times vary by a quarter (lognormal), food ended by the thermometer by an eighth, "
    "each opening of an oven costs half a minute (gamma); these figures are ours, not measured"
)
"""`OURS` in words."""


@dataclass(frozen=True, slots=True)
class Luck:
    """The luck of one cook: every draw belongs to what it is of, whenever it is asked for.

    Attributes:
        seed: of all cooks.
        run: which of them, from 0.
        spread: the distributions.
    """

    seed: int
    run: int
    spread: Spread = OURS

    def hands(self, where: tuple[int, int], expected: int, passed: int = 0) -> int:
        """How long hands-on work really takes in all, in seconds.

        Args:
            where: component and step.
            expected: how long it is expected to take, in seconds.
            passed: how much of it is over: it takes at least that.
        """
        return self._time((_HANDS, *where), (expected, passed), self.spread.hands)

    def probe(self, where: tuple[int, int], expected: int, passed: int = 0) -> int:
        """How long food really takes on the heat until it is done; arguments as for `hands`."""
        return self._time((_PROBE, *where), (expected, passed), self.spread.probe)

    def _time(self, name: tuple[int, int, int], time: tuple[int, int], spread: float) -> int:
        expected, passed = time
        if expected <= 0:
            return passed
        u = uniform(self.seed, self.run, *name)
        return max(passed, round(expected * lognormal(u, spread, passed / expected)))

    def door(self, machine: int, opening: int) -> int:
        """What an opening of an appliance sets the food in it back, in seconds."""
        if not self.spread.door:
            return 0
        one = uniform(self.seed, self.run, _DOOR, machine, opening)
        other = uniform(self.seed, self.run, _DOOR_TOO, machine, opening)
        return round(gamma2(one, other, self.spread.door))
