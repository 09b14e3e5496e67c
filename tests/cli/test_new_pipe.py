"""`passbell new` and a pipe that nobody writes to."""

import os
from pathlib import Path

import pytest

from passbell.cli.main import main


@pytest.mark.parametrize("option", ["--from", "--answers"])
def test_a_pipe_is_refused_and_not_waited_for(
    option: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pipe = tmp_path / "recipe.json"
    os.mkfifo(pipe)
    assert main(["new", option, str(pipe), "--to", str(tmp_path / "new.toml")]) == 2
    assert "it is no ordinary file" in capsys.readouterr().err
    assert not (tmp_path / "new.toml").exists()
