"""How times are put into words."""

import pytest

from passbell.cook.wording import spoken


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0, "0 min"),
        (40, "40 s"),
        (60, "1 min"),
        (90, "90 s"),
        (111, "1 min 51 s"),
        (-111, "1 min 51 s"),
        (120, "2 min"),
        (149, "2 min"),
        (3600, "1 h"),
        (80 * 60, "1 h 20 min"),
    ],
)
def test_a_length_in_words(seconds: int, words: str) -> None:
    assert spoken(seconds) == words
