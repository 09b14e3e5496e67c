"""Which reading belongs to which place, and how many are asked for."""

from itertools import product

from passbell.safety import Reading, Setup, chart_rows
from passbell.safety.places import tracks, wanted_places
from tests.safety.helpers import readings, verdict


def _wanted(food: str, chart: str = "us", setup: Setup | None = None) -> tuple[str, ...]:
    return wanted_places(chart_rows(food.split(","), chart), setup or Setup())


def _shown(wanted: tuple[str, ...], text: str) -> dict[str, list[float]]:
    return {t.label: [r.shown for r in t.series] for t in tracks(wanted, readings(text))}


def test_a_row_asks_for_its_spots() -> None:
    assert _wanted("pork_whole") == ("1", "2")
    assert _wanted("fish") == ("1",)


def test_a_row_without_spots_counts_one() -> None:
    assert _wanted("pork_whole", "canada") == ("1",)


def test_each_piece_is_probed_at_every_spot() -> None:
    assert len(_wanted("ground_red", setup=Setup(pieces=3))) == 6
    assert len(_wanted("poultry_pieces", setup=Setup(pieces=4))) == 4


def test_otherwise_the_larger_of_pieces_and_spots() -> None:
    assert len(_wanted("pork_whole", setup=Setup(pieces=3))) == 3
    assert len(_wanted("pork_whole", setup=Setup(pieces=1))) == 2


def test_a_whole_bird_has_three_places_by_every_chart() -> None:
    names = ("innermost thigh", "innermost wing", "thickest breast")
    assert all(_wanted("poultry_whole", c) == names for c in ("us", "canada", "uk", "australia"))


def test_a_stuffed_bird_is_probed_in_the_stuffing_too() -> None:
    wanted = _wanted("poultry_whole,stuffing")
    assert wanted == (
        "innermost thigh",
        "innermost wing",
        "thickest breast",
        "centre of the stuffing",
    )
    assert _wanted("stuffing,poultry_whole")[0] == "centre of the stuffing"
    assert _wanted("stuffing") == ("centre of the stuffing", "thickest meat")


def test_spots_asked_for_by_the_cook() -> None:
    assert _wanted("pork_whole", setup=Setup(spots=3)) == ("1", "2", "3")
    assert _wanted("poultry_whole", setup=Setup(spots=1)) == ("innermost thigh",)
    found = verdict("pork_whole", "147F", setup=Setup(spots=1))
    assert found.verdict == "met"
    assert "without that it would be 2 places" in " ".join(found.advice)


def test_fewer_spots_leave_no_piece_out() -> None:
    """Each piece is checked (FSIS on burgers and pieces, from memory), whatever its spots."""
    setup = Setup(pieces=4, spots=1)
    assert _wanted("poultry_pieces", setup=setup) == ("1", "2", "3", "4")
    assert _wanted("ground_red", setup=Setup(pieces=2, spots=3)) == tuple("123456")
    assert _wanted("pork_whole", setup=setup) == ("1", "2", "3", "4")
    assert verdict("poultry_pieces", "170F", setup=setup).verdict == "incomplete"


def test_bare_readings_fill_the_first_place_not_yet_read() -> None:
    assert _shown(("1", "2"), "140 150") == {"1": [140], "2": [150]}
    assert _shown(("1", "2"), "2=140 150") == {"1": [150], "2": [140]}


def test_a_bare_reading_when_all_are_read_goes_to_the_one_read_longest_ago() -> None:
    assert _shown(("1", "2"), "140 141 147@4min 148@4min") == {"1": [140, 147], "2": [141, 148]}
    assert _shown(("1", "2"), "2=140@-2min 141@-1min 147") == {"1": [141], "2": [140, 147]}


def test_bare_readings_at_one_instant_are_different_places() -> None:
    """Nobody reads one place twice in a second: four numbers at once are four pieces."""
    assert _shown(("1",), "171 169 164.5 172") == {
        "1": [171],
        "2": [169],
        "3": [164.5],
        "4": [172],
    }
    assert verdict("poultry_pieces", "171F 169F 164.5F 172F").verdict == "below"


def test_a_number_names_the_place_of_that_number() -> None:
    wanted = _wanted("poultry_whole")
    assert _shown(wanted, "2=151")["innermost wing"] == [151]
    assert _shown(("1", "2"), "7=151") == {"1": [], "2": [], "7": [151]}
    assert _shown(("1",), "150 151 2=152") == {"1": [150], "2": [151, 152]}
    assert _shown(("1",), "150 3=151 152") == {"1": [150], "3": [151], "4": [152]}


def test_names_fill_places_without_names() -> None:
    assert _shown(("1", "2"), "a=140 b=141 A=150") == {"a": [140, 150], "b": [141]}
    assert _shown(("1", "2"), "a=140 b=141 c=139") == {"a": [140], "b": [141], "c": [139]}
    assert _shown(("1", "2"), "a=140 1=145") == {"a": [140, 145], "2": []}


def test_a_named_place_is_found_by_its_word() -> None:
    wanted = _wanted("poultry_whole")
    found = _shown(wanted, "Breast=170 thigh=168")
    assert found == {"thigh": [168], "innermost wing": [], "Breast": [170]}
    series = [Reading(p, 168, "F") for p in ("thigh", "innermost thigh", "Innermost Thigh")]
    assert len(tracks(wanted, series)[0].series) == 3


def test_a_place_that_is_not_asked_for_fills_none() -> None:
    found = _shown(_wanted("poultry_whole"), "drumstick=170")
    assert found["drumstick"] == [170]
    assert sum(map(len, found.values())) == 1


def test_a_left_thigh_is_a_thigh_and_the_other_thigh_is_another_place() -> None:
    series = [Reading("left thigh", 160, "F"), Reading("thigh", 170, "F", 60)]
    found = {
        t.label: t.series[0].shown for t in tracks(_wanted("poultry_whole"), series) if t.series
    }
    assert found == {"left thigh": 160, "thigh": 170}


def test_the_breast_may_stand_for_the_thickest_meat() -> None:
    found = _shown(_wanted("stuffing"), "stuffing=167 breast=170 thigh=150")
    assert found == {"stuffing": [167], "breast": [170], "thigh": [150]}


def _layout(names: tuple[str | None, ...], shown: tuple[float, ...]) -> list[list[int]]:
    series = [Reading(n, s, "F", at) for at, (n, s) in enumerate(zip(names, shown, strict=True))]
    return [[r.at for r in track.series] for track in tracks(("1", "2"), series)]


def test_the_place_of_a_reading_never_hangs_on_what_it_shows() -> None:
    names = (None, "1", "a", None, "2", None)
    for shown in product((140.0, 150.0), repeat=len(names)):
        assert _layout(names, shown) == [[0, 1, 3, 5], [2, 4]]


def test_readings_are_taken_in_the_order_of_time() -> None:
    assert _shown(("1",), "a=147@4min a=140") == {"a": [140, 147]}


def test_the_next_place_is_the_missing_one_then_the_low_one() -> None:
    assert verdict("poultry_whole", "thigh=168F").next_place == "innermost wing"
    assert verdict("pork_whole", "1=140F 2=139F").next_place == "2"
    assert verdict("pork_whole", "1=140C").next_place == "1"
    assert verdict("pork_whole", "1=150F 2=150F").next_place is None
    assert verdict("general", "1=76C 2=76C", "uk", Setup(pieces=2)).next_place == "1"
