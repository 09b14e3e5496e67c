"""`cook`, `timeplan` and `runs` as a cook or a script calls them."""

import io
import json
import re
from pathlib import Path
from typing import Any

import pytest

from passbell.cli.main import main

PLAN = "tray-supper"


SOUP = """
title = "Soup, invented"
serves = 1
chart = "{chart}"
[[appliance]]
name = "burner"
[[component]]
name = "soup"
food = "reheated"
steps = [{{ cook = "warm", on = "burner", time = "10 min", until = "75 °C" }}]
"""


@pytest.fixture(autouse=True)
def own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("TZ", "UTC")


def printed(capsys: pytest.CaptureFixture[str], *argv: str) -> tuple[int, str, str]:
    code = main(argv)
    out, err = capsys.readouterr()
    return code, out, err


def objects(text: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in text.splitlines()]


def test_timeplan_json_holds_the_four_figures_and_every_step(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out, _ = printed(capsys, "timeplan", PLAN, "--json", "--now", "17:00", "--asap")
    assert code == 0
    found = json.loads(out)
    assert set(found) >= {
        "title", "dish_up", "start", "over_hold", "wait", "proven", "bound", "late",
        "steps", "stages", "cues", "at_start",
    }  # fmt: skip
    assert found["over_hold"] == 0
    assert found["late"] == 0
    assert found["at_start"].endswith("17:00:00+00:00")
    step = found["steps"][1]
    assert (step["component"], step["on"], step["stage"]) == ("potatoes", "oven", "roast")
    assert step["end"] - step["start"] == 38 * 60
    assert [s["name"] for s in found["stages"]] == ["roast", "crisp"]
    add = next(c for c in found["cues"] if c["kind"] == "add" and c["component"] == "carrots")
    assert add["display"] == "10:00"


def test_a_serving_time_that_cannot_be_met_is_said_with_its_reason(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out, _ = printed(capsys, "timeplan", PLAN, "--now", "17:00", "--serve", "17:30")
    assert code == 1
    assert "min late: " in out
    code, out, _ = printed(capsys, "timeplan", PLAN, "--now", "17:00", "--serve", "17:30", "--json")
    assert json.loads(out)["late"] > 0


def test_a_plan_that_contradicts_itself(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "two.toml"
    file.write_text(
        'title = "Two heats"\nserves = 1\n[[appliance]]\nname = "oven"\n'
        '[[appliance.stage]]\nname = "hot"\ntemp = "220 °C"\n'
        '[[component]]\nname = "cake"\nsteps = [\n'
        '{ cook = "bake", on = "oven", time = "20 min", temp = "180 °C" } ]\n',
        encoding="utf-8",
    )
    code, out, _ = printed(capsys, "timeplan", str(file), "--json")
    assert code == 1
    error = json.loads(out)["error"]
    assert error["kind"] == "contradiction"
    assert error["steps"][0]["component"] == "cake"
    assert error["mend"]
    code, _, err = printed(capsys, "cook", str(file), "--headless")
    assert code == 1
    assert "180 °C" in err


def test_headless_is_one_object_a_line_and_ends_with_the_end(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out, _ = printed(capsys, "cook", PLAN, "--headless", "--json", "--now", "17:00", "--asap")
    assert code == 0
    found = objects(out)
    assert found[-1]["type"] == "end"
    assert all({"at", "type", "kind", "component", "text", "data"} <= set(o) for o in found[:-1])
    planned = json.loads(printed(capsys, "timeplan", PLAN, "--json", "--asap")[1])
    assert found[-1]["dish_up"] == planned["dish_up"]
    assert printed(capsys, "runs", "list")[1] == "no cook is recorded yet\n"


def test_a_run_told_by_a_script_is_listed_and_shown_and_no_rehearsal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    script = tmp_path / "script"
    script.write_text("2700 chicken 1 171F\n2710 2 172F\n2720 note crisp\n", encoding="utf-8")
    code, _, _ = printed(
        capsys, "cook", PLAN, "--headless", "--json", "--keep", "--script", str(script), "--asap"
    )
    assert code == 0
    code, out, _ = printed(capsys, "runs", "list", "--json")
    (row,) = json.loads(out)
    assert (row["state"], row["rehearsal"]) == ("finished", False)
    assert row["ended_s"] > 2720
    assert "  finished after " in printed(capsys, "runs", "list")[1]
    code, out, _ = printed(capsys, "runs", "show", "1")
    assert code == 0
    assert "171 °F" in out
    assert re.search(r"oven: on \S+ \(planned \S+\), hot \S+ \(planned \S+\)", out)
    assert "met: " in out
    assert "note: crisp" in out
    found = json.loads(printed(capsys, "runs", "show", "1", "--json")[1])
    assert found["account"]["served"] is not None
    assert printed(capsys, "runs", "show", "9")[0] == 2


@pytest.mark.parametrize(
    ("argv", "says"),
    [
        (["cook", "no-such-plan"], "there is no plan"),
        (["cook", "./missing.toml"], "cannot be opened"),
        (["cook", PLAN, "--speed", "fast"], "is no speed"),
        (["timeplan", PLAN, "--serve", "25:00"], "not a time of day"),
        (["cook", PLAN, "--headless", "--script", "/nonexistent"], "nonexistent"),
        (["runs", "show", "x"], "no whole number"),
        (["cook", PLAN], "terminal"),
    ],
)
def test_what_is_not_understood_is_one_line_and_code_2(
    argv: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code, _, err = printed(capsys, *argv)
    assert code == 2
    assert says in err
    assert "Traceback" not in err
    assert len(err.splitlines()) == 1


@pytest.mark.parametrize(
    ("chart", "said", "unit"), [("us", [], "F"), ("uk", [], "C"), ("uk", ["--unit", "F"], "F")]
)
def test_a_number_alone_is_in_the_unit_said_else_in_the_charts_first(
    chart: str, said: list[str], unit: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    script, plan = tmp_path / "script", tmp_path / "soup.toml"
    script.write_text("60 70\n", encoding="utf-8")
    plan.write_text(SOUP.format(chart=chart), encoding="utf-8")
    _, out, _ = printed(
        capsys, "cook", str(plan), "--headless", "--json", "--script", str(script), *said
    )
    read = [line["data"]["scale"] for line in objects(out) if line.get("kind") == "was_read"]
    assert read == [unit]


def test_without_a_screen_a_take_back_says_what_is_taken_back(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    words = "note crisp\nmark\ntake back\ntake back\nredo\nquit\n"
    monkeypatch.setattr("sys.stdin", io.StringIO(words))
    code, out, _ = printed(capsys, "cook", PLAN, "--plain", "--asap")
    assert code == 0
    said = [line for line in out.splitlines() if "crisp" in line or "mark 1" in line]
    assert said == ["note: crisp", "mark 1", "taken back: mark 1", "taken back: note: crisp",
                    "done again: note: crisp"]  # fmt: skip


def test_a_bad_script_names_its_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    script = tmp_path / "script"
    script.write_text("10 dance\n", encoding="utf-8")
    code, _, err = printed(capsys, "cook", PLAN, "--headless", "--script", str(script))
    assert code == 2
    assert "line 1" in err


@pytest.mark.parametrize(
    ("food", "says"),
    [
        ("porkk", "no chart knows the food “porkk”; did you mean pork_whole?"),
        (None, "“pork” sounds like food with a minimum temperature, and no food is named"),
        ("shellfish", "has no row for shellfish: no verdict on it"),
        ("fish", ""),
    ],
)
def test_meat_without_a_verdict_is_told_of_when_the_cook_begins(
    food: str | None, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The Australian chart (FSIC) prints a figure for fish and none for shellfish."""
    text = SOUP.format(chart="australia").replace('name = "soup"', 'name = "pork"')
    line = "" if food is None else f'food = "{food}"'
    plan = tmp_path / "pork.toml"
    plan.write_text(text.replace('food = "reheated"', line), encoding="utf-8")
    code, _, err = printed(capsys, "cook", str(plan), "--headless")
    assert code == 0
    assert says in err
    assert bool(err) == bool(says)


def test_the_first_plain_cook_begins_with_the_cautions(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for first in (True, False):
        monkeypatch.setattr("sys.stdin", io.StringIO(""))
        _, out, _ = printed(capsys, "cook", PLAN, "--plain", "--asap", "--new")
        assert ("Feeding the public?" in out) == first
