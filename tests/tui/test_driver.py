import importlib
import io

import pytest
from textual import constants, events
from textual._xterm_parser import XTermParser

from passbell.tui.driver import (
    PRIVATE_NAMES,
    RawOut,
    TerminalReader,
    guarded_driver,
    refusal,
    take_signals,
)


class Stream(io.StringIO):
    """A stream that is a terminal or not."""

    def __init__(self, terminal: bool = True, encoding: str = "utf-8") -> None:
        super().__init__()
        self._terminal = terminal
        self._encoding = encoding

    def isatty(self) -> bool:
        return self._terminal

    @property
    def encoding(self) -> str:  # type: ignore[override]
        return self._encoding


@pytest.mark.parametrize("name", PRIVATE_NAMES)
def test_the_private_names_it_leans_on_are_there(name: str) -> None:
    module, _, inner = name.rpartition(".")
    try:
        holder = importlib.import_module(name)
    except ModuleNotFoundError:
        holder = getattr(importlib.import_module(module), inner)
    for wanted in PRIVATE_NAMES[name]:
        assert hasattr(holder, wanted), f"{name}.{wanted}"


def test_the_guarded_driver_overrides_what_exists() -> None:
    driver = guarded_driver()
    assert driver is not None
    stock = driver.__mro__[1]
    assert stock.__name__ == "LinuxDriver"
    overridden = set(vars(driver)) & set(vars(stock)) - {"__module__", "__doc__"}
    assert overridden >= {"run_input_thread", "write", "close", "_sigcont_application"}


def test_a_terminal_is_accepted() -> None:
    assert refusal({"TERM": "xterm-256color"}, Stream(), Stream()) is None
    assert refusal({}, Stream(), Stream(encoding="UTF-8")) is None


@pytest.mark.parametrize(
    ("env", "stdin", "stderr", "says"),
    [
        ({}, Stream(terminal=False), Stream(), "keys do not come from a terminal"),
        ({}, None, Stream(), "keys do not come from a terminal"),
        ({}, Stream(), Stream(terminal=False), "Standard error"),
        ({}, Stream(), None, "Standard error"),
        ({"TERM": "dumb"}, Stream(), Stream(), "TERM=dumb"),
        ({}, Stream(), Stream(encoding="ascii"), "LANG=C.UTF-8"),
    ],
)
def test_what_is_no_terminal_is_refused_with_its_mend(
    env: dict[str, str], stdin: Stream | None, stderr: Stream | None, says: str
) -> None:
    said = refusal(env, stdin, stderr)
    assert said is not None
    assert says in said
    assert "--plain" in said


def keys(*data: bytes) -> list[str]:
    reader = TerminalReader(lambda: XTermParser(False))
    messages = [message for part in data for message in reader.feed(part)]
    return [message.key for message in messages if isinstance(message, events.Key)]


def test_good_bytes_are_keys() -> None:
    assert keys(b"d\r1") == ["d", "enter", "1"]
    assert keys("é".encode()[:1], "é".encode()[1:]) == ["é"]


@pytest.mark.parametrize("bad", [b"\xff", b"\x1b[1114112u", b"\x1b[99999999999u", b"\xc3\x28"[:1]])
def test_a_bad_byte_costs_itself_and_no_other_key(bad: bytes) -> None:
    assert keys(b"d" + bad + b"\x1b[A", b"e")[0] == "d"
    assert keys(bad, b"\x1b[A", b"e")[-2:] == ["up", "e"]


@pytest.mark.parametrize("at", [1, 2, 3])
def test_an_arrow_that_a_slow_line_cuts_in_two_is_no_letter(
    at: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    code = b"\x1b[1;2B"
    now = [10.0]
    monkeypatch.setattr("textual._parser.get_time", lambda: now[0])
    reader = TerminalReader(lambda: XTermParser(False))
    heard = [*reader.feed(code[:at]), *reader.tick()]
    assert heard == []
    now[0] += constants.ESCAPE_DELAY + 0.001
    assert any(isinstance(message, events.Key) for message in reader.tick())
    late = [m.key for m in (*reader.feed(code[at:]), *reader.feed(b"d"))]  # type: ignore[attr-defined]
    assert late == ["shift+down", "d"]


def test_letters_after_an_escape_are_letters(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [10.0]
    monkeypatch.setattr("textual._parser.get_time", lambda: now[0])
    reader = TerminalReader(lambda: XTermParser(False))
    heard: list[events.Key] = []
    for data in (b"\x1b", b"b", b"\x1b", b"\x1b[B", b"\x1b", b"o", b"\x1b", b"[", b"d"):
        heard += [*reader.feed(data)]  # type: ignore[list-item]
        now[0] += 1
        heard += [*reader.tick()]  # type: ignore[list-item]
    names = [m.key for m in heard]
    assert names[:7] == ["escape", "b", "escape", "down", "escape", "o", "escape"]
    assert names[-1] == "d"


def test_raw_out_writes_all_and_counts() -> None:
    import os
    import tempfile

    with tempfile.TemporaryFile("w+", encoding="utf-8") as file:
        out = RawOut(file)
        assert out.write("näht\ud800") == 5
        assert out.written == 1
        assert not out.isatty()
        out.flush()
        os.lseek(file.fileno(), 0, os.SEEK_SET)
        assert os.read(file.fileno(), 20) == "näht?".encode()
        assert out.fileno() == file.fileno()


def test_writing_to_a_terminal_that_is_gone_is_silent() -> None:
    import os

    read, write = os.pipe()
    out = RawOut(os.fdopen(write, "w", encoding="utf-8", closefd=False))
    os.close(read)
    assert out.write("x") == 1
    os.close(write)


def test_signals_are_taken_but_an_ignored_one_stays_ignored(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    import signal

    taken: dict[int, int] = {}
    monkeypatch.setattr(
        signal,
        "getsignal",
        lambda number: signal.SIG_IGN if number == signal.SIGHUP else signal.SIG_DFL,
    )
    take_signals(lambda number, leave, code: taken.update({number: code}), lambda code: None)
    assert taken == {signal.SIGTERM: 143, signal.SIGINT: 130}
