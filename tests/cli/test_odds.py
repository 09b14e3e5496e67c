"""`timeplan --odds`: what it prints, as lines and as JSON."""

import json
from pathlib import Path

import pytest

from passbell.cli.main import main

PLAN = """\
title  = "Invented: one thing to peel"
serves = 1

[[component]]
name  = "roots"
steps = [
  { prep = "peel", time = "20 min" },
  { finish = "onto the plate", time = "1 min" },
]
"""
ASKED = ["timeplan", "roots.toml", "--now", "18:00", "--serve", "18:30", "--odds", "--runs", "8"]


@pytest.fixture(autouse=True)
def here(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "roots.toml").write_text(PLAN, "utf-8")


def test_the_same_seed_says_the_same_and_says_whose_figures_they_are(
    capsys: pytest.CaptureFixture[str],
) -> None:
    told = []
    for _ in range(2):
        assert main([*ASKED, "--seed", "4", "--json"]) == 0
        told.append(json.loads(capsys.readouterr().out)["odds"])
    assert told[0] == told[1]
    assert told[0]["wanted"] == 1800
    assert (told[0]["runs"], told[0]["seed"], told[0]["within"]) == (8, 4, 300)
    assert 0 <= told[0]["chance"] <= 1
    assert "ours" in told[0]["note"]
    assert main(ASKED) == 0
    lines = capsys.readouterr().out
    assert "by 8 made-up cooks" in lines
    assert "to serve by 18:35" in lines
    assert "these figures are ours" in lines


def test_without_the_option_nothing_is_drawn(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["timeplan", "roots.toml", "--json"]) == 0
    assert "odds" not in json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("runs", ["0", "many", "-3"])
def test_a_number_of_runs_that_is_none_is_refused(runs: str) -> None:
    assert main(["timeplan", "roots.toml", "--odds", "--runs", runs]) == 2
