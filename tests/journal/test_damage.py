"""A damaged journal gives back every row that is whole, and the damaged file is kept."""

import random
import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

import passbell.journal.salvage as salvage_module
from passbell.journal import Entry, Journal, JournalError
from passbell.journal.pages import stored_rows
from tests.journal.conftest import entry, meta

COUNT = 60
PAGE = 4096


def written(folder: Path) -> Path:
    """A journal with a finished cook, one whose entries spill over pages, and an empty one."""
    with Journal.open(folder) as journal:
        for size in (40, 5000):
            run = journal.new_run(meta(f"size {size}"))
            for seq in range(COUNT):
                journal.append(run, entry(seq, size=size))
        journal.finish(1, 500, "finished")
        journal.new_run(meta("empty"))
        return journal.path


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return written(tmp_path_factory.mktemp("whole"))


@pytest.fixture
def path(whole: Path, folder: Path) -> Path:
    folder.mkdir(parents=True)
    shutil.copy2(whole, folder)
    return folder / whole.name


def damage(path: Path, change: Callable[[bytearray], bytes | bytearray]) -> bytes:
    damaged = bytes(change(bytearray(path.read_bytes())))
    path.write_bytes(damaged)
    return damaged


def zeroed(start: int, end: int) -> Callable[[bytearray], bytearray]:
    def change(data: bytearray) -> bytearray:
        data[start:end] = bytes(end - start)
        return data

    return change


def expected(size: int) -> tuple[Entry, ...]:
    return tuple(entry(seq, size=size) for seq in range(COUNT))


@pytest.mark.parametrize("end", [16, 100, PAGE])
def test_a_lost_header_or_first_page_loses_no_row(path: Path, end: int) -> None:
    damaged = damage(path, zeroed(0, end))
    with Journal.open(path.parent) as journal:
        (notice,) = journal.notices
        assert notice.startswith("The journal was damaged: 3 cooks and 120 entries were whole")
        assert journal.entries(1) == expected(40)
        assert journal.entries(2) == expected(5000)
        assert [(row.state, row.ended_at) for row in journal.runs()] == [
            ("open", None),
            ("open", None),
            ("finished", 500),
        ]
        assert [row.meta for row in journal.runs()] == [
            meta("empty"),
            meta("size 5000"),
            meta("size 40"),
        ]
        journal.append(2, entry(COUNT))
    (aside,) = path.parent.glob("cooks-damaged-*.db")
    assert str(aside) in notice
    assert aside.read_bytes() == damaged
    assert aside.stat().st_mode & 0o777 == path.stat().st_mode & 0o777 == 0o600
    with Journal.open(path.parent) as again:
        assert again.notices == ()


def test_a_file_cut_short_keeps_what_is_left(path: Path) -> None:
    damage(path, lambda data: data[: len(data) * 2 // 3])
    with Journal.open(path.parent) as journal:
        assert journal.notices
        assert journal.entries(1) == expected(40)
        kept = journal.entries(2)
        assert 0 < len(kept) < COUNT
        assert set(kept) < set(expected(5000))


@pytest.mark.parametrize("content", [b"this is a letter\n" * 400, b"\0" * 9000, b"SQLite"])
def test_a_file_that_is_no_journal_is_set_aside(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    with Journal.open(path.parent) as journal:
        assert "0 cooks and 0 entries" in journal.notices[0]
        journal.append(journal.new_run(meta()), entry(0))
    (aside,) = path.parent.glob("cooks-damaged-*.db")
    assert aside.read_bytes() == content


def test_one_flipped_bit_in_a_text_is_noticed_and_costs_one_entry(path: Path) -> None:
    def change(data: bytearray) -> bytearray:
        place = data.index(b'{"seen":9}')
        data[place + 2] ^= 1
        return data

    damage(path, change)
    with Journal.open(path.parent) as journal:
        assert not journal.notices
        kept = journal.entries(1)
        assert kept == tuple(e for e in expected(40) if e.seq != 9)
        assert journal.missing(1) == (9,)
        assert journal.notices[1:] == ("Of cook 1, size 40, some of what was done is lost.",)
        assert journal.entries(2) == expected(5000)
        journal.append(1, entry(COUNT))


def test_a_lost_plan_leaves_the_entries_under_a_stand_in(path: Path) -> None:
    def change(data: bytearray) -> bytearray:
        place = data.index(b"size 5000")
        data[place] ^= 1
        return data

    damage(path, change)
    with Journal.open(path.parent) as journal:
        assert "The plan is lost of cook 2." in journal.notices
        assert journal.entries(2) == expected(5000)
        assert journal.run(2).meta.title == "a cook whose plan is lost"
        assert [row.id for row in journal.unfinished()] == [3]


def test_damage_found_while_cooking_is_mended_without_a_stop(path: Path) -> None:
    with Journal.open(path.parent) as journal:
        with path.open("r+b") as file:
            file.seek(PAGE)
            file.write(b"\xff" * (path.stat().st_size - PAGE))
        # SQLite may read the pages it still holds; the next program may not.
        other = Journal.open(path.parent)
        assert other.notices
        other.close()
        with pytest.raises(JournalError, match="replaced by another program"):
            journal.append(1, entry(COUNT))


def test_an_append_that_meets_damage_mends_and_is_kept(path: Path) -> None:
    with Journal.open(path.parent) as journal:
        connection = journal._file._connection
        (root,) = connection.execute(
            "SELECT rootpage FROM sqlite_schema WHERE name = 'entry'"
        ).fetchone()
        connection.execute("PRAGMA cache_size = 0")
        with path.open("r+b") as file:
            file.seek((root - 1) * PAGE)
            file.write(bytes(PAGE))
        bump_change_counter(path)
        journal.append(1, entry(COUNT))
        assert journal.notices
        assert journal.entries(1) == (*expected(40), entry(COUNT))
        assert len(journal.entries(2)) == COUNT


def bump_change_counter(path: Path) -> None:
    """Tell an open connection that its pages are stale (file format, section 1.3.7)."""
    data = bytearray(path.read_bytes())
    counter = int.from_bytes(data[24:28], "big") + 1
    data[24:28] = counter.to_bytes(4, "big")
    with path.open("r+b") as file:
        file.seek(24)
        file.write(data[24:28])


@pytest.mark.parametrize("seed", range(40))
def test_random_damage_never_stops_a_cook_nor_invents_a_row(path: Path, seed: int) -> None:
    chance = random.Random(seed)
    size = path.stat().st_size
    spots = [chance.randrange(size if seed % 2 else 200) for _ in range(chance.choice([1, 3, 40]))]

    def change(data: bytearray) -> bytearray:
        for spot in spots:
            data[spot] = chance.randrange(256)
        return data

    damage(path, change)
    pages = {spot // PAGE for spot in spots}
    with Journal.open(path.parent) as journal:
        first, second = journal.entries(1), journal.entries(2)
        assert set(first) <= set(expected(40))
        assert set(second) <= set(expected(5000))
        # A leaf holds fewer than twenty short entries, and a long one lies on two pages.
        assert len(first) + len(second) >= 2 * COUNT - 20 * len(pages)
        journal.append(journal.new_run(meta("next")), entry(0))
    with Journal.open(path.parent) as again:
        assert again.notices == ()


@pytest.mark.parametrize("step", ["_write", "_set_aside", "_notices"])
def test_a_crash_while_mending_loses_nothing(
    path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    damage(path, zeroed(0, 100))

    def crash(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(salvage_module, step, crash)
    with pytest.raises(KeyboardInterrupt):
        Journal.open(path.parent)
    monkeypatch.undo()
    with Journal.open(path.parent) as journal:
        assert journal.entries(1) == expected(40)
        assert journal.entries(2) == expected(5000)


def test_a_disk_too_full_to_mend_leaves_the_damaged_file_alone(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    damaged = damage(path, zeroed(0, 100))

    def full(_: Path) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(salvage_module, "make_file", full)
    with pytest.raises(JournalError, match="the disk is full"):
        Journal.open(path.parent)
    assert path.read_bytes() == damaged


def test_an_old_rollback_file_is_not_played_into_the_new_journal(path: Path) -> None:
    damage(path, zeroed(0, PAGE))
    path.with_name("cooks.db-journal").write_bytes(b"left over")
    salvage_module.salvage(path)
    (aside,) = path.parent.glob("cooks-damaged-*.db-journal")
    assert aside.read_bytes() == b"left over"
    assert not path.with_name("cooks.db-journal").exists()


def test_rows_off_the_pages_are_the_rows_that_sqlite_reads(tmp_path: Path) -> None:
    # The sqlite3 library itself is the reference. Sizes around the limits of its file format,
    # section 1.6: what lies on the page, and one or several further pages.
    sizes = [0, 1, 59, 127, 128, 4050, 4056, 4057, 4058, 4059, 4060, 4061, 4062, 4100, 8150, 8160]
    sizes += [8170, 12280, 70000]
    path = tmp_path / "rows.db"
    connection = sqlite3.connect(path)
    connection.execute("PRAGMA page_size = 4096")
    connection.execute("CREATE TABLE t (a INTEGER, b REAL, c TEXT, d BLOB)")
    numbers = [0, 1, -1, 127, -128, 32767, 2**23, -(2**31), 2**40, -(2**55), 2**63 - 1]
    for index, size in enumerate(sizes):
        row = (numbers[index % len(numbers)], index / 3, "é" * size, b"\1" if index % 2 else None)
        connection.execute("INSERT INTO t VALUES (?, ?, ?, ?)", row)
    connection.execute("INSERT INTO t (rowid, a, c) VALUES (9000000000000000000, 5, 'far')")
    connection.commit()
    connection.execute("DELETE FROM t WHERE rowid = 3")
    connection.commit()
    rows = connection.execute("SELECT rowid, a, b, c, NULL FROM t").fetchall()
    connection.close()
    found = {(row.rowid, *row.cells) for row in stored_rows(path.read_bytes()[: 4096 * 400])}
    schema_rows = {row for row in found if len(row) != 5 or row[1] == "table"}
    assert found - schema_rows == set(rows)
