"""`passbell forecast` as a script and a cook meet it. The plan is invented."""

import json
from pathlib import Path

import pytest

from passbell.cli.forecast import parse_reading
from passbell.cli.main import main
from passbell.units import UnitError

PLAN = """
title = "Supper"
serves = 2
[[appliance]]
name = "oven"
  [[appliance.stage]]
  name = "crisp"
  mode = "air fry"
  temp = "375 °F"
[[component]]
name = "chicken thighs"
food = "poultry_pieces"
size = "30 mm"
steps = [{ cook = "skin up", on = "oven", stage = "crisp", time = "24 min", until = "75 °C" }]
[[component]]
name = "chops"
food = "pork_whole"
size = "1 in"
steps = [{ cook = "left", on = "oven", time = "20 min", until = "145 °F" }]
[[component]]
name = "carrots"
food = "plant"
steps = [{ cook = "right", on = "oven", time = "20 min" }]
"""


@pytest.fixture
def plan(tmp_path: Path) -> str:
    file = tmp_path / "supper.toml"
    file.write_text(PLAN, encoding="utf-8")
    return str(file)


def test_json_has_what_other_programs_rely_on(
    plan: str, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["forecast", plan, "chicken thighs", "--reading", "14 min=48 C", "--json"]
    assert main(words) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["target"] == "75 °C"
    assert 0 < told["eta_low_s"] <= told["eta_s"] <= told["eta_high_s"]
    assert 0 < told["look_again_s"] <= told["eta_s"]
    assert told["rise_after"].endswith(" °C")
    assert 1 < float(told["rise_after"].split()[0]) < 15
    assert 60 < told["rise_peak_s"] < 900


def test_readings_in_either_unit_are_the_same(
    plan: str, capsys: pytest.CaptureFixture[str]
) -> None:
    answers = []
    for reading in ("12 min=104 F", "12 min=40 C", "720 s = 40°C"):
        assert main(["forecast", plan, "CHOPS", "--reading", reading, "--json"]) == 0
        answers.append(json.loads(capsys.readouterr().out))
    assert answers[0] == answers[1] == answers[2]
    assert answers[0]["target"] == "145 °F"
    assert answers[0]["rise_after"].endswith(" °F")


def test_without_readings_it_is_the_plans_time_and_uncertain(
    plan: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["forecast", plan, "chops"]) == 0
    out = capsys.readouterr().out
    assert "about 20 min after going in" in out
    assert "Too uncertain: probe." in out


def test_words_never_say_that_it_is_done(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    for reading in ("6 min=20 C", "18 min=70 C", "30 min=90 C"):
        assert main(["forecast", plan, "chops", "--reading", reading]) == 0
        out = capsys.readouterr().out.casefold()
        assert not any(
            word in out for word in (" done", " safe", "cooked", " ready", "take it out")
        )
        assert "only a reading" in out


def test_a_component_without_a_forecast_is_a_no(
    plan: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["forecast", plan, "carrots"]) == 1
    assert "only the countdown" in capsys.readouterr().out
    assert main(["forecast", plan, "carrots", "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["error"]["kind"] == "no_until"


def test_the_beginning_of_a_name_will_do(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["forecast", plan, "carr"]) == 1
    assert capsys.readouterr().out.startswith("carrots: ")


BAD = [
    (["turnips"], "no component"),
    (["chpos"], "perhaps chops"),
    (["chops", "--reading", "48 C"], "is no reading"),
    (["chops", "--reading", "6=48 C"], "has no unit"),
    (["chops", "--reading", "6 min=48"], "has no unit"),
    (["chops", "--reading", "6 min=hot"], "is no reading"),
]


@pytest.mark.parametrize(("words", "said"), BAD)
def test_what_cannot_be_understood_is_said_with_its_mend(
    plan: str, words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["forecast", plan, *words]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert said in told.err
    assert ";" in told.err


def test_odd_readings_are_named(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["--reading", "8 min=35 C", "--reading", "12 min=30 C"]
    assert main(["forecast", plan, "chops", *words]) == 0
    assert "another spot" in capsys.readouterr().out


def test_a_reading_may_name_its_piece() -> None:
    assert parse_reading("6 min=2 48 C").piece == "2"
    assert parse_reading("6 min=left one 118F").piece == "left one"
    assert parse_reading("6 min=48 C").piece == "1"
    assert parse_reading("6 min=118.4 °F").temp_c == pytest.approx(48)
    assert parse_reading("1 h 6 min=62,8 C").at_s == 3960
    assert parse_reading("6 min=-2 C").temp_c == -2
    with pytest.raises(UnitError):
        parse_reading("6 min=")


def test_the_slowest_piece_governs(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["--reading", "12 min=1 45 C", "--reading", "12 min=2 36 C", "--json"]
    assert main(["forecast", plan, "chops", *words]) == 0
    assert json.loads(capsys.readouterr().out)["piece"] == "2"


def test_another_mode_names_every_rule_and_changes_nothing(
    plan: str, capsys: pytest.CaptureFixture[str]
) -> None:
    before = Path(plan).read_text(encoding="utf-8")
    assert main(["forecast", plan, "chops", "--other", "bake 375 F"]) == 0
    out = capsys.readouterr().out
    for named in ("by model", "by textbook", "by makers", "by time_plans", "you choose"):
        assert named in out
    converted = [line for line in out.splitlines() if "from its figure in the other unit" in line]
    assert [line.split(":")[0].strip() for line in converted] == ["by time_plans"]
    assert main(["forecast", plan, "chops", "--other", "bake 375 F", "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)
    assert all(row["source"] for row in rows if row["by"] != "model")
    assert Path(plan).read_text(encoding="utf-8") == before
    assert main(["forecast", plan, "chops", "--other", "warm"]) == 2


def test_a_size_and_a_mode_of_today_stand_on_the_time_plan(
    plan: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["timeplan", plan, "--size", "chops=1.5 in"]) == 0
    assert "* chops 1.5 in instead of 1 in: 30 to 37 min" in capsys.readouterr().out
    assert main(["timeplan", plan, "--size", "chops=1.5 in", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["today"]
    assert main(["timeplan", plan, "--other", "chops=bake 375 F"]) == 2
    assert "by makers" in capsys.readouterr().err
    assert main(["timeplan", plan, "--other", "chops=bake 375 F by model"]) == 0
    assert "oven, crisp: bake 375 °F instead of air fry 375 °F" in capsys.readouterr().out


def test_the_charts_minimum_is_waited_for_where_it_is_more(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Poultry pieces, US: 165 °F; the plan's own 150 °F is never what is named."""
    file = tmp_path / "low.toml"
    file.write_text(PLAN.replace('"75 °C"', '"150 °F"'), encoding="utf-8")
    assert main(["forecast", str(file), "chicken thighs", "--reading", "14 min=118 F"]) == 0
    out = capsys.readouterr().out
    assert "165 °F expected" in out
    assert "150" not in out


def test_pieces_of_another_size_have_the_times_of_that_size(
    plan: str, capsys: pytest.CaptureFixture[str]
) -> None:
    answers = []
    for sizes in ([], ["--size", "1.5 in"], ["--size", "chops=38.1mm"]):
        assert main(["forecast", plan, "chops", "--json", *sizes]) == 0
        said = capsys.readouterr()
        answers.append(json.loads(said.out)["eta_s"])
        assert ("instead of 1 in" in said.err) == bool(sizes)
    assert answers[0] == pytest.approx(1200, abs=10)
    assert answers[1] == answers[2] == pytest.approx(1200 * 1.5**1.2, abs=40)
    assert main(["forecast", plan, "chops", "--size", "thick"]) == 2
    assert "thick" in capsys.readouterr().err
