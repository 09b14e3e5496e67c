"""Nothing leaves the machine, nobody else may read it, and a plan is data that does nothing."""

import os
import shutil
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest

from passbell.journal import Journal
from tests.faults.fuzz import NASTY, clean
from tests.faults.watcher import watched
from tests.terminal import PATIENCE, Terminal

LOCAL = {int(socket.AF_UNIX)}
"""A pair of these wakes the event loop; it has no address."""

PLAN = """\
title  = "Invented NASTY supper"
serves = 2
notes  = "NASTY"

[[appliance]]
name = "NASTY oven"
preheat = "2 min"
  [[appliance.stage]]
  name = "NASTY"
  mode = "NASTY bake"
  temp = "200 °C"

[[component]]
name  = "NASTY beans"
ingredients = ["NASTY 300 g"]
doneness = "NASTY"
place = "NASTY"
steps = [
  { prep = "NASTY trim", time = "1 min" },
  { cook = "NASTY", on = "NASTY oven", time = "3 min", during = [{ at = "1 min", do = "NASTY" }] },
  { finish = "NASTY", time = "1 min" },
]
"""


def network(lines: list[str]) -> list[str]:
    """Every line that speaks of a network."""
    harmless = {f"socket.__new__ {family}" for family in LOCAL}
    kinds = ("socket.", "urllib.", "http.", "ftplib.", "smtplib.", "webbrowser")
    return [line for line in lines if line.startswith(kinds) and line not in harmless]


def test_a_whole_cook_touches_no_network_and_only_its_own_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    environment, told = watched(tmp_path / "watcher")
    home = tmp_path / "home"
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    before = os.umask(0)
    try:
        with Terminal(("cook", "tray-supper", "--asap", "--speed", "60"), home) as terminal:
            terminal.wait_for("SWITCH ON")
            until = time.monotonic() + PATIENCE
            while "SWITCH ON" in terminal.text and time.monotonic() < until:
                terminal.type("\r")
                terminal.read(0.8)
            terminal.type("i")
            terminal.read(0.2)
            terminal.type("\x11")
            terminal.read(0.3)
    finally:
        os.umask(before)
    lines = told.read_text(encoding="utf-8").splitlines()
    assert any("passbell.sound.child" in line for line in lines), "the sound process is watched"
    assert any(line.startswith("write") and "cooks.db" in line for line in lines)
    assert network(lines) == []
    modes = {path.name: path.stat().st_mode & 0o777 for path in (home, *home.rglob("*"))}
    assert {"cooks.db", "home"} <= modes.keys()
    wrong = {name: oct(mode) for name, mode in modes.items() if mode not in (0o600, 0o700)}
    assert wrong == {}


def test_the_watcher_sees_a_socket(tmp_path: Path) -> None:
    environment, told = watched(tmp_path / "watcher")
    code = "import socket; socket.socket().close(); socket.getaddrinfo('localhost', 80)"
    subprocess.run([sys.executable, "-c", code], env=os.environ | environment, check=True)
    assert len(network(told.read_text().splitlines())) == 2


ALL = """
import sys
from passbell.cli.main import main
codes = [main([word, sys.argv[1], *more]) for word, *more in (
    ("check",), ("timeplan", "--asap"), ("cook", "--asap", "--headless", "--keep"))]
sys.exit(max(codes))
"""


def test_a_hostile_plan_reads_writes_and_starts_no_more_than_a_harmless_one(
    tmp_path: Path,
) -> None:
    environment, told = watched(tmp_path / "watcher")
    home, path, seen = tmp_path / "home", tmp_path / "plan.toml", []
    environment |= {"PASSBELL_HOME": str(home)}
    nasty = " ".join(text for text in NASTY if clean(text) and not set('"\\') & set(text))
    for text in ("harmless", f"{nasty[:300]} \\u001b[2J\\u0007 \\u202e"):
        shutil.rmtree(home, ignore_errors=True)
        told.unlink(missing_ok=True)
        path.write_text(PLAN.replace("NASTY", text), encoding="utf-8")
        done = subprocess.run(
            [sys.executable, "-c", ALL, str(path)], env=os.environ | environment,
            capture_output=True, text=True, check=False, timeout=60,
        )  # fmt: skip
        assert done.returncode in (0, 1), done.stderr
        assert clean(done.stdout + done.stderr)
        seen.append(set(told.read_text(encoding="utf-8").splitlines()))
    assert seen[1] == seen[0]
    assert any("plan.toml" in line for line in seen[1])
    with Journal.open(home) as journal:
        assert "[2J" in journal.runs()[0].meta.title
