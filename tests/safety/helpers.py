"""Short ways to write readings in tests."""

from passbell.safety import Reading, Setup, Verdict, judge, parse_reading
from passbell.units import Temperature

ON_BOARD = Setup(removed_at=0)


def readings(text: str) -> list[Reading]:
    """Readings as the command takes them: "a=147F b=148F@4min"; after 0 they are off the heat."""
    typed = [parse_reading(word, "F") for word in text.split()]
    return [
        Reading(
            one.place,
            one.temperature.value,
            one.temperature.scale,
            one.at or 0,
            off_heat=(one.at or 0) > 0,
        )
        for one in typed
    ]


def verdict(food: str, text: str = "", chart: str = "us", setup: Setup = ON_BOARD) -> Verdict:
    """The verdict on readings written as text; several food keys are set apart by commas."""
    return judge(food.split(",") if food else (), readings(text), chart=chart, setup=setup)


def degrees(text: str) -> Temperature:
    """A temperature from its text."""
    return Temperature.parse(text)
