"""The verdict, rule by rule: chart, row, reading, impossible, places, words."""

import json
import re
from dataclasses import FrozenInstanceError

import pytest

from passbell.safety import Reading, Setup, judge, rank
from passbell.safety.model import SIGNS, WORST_FIRST, spoken_place
from tests.safety.helpers import degrees, readings, verdict


def _ice(text: str) -> Setup:
    return Setup(ice=degrees(text), removed_at=0)


class TestChart:
    def test_charts_differ_for_one_food(self) -> None:
        """A pork chop at 66 °C is enough in the United States only."""
        words = {
            c: verdict("pork_whole", "66C 66C", c).verdict for c in ("us", "canada", "australia")
        }
        assert words == {"us": "met", "canada": "below", "australia": "below"}

    def test_switching_the_chart_judges_the_same_readings_anew(self) -> None:
        taken = readings("thigh=168F wing=167F breast=170F")
        assert judge(("poultry_whole",), taken, chart="us").verdict == "met"
        assert judge(("poultry_whole",), taken, chart="canada").verdict == "below"
        assert judge(("poultry_whole",), taken, chart="us").verdict == "met"

    def test_the_chart_is_named(self) -> None:
        found = verdict("pork_whole", "150F 150F")
        assert (found.chart, found.row) == ("us", "pork_whole")
        assert "United States, home cooks" in found.sentence

    def test_a_general_row_says_that_it_is_one(self) -> None:
        found = verdict("poultry_pieces", "76C", "uk")
        assert (found.verdict, found.hold_s, found.row) == ("hold", 30, "general")
        assert found.general
        assert "general row" in found.sentence
        assert "general row" not in verdict("ground_red", "76C", "uk").sentence

    def test_strictest_takes_the_worst_chart_and_names_it(self) -> None:
        found = verdict("poultry_whole", "thigh=168F wing=167F breast=170F", "strictest")
        assert (found.verdict, found.chart, found.minimum) == ("below", "canada", "180 °F")

    def test_strictest_names_charts_without_a_figure_beside(self) -> None:
        found = verdict("beef_lamb_whole", "64C 65C", "strictest")
        assert found.verdict == "met"
        assert any("United Kingdom" in line and "no centre" in line for line in found.beside)
        egg = verdict("egg_dish", "75C", "strictest")
        assert any("United Kingdom" in line and "no row" in line for line in egg.beside)

    def test_strictest_keeps_the_rest_another_chart_asks_for(self) -> None:
        found = verdict("pork_whole", "1=150F@-5min 2=150F@-5min", "strictest")
        assert found.verdict == "below"
        hot = verdict("pork_whole", "1=80C@-1min 2=80C@-1min 1=80C 2=80C", "strictest")
        assert (hot.verdict, hot.chart, hot.rest_s) == ("met", "canada", 180)
        assert (hot.rest_from, hot.rest_until) == (0, 180)

    def test_strictest_counts_what_any_chart_misses(self) -> None:
        found = verdict("pork_whole", "1=50C", "strictest")
        assert (found.verdict, found.spots_missing) == ("below", 1)
        assert verdict("pork_whole", "1=80C", "strictest").verdict == "incomplete"

    def test_strictest_asks_for_units_whichever_chart_keeps_the_number(self) -> None:
        """Charts ask for different numbers of places, so bare numbers may fall apart by chart."""
        taken = [Reading(None, 40, "F", -1), *(Reading(None, 138, "F") for _ in range(3))]
        taken.append(Reading("2", 138, "F"))
        setup = Setup(pieces=2)
        found = judge(("ground_red",), taken, chart="strictest", setup=setup)
        assert (found.verdict, found.flags) == ("below", ("unit_question",))
        assert any("40 °F: was that °C?" in line for line in found.advice)

    def test_no_row_says_so(self) -> None:
        found = verdict("casserole", "80C 80C", "canada")
        assert (found.verdict, found.reason, found.minimum) == ("no_figure", "no_row", None)
        assert "Canada, Health Canada" in found.sentence
        assert any("165 °F" in line and "choose that chart" in line for line in found.advice)

    def test_a_chart_that_sets_no_centre_temperature(self) -> None:
        found = verdict("beef_lamb_whole", "80C", "uk")
        assert (found.verdict, found.reason) == ("no_figure", "no_centre")
        assert any("sealed" in line for line in found.beside)
        assert found.lowest is not None
        assert found.lowest.text == "80 °C"

    def test_an_unknown_chart(self) -> None:
        with pytest.raises(KeyError):
            judge(("fish",), [], chart="moon")


class TestRow:
    def test_the_highest_minimum_wins(self) -> None:
        food = "pork_whole,stuffing"
        assert verdict(food, "stuffing=158F meat=150F").minimum == "165 °F"
        assert verdict(food, "stuffing=167F meat=150F").verdict == "below"
        assert verdict(food, "stuffing=167F meat=167F").verdict == "met"

    def test_order_of_keys_changes_nothing(self) -> None:
        one = verdict("pork_whole,stuffing", "stuffing=158F meat=150F")
        other = verdict("stuffing,pork_whole", "stuffing=158F meat=150F")
        assert one.as_json() == other.as_json()

    def test_a_bird_is_not_done_before_its_stuffing_is_read(self) -> None:
        found = verdict("poultry_whole,stuffing", "168F 167F 170F")
        assert (found.verdict, found.next_place) == ("incomplete", "centre of the stuffing")

    def test_no_food_no_verdict(self) -> None:
        found = verdict("", "170F")
        assert (found.verdict, found.reason) == ("no_figure", "no_food")
        assert found.sentence == "No food named, no verdict."

    def test_plants_are_never_met(self) -> None:
        found = verdict("plant", "99C")
        assert (found.verdict, found.reason) == ("no_figure", "plant")
        assert "no minimum published" in found.sentence.casefold()
        assert found.lowest is not None
        assert found.lowest.text == "99 °C"

    def test_plants_beside_meat_leave_the_meat_to_be_judged(self) -> None:
        assert verdict("plant,ground_red", "161F 162F").verdict == "met"

    def test_an_unknown_food_gets_no_verdict(self) -> None:
        found = verdict("pork_chop", "99C")
        assert (found.verdict, found.reason) == ("no_figure", "unknown")
        assert "pork_whole" in " ".join(found.advice)

    def test_an_unknown_food_beside_a_known_one_is_never_met(self) -> None:
        assert verdict("pork_whole,pebbles", "150F 150F").verdict == "no_figure"
        assert verdict("pork_whole,pebbles", "140F 150F").verdict == "below"

    def test_a_food_without_a_row_beside_one_with_is_never_met(self) -> None:
        found = verdict("pork_whole,casserole", "72C 72C", "canada")
        assert (found.verdict, found.reason) == ("no_figure", "no_row")
        assert any("71 °C" in line for line in found.beside)
        assert verdict("pork_whole,casserole", "70C 70C", "canada").verdict == "below"


class TestReading:
    def test_ice_water_is_taken_off(self) -> None:
        found = verdict("pork_whole", "146F 150F", setup=_ice("34F"))
        assert found.verdict == "below"
        assert found.lowest is not None
        assert (found.lowest.text, found.below_by) == ("144 °F", "1 °F")

    def test_ice_water_in_the_other_unit(self) -> None:
        """1 °C too much is 1.8 °F too much."""
        assert verdict("pork_whole", "146.7F 150F", setup=_ice("1C")).verdict == "below"
        assert verdict("pork_whole", "146.8F 150F", setup=_ice("1C")).verdict == "met"

    def test_a_correction_that_alone_makes_the_difference_is_said(self) -> None:
        words = "met only by your thermometer's correction"
        only = verdict("pork_whole", "144F 150F", setup=_ice("30F"))
        assert only.verdict == "met"
        assert words in " ".join(only.advice).casefold()
        enough = verdict("pork_whole", "146F 150F", setup=_ice("30F"))
        assert words not in " ".join(enough.advice).casefold()
        lowers = verdict("pork_whole", "148F 150F", setup=_ice("34F"))
        assert words not in " ".join(lowers.advice).casefold()

    @pytest.mark.parametrize("ice", ["34.1F", "29.9F", "1.1C", "-1.1C", "36F", "2C"])
    def test_beyond_the_accuracy_adjust_or_replace(self, ice: str) -> None:
        found = verdict("pork_whole", "160F 160F", setup=_ice(ice))
        assert found.verdict == "met"
        assert "adjust the thermometer or replace it" in " ".join(found.advice)

    @pytest.mark.parametrize("ice", ["34F", "30F", "1C", "-1C", "32F"])
    def test_within_the_accuracy_nothing_is_said(self, ice: str) -> None:
        found = verdict("pork_whole", "160F 160F", setup=_ice(ice))
        assert "adjust" not in " ".join(found.advice)

    @pytest.mark.parametrize("ice", ["36.1F", "27.9F", "2.1C", "-2.1C", "60F"])
    def test_far_beyond_it_no_verdict(self, ice: str) -> None:
        found = verdict("pork_whole", "160F 160F", setup=_ice(ice))
        assert found.verdict == "recheck"
        assert "no verdict" in found.sentence

    def test_the_unit_taken_meets_the_figure_printed_in_it(self) -> None:
        """62.9 °C is 145.2 °F; the chart prints 63 °C and 145 °F."""
        assert verdict("pork_whole", "62.9C 64C").verdict == "below"
        assert verdict("pork_whole", "145.0F 147F").verdict == "met"
        assert verdict("shellfish", "62.8C").verdict == "met"

    def test_the_reading_is_converted_only_where_the_chart_prints_no_such_unit(self) -> None:
        """75 °C is exactly 167 °F."""
        found = verdict("poultry_pieces", "166.9F", "australia")
        assert (found.verdict, found.minimum) == ("below", "75 °C")
        assert found.below_by == "0.1 °F"
        assert found.lowest is not None
        assert found.lowest.text == "166.9 °F (74.9 °C)"
        assert verdict("poultry_pieces", "167F", "australia").verdict == "met"
        assert verdict("beef_lamb_whole", "145.4F", "australia").verdict == "met"

    def test_nothing_is_rounded(self) -> None:
        found = verdict("pork_whole", "144.9999F 150F")
        assert found.verdict == "below"
        assert found.lowest is not None
        assert (found.lowest.text, found.below_by) == ("144.999 °F", "0.1 °F")

    def test_binary_fractions_do_not_decide(self) -> None:
        """64.1 − 1.1 is 63, though not in binary floating point."""
        assert 64.1 - 1.1 < 63
        assert verdict("pork_whole", "64.1C 70C", setup=_ice("1.1C")).verdict == "met"


class TestImpossible:
    @pytest.mark.parametrize("shown", ["-22.1F", "212.1F", "-30.1C", "100.1C"])
    def test_no_temperature_of_food(self, shown: str) -> None:
        found = verdict("pork_whole", f"{shown} 150F")
        assert found.verdict == "recheck"
        assert "no temperature of food" in found.sentence

    @pytest.mark.parametrize("shown", ["-22F", "-30C"])
    def test_the_bounds_themselves_are_possible(self, shown: str) -> None:
        assert verdict("pork_whole", f"{shown} 150F").verdict == "below"
        assert verdict("pork_whole", "212F 100C").verdict == "met"

    @pytest.mark.parametrize(
        ("shown", "asked"),
        [("145C", True), ("300C", False), ("-40F", False), ("-25F", True), ("250F", False)],
    )
    def test_units_are_asked_for_when_the_other_makes_sense(self, shown: str, asked: bool) -> None:
        found = verdict("poultry_pieces", shown)
        assert found.verdict == "recheck"
        assert ("unit_question" in found.flags) is asked
        assert any("was that" in line for line in found.advice) is asked

    @pytest.mark.parametrize(
        ("shown", "asked"), [("39.9F", False), ("40F", True), ("95F", True), ("95.1F", False)]
    )
    def test_a_number_plausible_in_celsius_stays_below_and_asks(
        self, shown: str, asked: bool
    ) -> None:
        found = verdict("poultry_pieces", shown)
        assert found.verdict == "below"
        assert ("unit_question" in found.flags) is asked

    def test_a_new_reading_mends_it(self) -> None:
        assert verdict("poultry_pieces", "1=145C 1=170F").verdict == "met"
        assert verdict("poultry_pieces", "1=170F 1=145C").verdict == "recheck"


class TestPlacesAndWords:
    def test_the_latest_reading_counts_and_the_lowest_governs(self) -> None:
        found = verdict("pork_whole", "a=150F b=140F a=141F")
        assert (found.verdict, found.below_by) == ("below", "5 °F")
        assert found.lowest is not None
        assert found.lowest.label == "b"
        assert found.sentence.startswith("Place b reads 140 °F, 5 °F under the minimum of 145 °F")

    def test_the_lowest_of_two_units_is_the_one_nearest_its_own_minimum(self) -> None:
        """145.1 °F is colder than 62.9 °C, but is over what the chart prints in its unit."""
        found = verdict("pork_whole", "a=145.1F b=62.9C")
        assert found.verdict == "below"
        assert found.lowest is not None
        assert found.lowest.label == "b"

    def test_below_says_when_to_look_again(self) -> None:
        found = verdict("pork_whole", "140F 150F")
        assert found.look_again_s == 120
        assert any(
            "again in 2 min" in line and "stays on the heat" in line for line in found.advice
        )
        off = verdict("pork_whole", "150F 140F@2min")
        assert any("Back to the heat" in line for line in off.advice)

    def test_a_place_probed_besides_is_judged(self) -> None:
        assert verdict("fish", "1=150F tail=140F").verdict == "below"

    def test_incomplete_names_what_is_missing(self) -> None:
        found = verdict("poultry_whole", "breast=170F")
        assert (found.verdict, found.spots_missing) == ("incomplete", 2)
        assert "innermost thigh and innermost wing" in found.sentence
        assert [p.label for p in found.places] == ["innermost thigh", "innermost wing", "breast"]
        assert [p.reading is None for p in found.places] == [True, True, False]

    def test_a_low_place_outranks_a_missing_one(self) -> None:
        found = verdict("poultry_whole", "breast=150F")
        assert (found.verdict, found.spots_missing) == ("below", 2)

    @pytest.mark.parametrize(
        ("text", "close"),
        [
            ("145F 160F", True),
            ("146.9F 160F", True),
            ("147F 160F", False),
            ("63.9C 70C", True),
            ("64C 70C", False),
        ],
    )
    def test_no_margin(self, text: str, close: bool) -> None:
        """Less than a usual thermometer's error above: 2 °F, 1 °C (FDA Food Code 4-203.11)."""
        found = verdict("pork_whole", text)
        assert found.verdict == "met"
        assert found.flags == (("no_margin",) if close else ())
        assert any("No margin" in line for line in found.advice) is close

    def test_the_margin_of_a_converted_reading(self) -> None:
        """168.7 °F is 75.94 °C, 168.8 °F is 76 °C and over."""
        assert verdict("poultry_pieces", "168.7F", "australia").flags == ("no_margin",)
        assert verdict("poultry_pieces", "168.8F", "australia").flags == ()

    def test_order_of_words(self) -> None:
        assert WORST_FIRST == ("recheck", "below", "incomplete", "hold", "met", "no_figure")
        assert rank("recheck") < rank("met")

    def test_every_word_has_its_shape(self) -> None:
        assert set(SIGNS) == set(WORST_FIRST)
        assert len(set(SIGNS.values())) == len(SIGNS)
        assert verdict("fish", "150F").sign == SIGNS["met"]

    @pytest.mark.parametrize(
        ("food", "text", "chart"),
        [
            ("pork_whole", "150F 150F", "us"),
            ("pork_whole", "145F 150F@2min", "us"),
            ("pork_whole", "140F", "strictest"),
            ("pork_whole", "145C", "us"),
            ("pork_whole", "", "us"),
            ("fish", "150F", "us"),
            ("general", "76C", "uk"),
            ("beef_lamb_whole", "60C", "uk"),
            ("plant", "99C", "us"),
            ("pebbles", "99C", "us"),
            ("", "99C", "us"),
        ],
    )
    def test_nothing_is_ever_called_safe(self, food: str, text: str, chart: str) -> None:
        found = verdict(food, text, chart)
        spoken = " ".join((found.sentence, *found.advice, *found.beside)).casefold()
        assert not re.search(r"\bsafe(ly)?\b", spoken)
        assert "\n" not in found.sentence
        assert spoken.count("chart") or found.verdict == "no_figure"

    def test_a_sign_is_shown_beside_and_changes_nothing(self) -> None:
        low = verdict("fish", "140F")
        assert low.verdict == "below"
        assert any("opaque" in line and "changes nothing" in line for line in low.advice)

    @pytest.mark.parametrize(
        ("text", "washed"),
        [
            ("", "Wash the probe before the first reading."),
            ("140F", "Wash the probe before it goes in again."),
            ("150F", ""),
        ],
    )
    def test_washing_the_probe(self, text: str, washed: str) -> None:
        lines = [line for line in verdict("fish", text).advice if line.startswith("Wash")]
        assert lines == ([washed] if washed else [])

    def test_places_are_spoken(self) -> None:
        assert spoken_place("2") == "place 2"
        assert verdict("fish", "140F").places[0].spoken == "place 1"
        assert verdict("poultry_whole").places[0].spoken == "innermost thigh"

    def test_a_verdict_is_frozen_and_pure(self) -> None:
        taken = readings("150F 150F")
        one, two = (judge(("pork_whole",), taken) for _ in range(2))
        assert one == two
        with pytest.raises(FrozenInstanceError):
            one.verdict = "met"  # type: ignore[misc]

    def test_json(self) -> None:
        found = json.loads(json.dumps(verdict("pork_whole", "145F 146F").as_json()))
        assert found == {
            "verdict": "met",
            "flags": ["no_margin"],
            "minimum": "145 °F",
            "chart": "us",
            "rest_s": 180,
            "hold_s": None,
            "spots_missing": 0,
            "lowest": {"spot": "1", "reading": "145 °F"},
        }

    def test_names_are_data(self) -> None:
        found = judge(("fish",), [Reading("[bold]tail[/]", 140, "F")])
        assert found.lowest is not None
        assert found.lowest.label == "[bold]tail[/]"


def test_meat_of_which_any_place_was_read_on_the_board_goes_back_to_the_heat() -> None:
    """FSIS: pork 145 °F; the other place is still what it was on the heat."""
    out = verdict("pork_whole", "a=140F b=141F a=147F@4min")
    assert out.verdict == "below"
    assert out.advice[0].startswith("Back to the heat; probe place b")
    back = verdict("pork_whole", "a=140F b=141F a=147F@4min", setup=Setup())
    assert back.advice[0].startswith("It stays on the heat"), "it is there again"
