"""The program in a real terminal: a pseudo terminal of the system, its screen kept by pyte."""

import fcntl
import os
import pty
import random
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from passbell.tui.guard import CHORD, QUIET
from tests.tui.pseudo_terminal import LONG, Terminal, environment


def test_it_draws_and_is_left_in_good_order(terminal: Callable[..., Terminal]) -> None:
    it = terminal()
    it.shows("ADD green beans")
    it.shows("F1 help")
    it.send(b"\x11")
    it.shows("Leave all the same?")
    time.sleep(CHORD + QUIET)  # closer together, the guard takes both keys for a cloth
    it.send(b"1")
    assert it.exit_code() == 0
    assert it.restored()
    assert "closed" in it.record.read_text(encoding="utf-8")


def test_ctrl_q_never_ends_it_without_asking(terminal: Callable[..., Terminal]) -> None:
    it = terminal()
    it.shows("ADD green beans")
    for _ in range(3):
        it.send(b"\x11")
        it.send(b"\x03")
    it.shows("Leave all the same?")
    it.goes_on()
    assert it.program.poll() is None


BAD_BYTES = {
    "ff": b"\xff",
    "latin-1": b"\xe9d",
    "no such key": b"\x1b[1114112u",
    "huge key": b"\x1b[99999999999u",
    "key then mouse": b"\x1b[1114112u\x1b[<0;5;5M",
    # Without what ends it or puts it aside: Ctrl+Q, Ctrl+C, Ctrl+Z.
    "noise": random.Random(7).randbytes(4096).translate(None, b"\x11\x03\x1a"),
}


def test_bad_bytes_cost_nothing_but_themselves(terminal: Callable[..., Terminal]) -> None:
    it = terminal()
    it.shows("ADD green beans")
    for what, data in BAD_BYTES.items():
        for start in range(0, len(data), 512):
            it.send(data[start : start + 512])
            it.read()
        it.goes_on()
        assert it.program.poll() is None, what
        it.until(it.asked_to_leave)
        it.send(b"\x1b")
        # A key that came on its heels would be one key with it.
        it.until(lambda: "Leave all the same?" not in it.text)
    assert it.program.poll() is None


@pytest.mark.parametrize(("number", "code"), [(signal.SIGTERM, 143), (signal.SIGHUP, 129),
                                              (signal.SIGINT, 130)])  # fmt: skip
def test_a_signal_saves_restores_and_says_which(
    terminal: Callable[..., Terminal], number: signal.Signals, code: int
) -> None:
    it = terminal()
    it.shows("ADD green beans")
    it.program.send_signal(number)
    assert it.exit_code() == code
    assert it.restored()
    assert "closed" in it.record.read_text(encoding="utf-8")


@pytest.mark.parametrize("ignored", ["", "yes"], ids=["hang-up taken", "hang-up ignored"])
def test_a_closed_window_ends_it_saved(terminal: Callable[..., Terminal], ignored: str) -> None:
    it = terminal(IGNORE_HUP=ignored)
    it.shows("ADD green beans")
    os.close(it.slave)
    os.close(it.master)
    assert it.program.wait(LONG) == 129
    assert "closed" in it.record.read_text(encoding="utf-8")


def paint_unread(it: Terminal) -> None:
    """Have everything painted, again and again, while nobody reads: the queue is soon full."""
    for n in range(400):
        size = struct.pack("HHHH", 24 + n % 2, 80, 0, 0)
        fcntl.ioctl(it.slave, termios.TIOCSWINSZ, size)
        it.program.send_signal(signal.SIGWINCH)
        time.sleep(0.003)


def test_a_terminal_nobody_reads_stops_nothing_not_even_the_end(
    terminal: Callable[..., Terminal],
) -> None:
    it = terminal()
    it.shows("ADD green beans")
    paint_unread(it)
    before = it.ticks()
    it.until(lambda: it.ticks() > before + 10, read=False)
    fcntl.ioctl(it.slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    it.program.send_signal(signal.SIGWINCH)
    it.until(lambda: f"{it.ticks():08}"[:6] in it.text and "F1 help" in it.text)
    it.shows("ADD green beans")
    it.shows("PROBE chicken thighs")
    paint_unread(it)
    it.program.send_signal(signal.SIGTERM)
    assert it.program.wait(LONG) == 143
    assert "closed" in it.record.read_text(encoding="utf-8")


def test_a_bare_stop_and_go_leaves_the_terminal_restored(
    terminal: Callable[..., Terminal],
) -> None:
    it = terminal()
    it.shows("ADD green beans")
    for _ in range(3):
        it.program.send_signal(signal.SIGSTOP)
        it.until(it.stopped)
        it.program.send_signal(signal.SIGCONT)
        it.goes_on(3)
    threads = len(list(Path(f"/proc/{it.program.pid}/task").iterdir()))
    assert threads <= 3
    it.program.send_signal(signal.SIGTERM)
    assert it.exit_code() == 143
    assert it.restored()


def test_it_is_put_aside_and_brought_back(terminal: Callable[..., Terminal]) -> None:
    """Ctrl+Z and `fg`: the shell finds its terminal as it was, the cook its screen."""
    it = terminal()
    it.shows("ADD green beans")
    it.send(b"\x1a")
    it.until(it.stopped)
    it.until(it.restored)  # what it wrote before it stopped is still on its way
    before = it.ticks()
    it.screen.reset()
    it.program.send_signal(signal.SIGCONT)
    it.until(lambda: it.ticks() > before + 3)
    it.shows("ADD green beans")
    it.until(it.asked_to_leave)
    it.program.send_signal(signal.SIGTERM)
    assert it.exit_code() == 143
    assert it.restored()


def test_a_signal_in_the_midst_of_a_frame_puts_it_aside(terminal: Callable[..., Terminal]) -> None:
    """The lock of the frames is held just then; who waited for it would hang for ever."""
    it = terminal(TEST_FAULT="put aside")
    it.until(it.stopped)
    it.until(it.restored)
    it.screen.reset()
    it.program.send_signal(signal.SIGCONT)
    it.shows("ADD green beans")
    it.goes_on()
    it.program.send_signal(signal.SIGTERM)
    assert it.exit_code() == 143
    assert it.restored()


def test_many_sizes_break_nothing(terminal: Callable[..., Terminal]) -> None:
    it = terminal()
    it.shows("ADD green beans")
    sizes = random.Random(3)
    for _ in range(40):
        rows, columns = sizes.randint(1, 70), sizes.randint(1, 250)
        fcntl.ioctl(it.slave, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        it.program.send_signal(signal.SIGWINCH)
        it.read(0.02)
    fcntl.ioctl(it.slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    it.program.send_signal(signal.SIGWINCH)
    it.screen.reset()
    it.shows("F1 help")
    it.shows("ADD green beans")


def test_a_large_paste_and_many_mouse_moves_are_borne(terminal: Callable[..., Terminal]) -> None:
    it = terminal()
    it.shows("ADD green beans")
    it.send(b"i")
    it.shows("Enter judges")
    pasted = b"\x1b[200~" + b"152 \n" * 8_000 + b"\x1b[201~"
    moves = b"".join(b"\x1b[<35;%d;%dM" % (n % 70 + 1, n % 20 + 1) for n in range(800))
    data = pasted + moves
    while data:
        _, ready, _ = select.select([], [it.master], [], 0.05)
        if ready:
            data = data[os.write(it.master, data[:1024]) :]
        it.read(0.0)
    it.shows("152 152 152")
    it.goes_on()


def test_a_fault_of_the_desk_does_not_end_it(terminal: Callable[..., Terminal]) -> None:
    it = terminal(TEST_FAULT="tick")
    it.until(lambda: it.ticks() > 10)
    assert it.program.poll() is None


def test_a_fault_of_the_program_ends_it_with_a_sentence(terminal: Callable[..., Terminal]) -> None:
    it = terminal(TEST_FAULT="program")
    assert it.exit_code() == 1
    assert it.restored()
    assert b"passbell had to stop" in it.raw
    assert b"Traceback" not in it.raw


@pytest.mark.parametrize(
    ("env", "allowed"),
    [
        ({"COLORTERM": "truecolor"}, b"38;2;"),
        ({}, b"38;5;"),
        ({"TERM": "xterm"}, b";93;"),
    ],
)
def test_each_terminal_gets_the_colours_it_has(
    terminal: Callable[..., Terminal], env: dict[str, str], allowed: bytes
) -> None:
    it = terminal(**env)
    it.shows("F1 help")
    it.until(lambda: b"\x1b[" in it.raw)
    if env.get("TERM") == "xterm":
        assert b"38;2;" not in it.raw
        assert b"38;5;" not in it.raw
    else:
        assert allowed in it.raw


def test_no_color_sends_no_colour(terminal: Callable[..., Terminal]) -> None:
    it = terminal(NO_COLOR="1", COLORTERM="truecolor")
    it.shows("F1 help")
    for code in (b"38;2;", b"48;2;", b"38;5;", b"48;5;", b"[3", b"[4", b"[9"):
        assert not [m for m in it.raw.split(b"\x1b")[1:] if m.startswith(code) and b"m" in m[:12]
                    and not m.startswith((b"[39", b"[49", b"[4m"))], code  # fmt: skip


@pytest.mark.parametrize(
    ("streams", "env", "says"),
    [
        ({"stdin": subprocess.DEVNULL}, {}, "keys do not come from a terminal"),
        ({"stderr": subprocess.PIPE}, {}, "Standard error is not a terminal"),
        ({}, {"TERM": "dumb"}, "TERM=dumb"),
        ({}, {"PYTHONIOENCODING": "ascii"}, "not UTF-8"),
    ],
)
def test_where_there_is_no_screen_it_says_so_and_does_not_start(
    tmp_path: Path, streams: dict[str, int], env: dict[str, str], says: str
) -> None:
    master, slave = pty.openpty()
    try:
        program = subprocess.Popen(
            [sys.executable, "-m", "tests.tui.terminal_child", str(tmp_path / "record")],
            **({"stdin": slave, "stdout": slave, "stderr": slave} | streams),  # type: ignore[call-overload]
            env=environment() | env,
        )
        assert program.wait(LONG) == 2
        said = program.communicate()[1] or b""
        if not said:
            os.set_blocking(master, False)
            said = os.read(master, 65536)
        assert says in said.decode()
        assert b"\x1b[?1049h" not in said
    finally:
        os.close(master)
        os.close(slave)
