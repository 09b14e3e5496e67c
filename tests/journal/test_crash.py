"""What was acknowledged is there after kill -9, a full disk, and in a folder that is read-only."""

import os
import re
import signal
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

import passbell.journal.schema as schema_module
from passbell.journal import Journal, JournalError
from tests.journal.conftest import entry, meta

ROOT = Path(__file__).parents[2]
WRITER = """
import sys
from pathlib import Path
from passbell.journal import Journal, JournalError
from tests.journal.conftest import entry, meta
journal = Journal.open(Path(sys.argv[1]))
run = journal.new_run(meta())
print("run", run, flush=True)
seq = 0
while True:
    journal.append(run, entry(seq, size=seq * 37 % 5000))
    print(seq, flush=True)
    seq += 1
"""


def child(code: str, *arguments: object) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", code, *map(str, arguments)],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


@pytest.mark.parametrize("lines", [1, 2, 23, 80])
def test_every_acknowledged_entry_survives_kill_9(folder: Path, lines: int) -> None:
    with child(WRITER, folder) as writer:
        assert writer.stdout is not None
        run = int(writer.stdout.readline().split()[1])
        told = [writer.stdout.readline() for _ in range(lines)]
        os.kill(writer.pid, signal.SIGKILL)
        told += writer.stdout.readlines()
    assert writer.returncode == -signal.SIGKILL
    acknowledged = sum(line.endswith("\n") for line in told)
    with Journal.open(folder) as journal:
        kept = journal.entries(run)
        assert journal.notices == ()
        assert acknowledged <= len(kept) <= acknowledged + 1
        assert kept == tuple(entry(seq, size=seq * 37 % 5000) for seq in range(len(kept)))
        assert [row.id for row in journal.unfinished("supper.toml")] == [run]
        journal.append(run, entry(len(kept)))


@dataclass
class SmallDisk:
    """A disk of 400 kB: a real one where a mount is allowed, else SQLite's own limit."""

    folder: Path
    real: bool

    def limit(self, journal: Journal, kilobytes: int) -> None:
        if self.real:
            subprocess.run(
                ["mount", "-o", f"remount,size={kilobytes}k", str(self.folder)], check=True
            )
        else:
            journal._file._connection.execute(f"PRAGMA max_page_count = {kilobytes // 4}")


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[SmallDisk]:
    place = tmp_path / "disk"
    place.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=400k", "none", str(place)]
    try:
        real = subprocess.run(mount, capture_output=True, check=False).returncode == 0
    except FileNotFoundError:
        real = False
    yield SmallDisk(place, real)
    if real:
        subprocess.run(["umount", str(place)], check=True)


def fill(journal: Journal, run: int) -> tuple[int, JournalError]:
    for seq in range(2000):
        try:
            journal.append(run, entry(seq, size=3000))
        except JournalError as error:
            return seq, error
    pytest.fail("the disk took everything")


def test_a_full_disk_is_said_and_keeps_what_was_acknowledged(small_disk: SmallDisk) -> None:
    with Journal.open(small_disk.folder) as journal:
        small_disk.limit(journal, 400)
        run = journal.new_run(meta())
        count, error = fill(journal, run)
        assert count > 20
        assert "the disk is full" in error.what
        assert "make room" in error.mend
        assert len(journal.entries(run)) == count
        small_disk.limit(journal, 4000)
        journal.append(run, entry(count))
    with Journal.open(small_disk.folder) as again:
        assert again.notices == ()
        kept = again.entries(run)
        assert kept == (*(entry(seq, size=3000) for seq in range(count)), entry(count))


def test_sqlites_own_limit_is_a_full_disk_too(journal: Journal) -> None:
    journal._file._connection.execute("PRAGMA max_page_count = 40")
    run = journal.new_run(meta())
    count, error = fill(journal, run)
    assert "the disk is full" in error.what
    assert len(journal.entries(run)) == count > 10


FILE_LIMIT = """
import resource, sys
from pathlib import Path
from passbell.journal import Journal, JournalError
from tests.journal.conftest import entry, meta
journal = Journal.open(Path(sys.argv[1]))
run = journal.new_run(meta())
resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, resource.RLIM_INFINITY))
for seq in range(2000):
    try:
        journal.append(run, entry(seq, size=3000))
    except JournalError as error:
        print(seq, error)
        break
"""


def test_a_write_the_system_refuses_is_said_and_half_writes_nothing(folder: Path) -> None:
    # setrlimit(2): a write beyond RLIMIT_FSIZE fails with EFBIG.
    with child(FILE_LIMIT, folder) as writer:
        out, err = writer.communicate(timeout=60)
    assert (writer.returncode, err) == (0, "")
    count = int(out.split()[0])
    assert re.search(r"the disk gave an error; look at the disk", out)
    with Journal.open(folder) as journal:
        assert journal.notices == ()
        assert len(journal.entries(1)) == count > 10


def test_a_file_in_the_place_of_the_folder_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("not a folder")
    for folder in (tmp_path / "file", tmp_path / "file" / "below"):
        with pytest.raises(JournalError, match="cannot be written") as caught:
            Journal.open(folder)
        assert "PASSBELL_HOME" in caught.value.mend


READ_ONLY = """
import os, sys
from pathlib import Path
from passbell.journal import Journal, JournalError
import encodings.idna
if os.geteuid() == 0:
    os.setgid(65534)
    os.setuid(65534)
try:
    Journal.open(Path(sys.argv[1]))
except JournalError as error:
    print(error)
"""


@pytest.mark.parametrize("there", [False, True])
def test_a_read_only_folder_is_said(there: bool) -> None:
    # The superuser may write everywhere, so the child becomes nobody first.
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        if there:
            Journal.open(folder).close()
        folder.chmod(0o555)
        with child(READ_ONLY, folder) as reader:
            out, err = reader.communicate(timeout=60)
        folder.chmod(0o755)
    assert err == ""
    assert re.match(rf"The journal {folder}/cooks.db: it cannot be written \(.*\); make it", out)


def test_another_program_that_does_not_let_go_is_said(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(schema_module, "PATIENCE", 0.05)
    with Journal.open(folder) as journal:
        run = journal.new_run(meta())
        other = sqlite3.connect(journal.path, isolation_level=None)
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(JournalError, match="another program is busy with it") as caught:
            journal.append(run, entry(0))
        with pytest.raises(JournalError, match="another program is busy with it"):
            Journal.open(folder)
        assert "wait a moment" in caught.value.mend
        other.execute("COMMIT")
        other.close()
        journal.append(run, entry(0))


def test_a_journal_removed_under_a_running_cook_is_written_again(journal: Journal) -> None:
    run = journal.new_run(meta())
    for seq in range(5):
        journal.append(run, entry(seq))
    for file in journal.folder.iterdir():
        file.unlink()
    journal.folder.rmdir()
    journal.append(run, entry(5))
    assert "had been removed; it was written again" in journal.notices[0]
    with Journal.open(journal.folder) as other:
        assert len(other.entries(run)) == 6
        assert other.path.stat().st_mode & 0o777 == 0o600


def test_a_journal_replaced_under_a_running_cook_is_not_overwritten(journal: Journal) -> None:
    run = journal.new_run(meta())
    journal.path.unlink()
    with Journal.open(journal.folder) as other:
        theirs = other.new_run(meta("theirs"))
        with pytest.raises(JournalError, match="replaced by another program"):
            journal.append(run, entry(0))
        assert other.run(theirs).meta.title == "theirs"


def test_nobody_else_may_read_any_file(folder: Path) -> None:
    before = os.umask(0)
    try:
        with Journal.open(folder) as journal, journal.claim(journal.new_run(meta())):
            assert folder.stat().st_mode & 0o777 == 0o700
            assert folder.parent.stat().st_mode & 0o777 == 0o700
            files = {file.name: file.stat().st_mode & 0o777 for file in folder.iterdir()}
    finally:
        os.umask(before)
    assert files == {"cooks.db": 0o600, "cooks.db-journal": 0o600, "run-1.lock": 0o600}


def test_a_journal_that_others_could_read_is_closed_to_them(folder: Path) -> None:
    Journal.open(folder).close()
    path = folder / "cooks.db"
    path.chmod(0o644)
    Journal.open(folder).close()
    assert path.stat().st_mode & 0o777 == 0o600
