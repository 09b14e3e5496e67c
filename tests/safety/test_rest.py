"""The rest a chart asks for (US whole cuts and raw ham 3 min, Australia 3 to 5), and carry-over."""

import pytest

from passbell.safety import Setup, Verdict
from tests.safety.helpers import ON_BOARD, verdict

MET = "a=147F@-1min b=148F@-1min"


def on_the_heat(found: Verdict) -> bool:
    """Whether the minimum was reached at every place while the food was on the heat."""
    return found.verdict == "met" and "off_heat" not in found.flags


@pytest.mark.parametrize(
    ("food", "chart", "seconds"),
    [
        ("beef_lamb_whole", "us", 180),
        ("pork_whole", "us", 180),
        ("ham_raw", "us", 180),
        ("poultry_pieces", "us", 0),
        ("ground_red", "us", 0),
        ("pork_whole", "canada", 0),
        ("pork_whole", "australia", 180),
        ("beef_lamb_whole", "australia", 180),
    ],
)
def test_only_where_the_chart_prints_one(food: str, chart: str, seconds: int) -> None:
    found = verdict(food, "190F 190F", chart)
    assert (found.verdict, found.rest_s) == ("met", seconds)
    assert any("rest it 3" in line for line in found.advice) is bool(seconds)


def test_a_span_of_minutes_is_said_whole() -> None:
    assert "3 to 5 min" in " ".join(verdict("pork_whole", "75C", "australia").advice)


def test_it_has_not_begun_while_the_food_is_on_the_heat() -> None:
    found = verdict("pork_whole", "147F 148F", setup=Setup())
    assert (found.rest_s, found.rest_from, found.rest_until) == (180, None, None)


def test_it_begins_at_removal_when_the_minimum_was_read_before() -> None:
    found = verdict("pork_whole", MET)
    assert (found.rest_from, found.rest_until) == (0, 180)


def test_it_begins_at_the_qualifying_reading_when_that_is_later() -> None:
    found = verdict("pork_whole", "a=140F b=141F a=147F@4min b=148F@5min")
    assert (found.rest_from, found.rest_until) == (300, 480)
    assert found.flags == ("off_heat",)


def test_none_is_asked_before_the_minimum_is_reached() -> None:
    found = verdict("pork_whole", "a=140F b=150F")
    assert (found.rest_s, found.rest_from, found.rest_until) == (0, None, None)


def test_another_good_reading_does_not_move_it() -> None:
    found = verdict("pork_whole", f"{MET} a=146F@2min")
    assert (found.verdict, found.rest_from) == ("met", 0)


def test_a_place_probed_besides_does_not_move_it() -> None:
    found = verdict("pork_whole", f"{MET} c=146F@2min")
    assert (found.verdict, found.rest_from, found.flags) == ("met", 0, ("no_margin",))


def test_a_reading_under_the_minimum_breaks_it() -> None:
    found = verdict("pork_whole", f"{MET} a=144F@2min")
    assert (found.verdict, found.flags) == ("below", ("rest_broken",))
    assert (found.rest_s, found.rest_from) == (0, None)
    assert any("broke the rest" in line for line in found.advice)


def test_so_does_one_at_a_place_probed_besides() -> None:
    found = verdict("pork_whole", f"{MET} c=144F@2min")
    assert (found.verdict, found.flags) == ("below", ("rest_broken",))


def test_it_begins_anew_when_every_place_qualifies_again() -> None:
    found = verdict("pork_whole", f"{MET} a=144F@2min a=147F@4min")
    assert (found.verdict, found.rest_from, found.rest_until) == ("met", 240, 420)
    assert found.flags == ("off_heat",)
    assert any("earlier rest was broken" in line for line in found.advice)


def test_after_its_end_a_low_reading_breaks_nothing_but_is_below() -> None:
    found = verdict("pork_whole", f"{MET} a=144F@3min")
    assert (found.verdict, found.flags) == ("below", ())


def test_a_low_reading_on_the_heat_breaks_no_rest() -> None:
    found = verdict("pork_whole", "b=148F a=147F a=144F")
    assert (found.verdict, found.flags) == ("below", ())


def test_an_impossibly_hot_reading_does_not_break_it() -> None:
    during = verdict("pork_whole", f"{MET} a=300F@1min")
    assert (during.verdict, during.flags) == ("recheck", ())
    after = verdict("pork_whole", f"{MET} a=300F@1min a=147F@2min")
    assert (after.verdict, after.rest_from) == ("met", 0)


def test_an_impossibly_hot_reading_does_not_begin_it() -> None:
    found = verdict("pork_whole", "a=300F@1min b=147F@1min a=147F@4min")
    assert (found.verdict, found.rest_from) == ("met", 240)


def test_cutting_ends_it_and_never_shortens_what_is_asked() -> None:
    found = verdict("pork_whole", MET, setup=Setup(removed_at=0, cut_at=100))
    assert found.rest_until == 180
    assert any("cut before its rest was over" in line for line in found.advice)
    late = verdict("pork_whole", MET, setup=Setup(removed_at=0, cut_at=180))
    assert not any("cut before" in line for line in late.advice)


def test_a_low_reading_after_the_cut_breaks_no_rest() -> None:
    found = verdict("pork_whole", f"{MET} a=144F@2min", setup=Setup(removed_at=0, cut_at=100))
    assert (found.verdict, found.flags) == ("below", ())


def test_back_on_the_heat_the_rest_counts_from_the_second_removal() -> None:
    text = "a=140F@-1min b=141F@-1min a=146F@4min b=146F@4min"
    found = verdict("pork_whole", text, setup=Setup(removed_at=600))
    assert (found.verdict, found.rest_from) == ("met", 600)


class TestCarryOver:
    def test_below_at_removal_stays_below_without_a_new_reading(self) -> None:
        for removed in (0, 600, 6000):
            found = verdict("pork_whole", "144F 150F", setup=Setup(removed_at=removed))
            assert found.verdict == "below"

    def test_a_first_qualifying_reading_off_the_heat_is_flagged(self) -> None:
        found = verdict("poultry_pieces", "1=163F 1=166F@3min")
        assert (found.verdict, found.flags) == ("met", ("no_margin", "off_heat"))
        assert any("Reached only after it left the heat" in line for line in found.advice)
        assert not on_the_heat(found)

    def test_one_place_reached_only_off_the_heat_is_enough_for_the_flag(self) -> None:
        found = verdict("pork_whole", "a=150F b=141F b=150F@4min")
        assert (found.verdict, found.flags, found.rest_from) == ("met", ("off_heat",), 240)

    def test_reached_on_the_heat_and_read_again_on_the_board(self) -> None:
        found = verdict("pork_whole", "a=150F b=150F a=152F@4min b=152F@4min")
        assert (found.verdict, found.flags) == ("met", ())
        assert on_the_heat(found)

    def test_back_to_the_heat_and_reached_there(self) -> None:
        text = "1=163F 1=166F@3min"
        found = verdict("poultry_pieces", text, setup=ON_BOARD)
        assert "off_heat" in found.flags
        again = verdict("poultry_pieces", "1=163F@-9min 1=168F", setup=Setup())
        assert again.flags == ()

    def test_never_taken_out_before_every_place_reads_met(self) -> None:
        for text in ("", "1=150F", "1=150F 2=144F", "1=150C 2=150F"):
            assert not on_the_heat(verdict("pork_whole", text, setup=Setup()))
        assert not on_the_heat(verdict("plant", "99C", setup=Setup()))
