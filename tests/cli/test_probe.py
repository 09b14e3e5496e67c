"""`passbell probe` from the shell's side: exit codes, figures, words."""

import argparse
import json
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from passbell.cli import probe
from passbell.safety.cautions import REACHED

CASES = tomllib.loads(
    (Path(__file__).parents[1] / "cases" / "safety_checks.toml").read_text(encoding="utf-8")
)["case"]


def _run(*words: str) -> int:
    parser = argparse.ArgumentParser(prog="passbell")
    probe.add_parser(parser.add_subparsers(required=True))
    args = parser.parse_args(["probe", *words])
    code = args.func(args)
    assert isinstance(code, int)
    return code


def _typed(case: dict[str, Any]) -> list[str]:
    words = [f"{p}={value}{unit}@{at}min" for p, value, unit, at in case["readings"]]
    if "offset" in case:
        words += ["--ice", f"{case['offset'] + 32}F"]
    return [case["key"], *words, "--chart", case["chart"], "--json"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['n']}-{case['key']}")
def test_every_case_from_the_shell(
    case: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    code = _run(*_typed(case))
    found = json.loads(capsys.readouterr().out)
    assert found["verdict"] == case["expect"]
    assert set(found["flags"]) == set(case.get("flags", []))
    assert found["rest_s"] == case.get("rest", 0) * 60
    assert found["hold_s"] == case.get("hold_s")
    assert code == (0 if case["expect"] == "met" else 1)


def test_the_figures_other_programs_rely_on(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run("pork_whole", "145F", "145F", "--json") == 0
    assert json.loads(capsys.readouterr().out) == {
        "verdict": "met",
        "flags": ["no_margin"],
        "minimum": "145 °F",
        "chart": "us",
        "rest_s": 180,
        "hold_s": None,
        "spots_missing": 0,
        "lowest": {"spot": "1", "reading": "145 °F"},
    }


def test_no_reading_is_incomplete(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run("pork_whole", "--json") == 1
    found = json.loads(capsys.readouterr().out)
    assert (found["verdict"], found["spots_missing"], found["lowest"]) == ("incomplete", 2, None)


def test_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run("pork_whole", "147F", "149F") == 0
    out = capsys.readouterr().out
    assert out.startswith("■ MET")
    assert "145 °F" in out
    assert "rest it 3 min" in out
    assert "whole cuts of pork (steaks, chops, roasts" in out
    assert REACHED in out
    assert "licensed professional" in out
    assert not re.search(r"\bsafe(ly)?\b", out.casefold())


def test_below_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run("pork_whole", "147F", "141F") == 1
    out = capsys.readouterr().out
    assert out.startswith("▼ BELOW")
    assert "Place 2 reads 141 °F, 4 °F under the minimum of 145 °F" in out
    assert REACHED not in out


def test_plants_exit_with_no(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run("plant", "200F") == 1
    assert "No minimum published" in capsys.readouterr().out


def test_options_stand_anywhere(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run("pork_whole", "--chart=uk", "72C", "--json", "75C") == 1
    found = json.loads(capsys.readouterr().out)
    assert (found["verdict"], found["chart"], found["hold_s"]) == ("hold", "uk", 120)


def test_a_reading_below_zero_is_no_option(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run("poultry_pieces", "-40F", "--ice", "-1C", "--json") == 1
    assert json.loads(capsys.readouterr().out)["verdict"] == "recheck"
    assert _run("poultry_pieces", "--json", "--", "-40F") == 1


def test_several_foods_each_judge(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run("ground_red,stuffing", "stuffing=162F", "meat=170F", "--json") == 1
    assert json.loads(capsys.readouterr().out)["minimum"] == "165 °F"


def test_pieces_and_spots(capsys: pytest.CaptureFixture[str]) -> None:
    assert _run("poultry_pieces", "170F", "--pieces", "3", "--json") == 1
    assert json.loads(capsys.readouterr().out)["spots_missing"] == 2
    assert _run("pork_whole", "150F", "150F", "--spots", "3", "--json") == 1
    assert json.loads(capsys.readouterr().out)["spots_missing"] == 1


def test_a_bare_number_is_in_the_charts_first_unit_and_says_so(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert _run("pork_whole", "147", "62,8 C") == 1
    assert "147 was read as 147 °F" in capsys.readouterr().err
    assert _run("fish", "70", "--chart", "canada") == 0
    assert "70 was read as 70 °C" in capsys.readouterr().err
    assert _run("fish", "63", "--chart", "strictest", "--unit", "C") == 1
    assert "was read" not in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["pork", "147F"], "perhaps pork_whole"),
        (["qqq", "147F"], "the foods are"),
        ([",", "147F"], "no food is named"),
        (["pork_whole", "warm"], "145F"),
        (["pork_whole", "nan"], "145F"),
        (["pork_whole", " "], "blank"),
        (["pork_whole", "147F@4"], "147F@4min"),
        (["pork_whole", "147F", "--ice", "cold"], "145F"),
        (["pork_whole", "147F", "--ice", "a=34F"], "--ice 34F"),
    ],
)
def test_what_is_not_understood(
    words: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _run(*words) == 2
    caught = capsys.readouterr()
    assert says in caught.err
    assert caught.out == ""


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["pork_whole", "147F", "--chart", "moon"],
        ["pork_whole", "147F", "--pieces", "0"],
        ["pork_whole", "147F", "--pieces", "two"],
        ["pork_whole", "147F", "--spots", "201"],
        ["pork_whole", "--ice"],
        ["pork_whole", "147F", "--ja"],
    ],
)
def test_options_not_understood(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as caught:
        _run(*words)
    assert caught.value.code == 2
    assert "probe" in capsys.readouterr().err


def test_what_is_missing_is_named_and_no_more(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        _run()
    assert "are required: FOOD. See: " in capsys.readouterr().err
    with pytest.raises(SystemExit):
        _run("pork_whole", "147F", "--nope")
    assert "probe: unrecognized arguments: --nope" in capsys.readouterr().err


def test_help_tells_how_readings_are_written(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as caught:
        _run("--help")
    assert caught.value.code == 0
    assert "place=147F@4min" in capsys.readouterr().out
