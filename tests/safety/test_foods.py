"""Foods, cautions, and words of meat."""

import pytest

from passbell.safety import is_perishable, is_raw_meat, known_foods, names_meat, nearest_food
from passbell.safety.cautions import ALL, WASH_BETWEEN, WASH_FIRST, WASH_PROBE, probe_wash
from passbell.safety.foods import food_name


def test_foods_known() -> None:
    assert {"pork_whole", "plant", "general", "tenderised_red"} <= set(known_foods())
    assert food_name("fish") == "fish"
    assert food_name("pebbles") == "pebbles"


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("pork_hole", "pork_whole"),
        ("pork", "pork_whole"),
        ("Poultry pieces", "poultry_pieces"),
        ("shelfish", "shellfish"),
        ("xyzzy", None),
    ],
)
def test_the_nearest_food(typed: str, meant: str | None) -> None:
    assert nearest_food(typed) == meant


@pytest.mark.parametrize(
    ("food", "raw"),
    [
        ("poultry_pieces", True),
        ("ground_red", True),
        ("stuffing", True),
        ("fish", True),
        ("shellfish", True),
        ("casserole", True),
        ("general", True),
        ("an unknown key", True),
        ("ham_cooked_sealed", False),
        ("leftovers", False),
        ("egg_dish", False),
        ("plant", False),
    ],
)
def test_raw_meat(food: str, raw: bool) -> None:
    assert is_raw_meat((food,)) is raw
    assert is_raw_meat((food, "plant")) is raw


def test_no_food_named_is_not_raw_meat() -> None:
    assert not is_raw_meat(())


def test_perishable() -> None:
    assert is_perishable(("fish",))
    assert is_perishable(("egg_dish",))
    assert is_perishable(("leftovers", "plant"))
    assert not is_perishable(("plant",))
    assert not is_perishable(())
    assert is_perishable(("plant",), cooked=True)
    assert is_perishable((), cooked=True)


def test_washing_between_readings() -> None:
    assert probe_wash(None, None, "chops") == WASH_FIRST
    assert probe_wash("chops", "below", "chops") == WASH_PROBE
    assert probe_wash("chops", "met", "chops") == ""
    assert probe_wash("chops", "met", "beans") == WASH_BETWEEN


def test_cautions_defer_to_those_who_decide() -> None:
    text = " ".join(ALL)
    for needed in ("health service", "local food code", "licensed professional", "package"):
        assert needed in text
    assert "colder spots" in ALL[0]


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("2 chicken thighs", "chicken"),
        ("300 g Salmon fillets", "Salmon"),
        ("3 eggs, beaten", "eggs"),
        ("1 guinea fowl", "guinea fowl"),
        ("8 anchovies", "anchovies"),
        ("pork-and-apple patties", "pork"),
        ("200 g MINCE", "MINCE"),
        ("prawns", "prawns"),
        ("kidney beans and bacon", "bacon"),
    ],
)
def test_words_of_meat(line: str, word: str) -> None:
    assert names_meat([line]) == word


@pytest.mark.parametrize(
    "line",
    [
        "1 eggplant",
        "2 tins kidney beans",
        "1 tbsp fish sauce",
        "oyster  mushrooms",
        "500 ml Chicken Stock",
        "hamper of greens",
        "egg-free pasta",
        "300 g carrots",
        "",
    ],
)
def test_words_that_are_no_meat(line: str) -> None:
    assert names_meat([line]) is None


def test_the_first_line_with_a_word_is_found() -> None:
    assert names_meat(["tray bake", "2 onions", "4 sausages", "1 egg"]) == "sausages"
