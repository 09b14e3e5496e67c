"""Which words of a step say that its food is in the fridge. Every wording is invented."""

import pytest

from passbell.safety.cold_words import keeps_cold


@pytest.mark.parametrize(
    "text",
    [
        "thaw in the fridge",
        "Marinate, covered, in the FRIDGE",
        "chill",
        "chill until firm",
        "rest until firm in the fridge",
        "chilled, overnight",
        "refrigerate",
        "in the refrigerator for a night",
        "in the freezer, to slice it thin",
        "from the freezer into the fridge",
        "take out of the freezer and thaw in the fridge",
        "salt, then leave in the fridge",
        "spread out on a tray, chill",
        "keep cold",
        "in a cold place",
    ],
)
def test_words_that_say_it_is_in_the_fridge(text: str) -> None:
    assert keeps_cold(text)


@pytest.mark.parametrize(
    "text",
    [
        "marinate",
        "stand",
        "bring to room temperature",
        "out of the fridge",
        "take out of the fridge",
        "from the fridge to room temperature",
        "chill, then at room temperature",
        "take it from the refrigerator, let it stand",
        "take the chill off",
        "to lose its chill",
        "until the chill is gone",
        "not in the fridge",
        "don't chill",
        "do not put it in the fridge",
        "unrefrigerated",
        "on the counter, not chilled",
        "in the fridge, take it out an hour before",
        "chill, then stand for two hours",
        "in the fridge, then leave out",
        "overnight in the fridge, the last 2 h out",
        "no fridge",
        "cold-smoke",
        "from fridge to kitchen temperature",
        "in chilli oil",
        "thaw in cold water",
        "in the cold oven",
        "stand until it is cold",
        "on top, beside the fridge",
        "somewhere warm, before it goes into the fridge",
    ],
)
def test_other_words_do_not_nor_words_that_say_both(text: str) -> None:
    assert not keeps_cold(text)
