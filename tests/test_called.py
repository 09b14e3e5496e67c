"""What a run calls its plan."""

import json
from pathlib import Path

import pytest

from passbell.cli.main import main
from passbell.planfiles import bundled_folder, called, find_plan


def test_a_plan_that_ships_is_called_by_its_short_name_and_found_by_it() -> None:
    loaded = find_plan("tray-supper")
    assert called(loaded.file) == "tray-supper"
    assert find_plan(called(loaded.file)).file == loaded.file


def test_a_plan_of_the_cook_is_called_by_its_path_also_with_a_name_that_ships(
    tmp_path: Path,
) -> None:
    own = tmp_path / "tray-supper.toml"
    own.write_bytes((bundled_folder() / "tray-supper.toml").read_bytes())
    assert called(find_plan(str(own)).file) == str(own.resolve())


def test_the_list_of_runs_names_a_bundled_plan_by_its_short_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path))
    main(["cook", "tray-supper", "--headless", "--keep"])
    capsys.readouterr()
    assert main(["runs", "list", "--json"]) == 0
    assert [run["plan"] for run in json.loads(capsys.readouterr().out)] == ["tray-supper"]
