"""The cook's editor: named in the environment, started without a shell, its faults told."""

import sys
from pathlib import Path

import pytest

from passbell.editor import EditorError, edit, editor


@pytest.mark.parametrize(
    ("named", "says"),
    [
        ("", "no editor is named"),
        ("   ", "no editor is named"),
        ('vi "x', "close the quotes"),
        ("/nowhere/editor", "cannot be started"),
        ("./\0x", "cannot be started"),
        (f"{sys.executable} -c 'raise SystemExit(3)'", r"ended with a fault \(3\)"),
    ],
)
def test_an_editor_that_is_none_is_told(
    named: str, says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("VISUAL", raising=False)
    monkeypatch.setattr("os.environ", {"EDITOR": named})
    with pytest.raises(EditorError, match=says):
        edit(tmp_path / "beans.toml")


def test_a_file_with_a_shells_words_in_its_name_is_one_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "beans; touch here $(id) 'x.toml"
    write = "import sys; open(sys.argv[1], 'w').write(repr(sys.argv[1:]))"
    monkeypatch.setenv("VISUAL", f'{sys.executable} -c "{write}"')
    assert len(editor()) == 3
    edit(file)
    assert file.read_text("utf-8") == repr([str(file)])
    assert list(tmp_path.iterdir()) == [file]
