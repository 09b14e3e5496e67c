"""`passbell check`: its exit codes, its lines and its JSON."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from passbell.cli.main import main
from passbell.plan.read import MOST_PROBLEMS
from passbell.planfiles import bundled_folder

RUN = [sys.executable, "-c", "from passbell.cli.main import run; run()", "check"]
GOOD = """\
title  = "Squash"
serves = 1

[[appliance]]
name = "oven"

[[component]]
name  = "squash"
food  = "plant"
steps = [
  { cook = "roast", on = "oven", time = "30 min" },
  { finish = "onto the plate", time = "1 min" },
]
"""
NOTE = GOOD.replace('  { finish = "onto the plate", time = "1 min" },\n', "")
WARNING = GOOD.replace('name = "oven"', 'name = "oven"\n\n[[appliance]]\nname = "grill"')
ERROR = GOOD.replace('food  = "plant"', 'food  = "poultry_peices"')
BROKEN = GOOD.replace('"30 min"', "30").replace("serves", "severs")


@pytest.fixture(autouse=True)
def here(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A folder with one plan of every kind, and no plans of the machine's owner."""
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    kinds = {"good": GOOD, "note": NOTE, "warning": WARNING, "error": ERROR, "broken": BROKEN}
    for name, text in kinds.items():
        (tmp_path / f"{name}.toml").write_text(text, "utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("names", "code"),
    [
        (["good"], 0),
        (["note"], 0),
        (["warning"], 1),
        (["error"], 1),
        (["broken"], 2),
        (["missing"], 2),
        (["good", "error"], 1),
        (["error", "broken", "good"], 2),
    ],
)
@pytest.mark.parametrize("option", [[], ["--json"]])
def test_the_exit_code_is_that_of_the_worst_plan(
    names: list[str], code: int, option: list[str]
) -> None:
    assert main(["check", *option, *(f"{name}.toml" for name in names)]) == code


def test_every_plan_that_ships_is_fine(capsys: pytest.CaptureFixture[str]) -> None:
    names = sorted(path.stem for path in bundled_folder().glob("*.toml"))
    assert main(["check", *names]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert all(any(name in line for line in out.splitlines()) for name in names)


def test_a_finding_has_a_sign_a_word_its_component_and_the_mend(
    capsys: pytest.CaptureFixture[str],
) -> None:
    main(["check", "error.toml", "warning.toml", "note.toml", "good.toml"])
    out, err = capsys.readouterr()
    assert err == ""
    assert [line.strip() for line in out.splitlines() if line.startswith("  ")] == [
        "✗ error: squash: no chart knows the food “poultry_peices”; did you mean poultry_pieces?",
        "! warning: nothing is cooked on “grill”; leave it out, or name it in a step's `on`",
        "· note: squash: no finish brings it to the plate; "
        'add { finish = "onto the warm plates", time = "1 min" }',
    ]
    assert out.splitlines()[-1].endswith("good.toml: Squash: nothing found")


def test_every_fault_of_a_file_is_a_line_with_its_place(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "broken.toml"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    lines = err.splitlines()
    assert [line.split(" ")[1] for line in lines] == ["broken.toml:2:", "broken.toml:11:"]
    assert "did you mean “serves”?" in lines[0]
    assert "30 has no unit" in lines[1]
    assert '"35 min"' in lines[1]


def _letter(here: Path, lines: int) -> None:
    """A file of prose of so many lines, with a title."""
    prose = "\n".join(f"line {number} of a letter" for number in range(1, lines + 1))
    (here / "letter.toml").write_text(f'title = "letter"\n{prose}', encoding="utf-8")


@pytest.mark.parametrize("command", ["check", "timeplan"])
def test_all_faults_of_a_file_are_said_however_many(
    command: str, capsys: pytest.CaptureFixture[str], here: Path
) -> None:
    _letter(here, 40)
    assert main([command, "letter.toml"]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert main(["check", "--json", "letter.toml"]) == 2
    assert lines == [f"passbell: {problem}" for problem in _report(capsys)[0]["problems"]]
    for number in range(2, 42):
        assert any(f"letter.toml:{number}:" in line for line in lines), number


def test_of_a_hostile_file_some_hundred_faults_are_said(
    capsys: pytest.CaptureFixture[str], here: Path
) -> None:
    _letter(here, 3000)
    assert main(["check", "letter.toml"]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == MOST_PROBLEMS + 1
    assert "there is more wrong, " in lines[-1]


def _report(capsys: pytest.CaptureFixture[str]) -> list[dict[str, Any]]:
    out, err = capsys.readouterr()
    assert err == ""
    found = json.loads(out)
    assert isinstance(found, list)
    return found


def test_the_json_has_an_entry_for_every_plan(
    capsys: pytest.CaptureFixture[str], here: Path
) -> None:
    assert main(["check", "--json", "error.toml", "broken.toml", "none.toml", "good.toml"]) == 2
    error, broken, none, good = _report(capsys)
    assert error == {
        "plan": str((here / "error.toml").resolve()),
        "readable": True,
        "problems": [],
        "findings": [
            {
                "severity": "error",
                "component": "squash",
                "text": "no chart knows the food “poultry_peices”",
                "mend": "did you mean poultry_pieces?",
            }
        ],
    }
    assert (broken["plan"], broken["readable"], broken["findings"]) == ("broken.toml", False, [])
    assert [problem.split(" ")[0] for problem in broken["problems"]] == [
        "broken.toml:2:",
        "broken.toml:11:",
    ]
    assert "cannot be opened" in none["problems"][0]
    assert (good["readable"], good["findings"]) == (True, [])


def test_a_serving_time_counts_only_where_an_option_says_when(
    capsys: pytest.CaptureFixture[str], here: Path
) -> None:
    text = GOOD.replace("serves = 1", 'serves = 1\nserve_at = "18:45"')
    (here / "timed.toml").write_text(text, "utf-8")
    assert main(["check", "timed.toml"]) == 0
    assert main(["check", "timed.toml", "--now", "18:00"]) == 0
    capsys.readouterr()
    assert main(["check", "timed.toml", "--now", "18:30"]) == 1
    assert "later than wanted" in capsys.readouterr().out
    assert main(["check", "timed.toml", "--serve-in", "31 min"]) == 0
    assert main(["check", "timed.toml", "--serve-in", "30 min"]) == 1


def test_text_of_a_plan_is_harmless(capsys: pytest.CaptureFixture[str], here: Path) -> None:
    text = WARNING.replace('"Squash"', '"\\u001b[2J[red]x[/] \\u202e"')
    (here / "nasty.toml").write_text(text, "utf-8")
    main(["check", "nasty.toml"])
    out, _ = capsys.readouterr()
    assert "[2J[red]x[/]" in out
    assert not {"\x1b", "\u202e"} & set(out)


def test_as_a_process(here: Path) -> None:
    done = subprocess.run(
        [*RUN, "--json", "error.toml", "good.toml"],
        cwd=here, capture_output=True, text=True, timeout=60, check=False, encoding="utf-8",
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (1, "")
    assert [entry["readable"] for entry in json.loads(done.stdout)] == [True, True]
    done = subprocess.run(
        [*RUN, "broken.toml"],
        cwd=here, capture_output=True, text=True, timeout=60, check=False, encoding="utf-8",
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (2, "")
    assert len(done.stderr.splitlines()) == 2
