"""Writing plan files: whole or not at all, the old one kept."""

import os
from pathlib import Path

import pytest

from passbell.pen import PenError, rewrite, write_new, write_over


def test_the_old_file_is_kept_under_a_number_of_its_own(tmp_path: Path) -> None:
    file = tmp_path / "beans.toml"
    file.write_bytes(b"one\r\n")
    file.chmod(0o640)
    assert rewrite(file, "one\r\n", "two") == tmp_path / "beans.toml.~1~"
    assert rewrite(file, "two", "three é") == tmp_path / "beans.toml.~2~"
    assert file.read_text(encoding="utf-8") == "three é"
    assert (tmp_path / "beans.toml.~1~").read_bytes() == b"one\r\n"
    assert (tmp_path / "beans.toml.~2~").read_text() == "two"
    assert file.stat().st_mode & 0o777 == 0o640
    assert len(list(tmp_path.iterdir())) == 3


def test_a_file_changed_meanwhile_is_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "beans.toml"
    file.write_text("somebody else's")
    with pytest.raises(PenError, match="changed meanwhile"):
        rewrite(file, "mine", "new")
    assert [p.read_text() for p in tmp_path.iterdir()] == ["somebody else's"]


def test_a_link_is_followed_to_what_it_leads_to(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    file, link = tmp_path / "real" / "beans.toml", tmp_path / "beans.toml"
    file.write_text("one")
    link.symlink_to(file)
    rewrite(link, "one", "two")
    assert link.is_symlink()
    assert file.read_text() == "two"


def test_a_power_cut_at_the_last_moment_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "beans.toml"
    file.write_text("one")

    def cut(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", cut)
    with pytest.raises(PenError, match="no space left"):
        rewrite(file, "one", "two")
    assert file.read_text() == "one"
    assert not [p for p in tmp_path.iterdir() if p.name.startswith(".")]


def test_a_disk_without_second_names_keeps_the_old_file_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    file = tmp_path / "beans.toml"
    file.write_text("one")
    assert rewrite(file, "one", "two").read_text() == "one"


def test_a_new_file_never_goes_over_another(tmp_path: Path) -> None:
    file = tmp_path / "new" / "beans.toml"
    write_new(file, "one")
    with pytest.raises(PenError, match="already"):
        write_new(file, "two")
    assert file.read_text() == "one"
    write_over(file, "three")
    assert file.read_text() == "three"


def test_what_cannot_be_written_is_said(tmp_path: Path) -> None:
    (tmp_path / "plain").write_text("")
    for write in (write_new, write_over):
        with pytest.raises(PenError, match="cannot be written"):
            write(tmp_path / "plain" / "beans.toml", "x")
    with pytest.raises(PenError, match="no such file"):
        rewrite(tmp_path / "gone.toml", "a", "b")
