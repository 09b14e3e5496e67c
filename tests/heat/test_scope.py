"""What no forecast is made for, and the words that tell."""

import pytest

from passbell.heat.model import NoForecast
from passbell.heat.scope import SENTENCES, mode_of, no_forecast, reason_in

OUT = [
    ((), ["pork chops, bone-in"], "bones"),
    ((), ["leg of lamb on the bone"], "bones"),
    ((), ["4 chicken drumsticks"], "bones"),
    (("poultry_whole",), ["a bird"], "bones"),
    (("stuffing",), ["peppers"], "stuffing"),
    ((), ["stuffed chicken breasts"], "stuffing"),
    ((), ["salmon", "wrap in foil"], "foil"),
    ((), ["pork loin", "uncover"], "foil"),
    ((), ["beef", "put the lid on"], "foil"),
    ((), ["2 frozen fish fillets"], "frozen"),
]


@pytest.mark.parametrize(("foods", "texts", "reason"), OUT)
def test_out_of_scope_is_seen(foods: tuple[str, ...], texts: list[str], reason: str) -> None:
    assert reason_in(foods, texts) == reason


IN = [
    "boneless pork chops",
    "chicken thighs, skin up",
    "salmon, off the bone",
    "on a foil-lined tray",
    "tray lined with foil",
    "roast uncovered",
    "fish, thawed if frozen",
    "fresh fillets, not frozen",
    "unstuffed",
    "recovered from the marinade",
]


@pytest.mark.parametrize("text", IN)
def test_in_scope_is_left_alone(text: str) -> None:
    assert reason_in(("pork_whole",), [text]) is None


MODES = [
    ("convection roast", "convection"),
    ("fan bake", "convection"),
    ("Air Fry", "air_fry"),
    ("air-frying", "air_fry"),
    ("bake", "bake"),
    ("roast", "bake"),
    (None, "bake"),
]


@pytest.mark.parametrize(("words", "mode"), MODES)
def test_modes_by_their_words(words: str | None, mode: str) -> None:
    assert mode_of(words) == mode


@pytest.mark.parametrize(
    ("words", "reason"),
    [
        ("broil", "one_sided"),
        ("fan grill", "one_sided"),
        ("sear", "one_sided"),
        ("steam", "no_air"),
    ],
)
def test_modes_without_a_forecast(words: str, reason: str) -> None:
    found = mode_of(words)
    assert isinstance(found, NoForecast)
    assert found.reason == reason


def test_every_reason_has_its_sentence() -> None:
    for reason, sentence in SENTENCES.items():
        assert no_forecast(reason) == NoForecast(reason, sentence)
        assert sentence.endswith(".")
