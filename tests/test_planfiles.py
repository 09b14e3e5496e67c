"""Plan files: found by name or path, listed, and refused with the reason and the mend."""

import os
from pathlib import Path

import platformdirs
import pytest

from passbell import planfiles
from passbell.cook.check import examine
from passbell.plan.problem import PlanError
from passbell.planfiles import (
    PlanFileError,
    bundled_folder,
    find_plan,
    list_plans,
    load,
    own_folder,
)

PLAN = """\
# An invented plan.
title  = "Toast"
serves = 1

[[component]]
name  = "toast"
steps = [{ finish = "butter it", time = "1 min" }]
"""


@pytest.fixture(autouse=True)
def home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A home of its own, so that no plan of the machine is seen."""
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    return tmp_path / "home"


@pytest.fixture
def own(home: Path) -> Path:
    """The folder of the cook's own plans, made."""
    (home / "plans").mkdir(parents=True)
    return home / "plans"


def written(path: Path, text: str | bytes = PLAN) -> Path:
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def refused(name: str) -> PlanFileError:
    with pytest.raises(PlanFileError) as caught:
        find_plan(name)
    assert caught.value.what
    assert caught.value.mend
    assert str(caught.value) == f"{caught.value.what}; {caught.value.mend}"
    return caught.value


BUNDLED = sorted(bundled_folder().glob("*.toml"))


def test_plans_ship() -> None:
    assert len(BUNDLED) >= 3


@pytest.mark.parametrize("path", BUNDLED, ids=lambda path: path.stem)
def test_a_plan_that_ships_is_found_by_its_name_and_has_no_problem(path: Path) -> None:
    loaded = find_plan(path.stem)
    assert Path(loaded.file) == path.resolve()
    assert loaded.text == path.read_text("utf-8")
    assert [f for f in examine(loaded.plan) if f.severity != "note"] == []


@pytest.mark.parametrize("path", BUNDLED, ids=lambda path: path.stem)
def test_a_plan_that_ships_says_that_it_is_invented(path: Path) -> None:
    assert "invented" in path.read_text("utf-8").splitlines()[0]


def test_a_path_is_read_with_its_text(tmp_path: Path) -> None:
    path = written(tmp_path / "toast.toml")
    for name in (str(path), "toast.toml", "./toast.toml"):
        loaded = find_plan(name)
        assert loaded.plan.title == "Toast"
        assert loaded.text == PLAN
        assert loaded.file == str(path.resolve())


def test_a_file_needs_no_ending() -> None:
    written(Path("supper"))
    assert find_plan("supper").plan.title == "Toast"


def test_the_cooks_own_plan_comes_before_one_that_ships(own: Path) -> None:
    name = BUNDLED[0].stem
    assert find_plan(name).plan.title != "Toast"
    written(own / f"{name}.toml")
    assert find_plan(name).plan.title == "Toast"


def test_an_unknown_name_is_told_the_nearest_or_all(own: Path) -> None:
    written(own / "toast.toml")
    assert refused("tost").mend == "did you mean toast?"
    assert all(name in refused("zzz").mend for name in ("toast", BUNDLED[0].stem))
    assert refused("\x1b[2J[red]x").what == "there is no plan “[2J[red]x”"
    assert len(str(refused("x" * 5000))) < 1000


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("none.toml", "no such file"),
        ("folder/none", "no such file"),
        ("../none.toml", "no such file"),
        ("folder.toml", "directory"),
        ("nul\x00.toml", "no file has such a name"),
        (f"{'x' * 300}.toml", "too long"),
    ],
)
def test_a_file_that_cannot_be_opened_says_why(name: str, reason: str) -> None:
    Path("folder.toml").mkdir()
    fault = refused(name)
    assert reason in fault.what
    assert "\x00" not in str(fault)


def test_a_ring_of_links_is_refused() -> None:
    Path("one.toml").symlink_to("two.toml")
    Path("two.toml").symlink_to("one.toml")
    assert "cannot be opened" in refused("one.toml").what


def test_a_file_that_may_not_be_read_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    written(Path("mine.toml"))

    def forbidden(path: Path, most: int) -> bytes:
        raise PermissionError(13, os.strerror(13))

    monkeypatch.setattr(planfiles, "read_small", forbidden)
    assert refused("mine.toml").what == "mine.toml cannot be opened: permission denied"


@pytest.mark.parametrize(
    ("data", "line", "what"),
    [
        (b'title = "x"\nnotes = "\xff"\n', 2, "UTF-8"),
        (PLAN.encode("latin-1") + b"# caf\xe9\n", 8, "UTF-8"),
        ("title = 1".encode("utf-16"), 1, "UTF-16"),
        (b"", 1, "no plan"),
        (b"#" * 1_000_001, 1, "larger"),
        (b"title = [", 1, ""),
    ],
)
def test_a_broken_file_names_itself_and_the_line(data: bytes, line: int, what: str) -> None:
    path = written(Path("broken.toml"), data)
    with pytest.raises(PlanError) as caught:
        load(path)
    first = caught.value.problems[0]
    assert (first.file, first.line) == ("broken.toml", line)
    assert what in first.what
    assert first.mend


def test_a_file_with_the_mark_of_other_editors_is_read() -> None:
    written(Path("marked.toml"), b"\xef\xbb\xbf" + PLAN.replace("\n", "\r\n").encode())
    assert find_plan("marked.toml").plan.title == "Toast"


def test_a_huge_file_is_not_read_to_its_end() -> None:
    with Path("huge.toml").open("wb") as handle:
        handle.truncate(50_000_000_000)
    with pytest.raises(PlanError, match="larger"):
        load(Path("huge.toml"))


def test_the_list_has_the_cooks_own_first_and_says_what_is_wrong(own: Path) -> None:
    written(own / "b.toml")
    written(own / "a.toml", "title = 3")
    written(own / "._a.toml", b"\x00\x05")
    written(own / "notes.txt", "not a plan")
    (own / "folder.toml").mkdir()
    listed = list_plans()
    names = [(entry.path.stem, entry.bundled) for entry in listed]
    ships = [(path.stem, True) for path in BUNDLED]
    assert names == [("a", False), ("b", False), ("folder", False), *ships]
    broken, fine, folder = listed[:3]
    assert broken.loaded is None
    assert any("3 is not text" in problem for problem in broken.problems)
    assert fine.loaded is not None
    assert fine.problems == ()
    assert "directory" in folder.problems[0]
    assert all(entry.loaded is not None for entry in listed[3:])


def test_without_a_folder_of_ones_own_the_list_has_what_ships() -> None:
    assert not own_folder().exists()
    assert [entry.path for entry in list_plans()] == BUNDLED


def test_a_folder_that_may_not_be_looked_at_is_an_empty_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def forbidden(self: Path, pattern: str) -> None:
        raise PermissionError(13, os.strerror(13))

    monkeypatch.setattr(Path, "glob", forbidden)
    assert list_plans() == ()


def test_own_plans_lie_among_the_documents(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv("PASSBELL_HOME")
    monkeypatch.setattr(platformdirs, "user_documents_path", lambda: tmp_path)
    assert own_folder() == tmp_path / "passbell"


def test_in_a_package_the_plans_lie_in_the_package(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    package = tmp_path / "site" / "passbell"
    (package / "data" / "plans").mkdir(parents=True)
    monkeypatch.setattr(planfiles, "_PACKAGE", package)
    assert bundled_folder() == package / "data" / "plans"
