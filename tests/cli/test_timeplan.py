"""`timeplan` of a meal that takes days. The meal is invented."""

from pathlib import Path

import pytest

from passbell.cli.main import main

PLAN = """\
title = "Bird, invented"
serves = 4

[[appliance]]
name = "oven"

[[component]]
name = "bird"
steps = [
  { prep = "unwrap", time = "5 min" },
  { rest = "thaw in the fridge", time = "LENGTH" },
  { cook = "roast", on = "oven", time = "2 h" },
  { rest = "on a board", time = "20 min" },
  { finish = "carve", time = "5 min" },
]
"""


@pytest.fixture(autouse=True)
def here(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("TZ", "UTC")
    monkeypatch.chdir(tmp_path)


def planned(capsys: pytest.CaptureFixture[str], length: str, serve_in: str) -> list[str]:
    """The lines for a rest of such a length, asked at eight in the morning."""
    Path("bird.toml").write_text(PLAN.replace("LENGTH", length), encoding="utf-8")
    assert main(["timeplan", "bird.toml", "--now", "8:00", "--serve-in", serve_in]) == 0
    return capsys.readouterr().out.splitlines()


def test_another_day_than_that_of_now_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    lines = planned(capsys, "48 h", "54 h")
    day = lines[0].split()[-2]
    assert lines[0].endswith(f"on the table at {day} 14:00")
    assert "first act at 11:30;" in lines[1]
    assert [line for line in lines if line.startswith("  ") and "bird — " in line] == [
        "      11:30  PREPARE bird — unwrap (5 min)",
        "      11:35  REST bird — thaw in the fridge (48 h)",
        f"  {day} 11:35  ADD bird — roast",
        f"  {day} 13:35  TAKE OUT bird — rest: on a board",
        f"  {day} 13:55  FINISH bird — carve (5 min)",
    ]
    ends = [line.split() for line in lines if line.strip().startswith("11:30 ")]
    assert ends[-1] == ["11:30", day, "14:00"]


def test_a_long_rest_before_the_heat_has_a_line(capsys: pytest.CaptureFixture[str]) -> None:
    lines = planned(capsys, "48 h", "54 h")
    assert sum(" REST bird" in line for line in lines) == 1
    assert not any(" REST " in line for line in planned(capsys, "14 min", "4 h"))
    assert any(" REST bird" in line for line in planned(capsys, "15 min", "4 h"))


def test_a_meal_of_one_day_names_none(capsys: pytest.CaptureFixture[str]) -> None:
    lines = planned(capsys, "1 h", "6 h")
    assert lines[0].endswith("on the table at 14:00")
    assert all(line[2:7].replace(":", "").isdigit() for line in lines if "bird — " in line)
