"""Two programs on one cook notice each other, and a dead one holds nothing."""

import os
import re
import signal
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path

import pytest

from passbell.journal import Claim, Journal, JournalError
from tests.journal.conftest import meta

HOLDER = """
import sys, time
from pathlib import Path
from passbell.journal import Journal
journal = Journal.open(Path(sys.argv[1]))
claim = journal.claim(int(sys.argv[2]))
print("held", flush=True)
time.sleep(60)
"""


def test_the_second_program_is_told_which_has_it_and_since_when(journal: Journal) -> None:
    run = journal.new_run(meta())
    with journal.claim(run):
        with pytest.raises(JournalError, match="Another passbell") as caught:
            journal.claim(run)
        lock = journal.folder / f"run-{run}.lock"
        since = datetime.fromtimestamp(lock.stat().st_mtime, UTC).astimezone()
        assert caught.value.what == (
            f"Another passbell (process {os.getpid()}, since {since:%H:%M}) has this cook open"
        )
        assert "close it" in caught.value.mend
    with journal.claim(run):
        pass
    assert not lock.exists()


def test_another_run_is_free(journal: Journal) -> None:
    with journal.claim(1), journal.claim(2):
        pass


def test_a_release_twice_gives_nothing_else_away(journal: Journal) -> None:
    claim = journal.claim(1)
    claim.release()
    with journal.claim(1):
        claim.release()
        with pytest.raises(JournalError):
            journal.claim(1)


def test_a_lock_file_without_a_lock_is_nobodys(journal: Journal) -> None:
    (journal.folder / "run-1.lock").write_text("123456\n")
    with journal.claim(1):
        assert (journal.folder / "run-1.lock").read_text() == f"{os.getpid()}\n"


def test_a_holder_killed_with_kill_9_holds_nothing(journal: Journal) -> None:
    run = journal.new_run(meta())
    arguments = [sys.executable, "-c", HOLDER, str(journal.folder), str(run)]
    with subprocess.Popen(arguments, stdout=subprocess.PIPE, text=True) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "held\n"
        with pytest.raises(JournalError) as caught:
            journal.claim(run)
        assert re.search(rf"process {holder.pid}, since \d\d:\d\d", str(caught.value))
        os.kill(holder.pid, signal.SIGKILL)
        holder.wait()
    with journal.claim(run):
        pass


def test_a_child_does_not_keep_the_lock_of_its_parent(journal: Journal) -> None:
    claim = journal.claim(1)
    with subprocess.Popen(["sleep", "30"], close_fds=False) as child:
        claim.release()
        try:
            with journal.claim(1):
                pass
        finally:
            child.kill()


def test_a_lock_in_a_folder_that_is_gone_is_an_error_with_its_mend(tmp_path: Path) -> None:
    with pytest.raises(JournalError, match="cannot be written"):
        Claim.take(tmp_path / "gone" / "run-1.lock", "this cook")


def test_the_lock_is_never_held_twice(tmp_path: Path) -> None:
    counter = tmp_path / "counter"
    counter.write_text("0")

    def count_up(_: int) -> int:
        for tries in range(100_000):
            try:
                claim = Claim.take(tmp_path / "lock", "the counter")
            except JournalError:
                continue
            with claim:
                counter.write_text(str(int(counter.read_text()) + 1))
            return tries
        raise AssertionError("never had a turn")

    with ThreadPoolExecutor(4) as pool:
        assert len(list(pool.map(count_up, range(200)))) == 200
    assert counter.read_text() == "200"
