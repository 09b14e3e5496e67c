"""The command: its exit codes, its one-line messages, and that no traceback gets out."""

import argparse
import json
import os
import re
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import NoReturn

import pytest

import passbell
from passbell.cli.main import COMMANDS, main
from passbell.cli.parser import CommandParser
from passbell.journal import JournalError
from passbell.units import UnitError

RUN = [sys.executable, "-c", "from passbell.cli.main import run; run()"]
Act = Callable[[], int]


@pytest.fixture(autouse=True)
def own_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path))
    return tmp_path


@pytest.fixture
def runs_does(monkeypatch: pytest.MonkeyPatch) -> Callable[[Act], None]:
    """Puts an act in the place of the `runs` command."""

    def put(act: Act) -> None:
        module = ModuleType("passbell.cli.runs")

        def add_parser(subparsers: "argparse._SubParsersAction[CommandParser]") -> None:
            parser = subparsers.add_parser("runs", help="none")
            parser.add_argument("--count", type=int)
            parser.set_defaults(func=lambda args: act())

        module.add_parser = add_parser  # type: ignore[attr-defined]
        monkeypatch.setitem(sys.modules, "passbell.cli.runs", module)

    return put


def raising(error: BaseException) -> Act:
    def act() -> NoReturn:
        raise error

    return act


@pytest.mark.parametrize("code", [0, 1, 2])
def test_the_exit_code_is_the_commands_answer(runs_does: Callable[[Act], None], code: int) -> None:
    runs_does(lambda: code)
    assert main(["runs"]) == code


def test_version_is_the_packages(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"passbell {passbell.__version__}\n"


@pytest.mark.parametrize("command", [*COMMANDS, "runs show"])
def test_every_command_says_its_version(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*command.split(), "--version"]) == 0
    assert capsys.readouterr().out == f"passbell {passbell.__version__}\n"


def test_help_lists_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"]) == 0
    out = capsys.readouterr().out
    for name, does in COMMANDS.items():
        assert re.search(rf"^ +{name} +{does}$", out, re.MULTILINE)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_its_help(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([name, "--help"]) == 0
    assert capsys.readouterr().out.startswith(f"usage: passbell {name} ")


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["cock"], "there is no command 'cock'; did you mean: passbell cook?"),
        (["a/b.toml"], "there is no command 'a/b.toml'; to cook that plan: passbell cook a/b.toml"),
        (["zzz"], f"there is no command 'zzz'; there are: {', '.join(COMMANDS)}"),
        (["--loud"], "unrecognized arguments: --loud. See: passbell --help"),
    ],
)
def test_a_mistake_gives_one_line_and_2(
    arguments: list[str],
    message: str,
    runs_does: Callable[[Act], None],
    capsys: pytest.CaptureFixture[str],
) -> None:
    runs_does(lambda: 0)
    assert main(arguments) == 2
    assert capsys.readouterr() == ("", f"passbell: {message}\n")


@pytest.mark.parametrize("words", [["--loud"], ["--coun", "1"]])
def test_a_mistake_in_a_command_names_that_commands_help(
    words: list[str], runs_does: Callable[[Act], None], capsys: pytest.CaptureFixture[str]
) -> None:
    runs_does(lambda: 0)
    assert main(["runs", *words]) == 2
    assert capsys.readouterr() == (
        "",
        f"passbell runs: unrecognized arguments: {' '.join(words)}. See: passbell runs --help\n",
    )


def test_a_number_that_is_none_says_how_to_write_it(capsys: pytest.CaptureFixture[str]) -> None:
    for words in (["cook", "x", "--serves", "2.5"], ["export", "x", "--as", "card", "--mark", "b"]):
        assert main(words) == 2
        assert "is no whole number; write digits" in capsys.readouterr().err


def test_a_wrong_value_names_its_option(
    runs_does: Callable[[Act], None], capsys: pytest.CaptureFixture[str]
) -> None:
    runs_does(lambda: 0)
    assert main(["runs", "--count", "many"]) == 2
    assert capsys.readouterr().err == (
        "passbell runs: argument --count: invalid int value: 'many'. See: passbell runs --help\n"
    )


def test_a_mistake_cannot_send_codes_to_the_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--\x1b[2J\x9b31m\n"]) == 2
    err = capsys.readouterr().err
    assert err.startswith("passbell: unrecognized arguments: --[2J31m")
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f]", err)
    assert err.count("\n") == 1


@pytest.mark.parametrize(
    ("error", "message"),
    [
        (JournalError("The disk is full", "make room"), "The disk is full; make room"),
        (UnitError("'35' has no unit", "write 35 min"), "'35' has no unit; write 35 min"),
        (
            PermissionError(13, "Permission denied", "plan.toml"),
            "'plan.toml': Permission denied; look whether it is there and you may use it",
        ),
        (
            OSError(28, "No space left on device"),
            "something could not be read or written (No space left on device); "
            "look at the disk and try again",
        ),
        (SystemExit("said in words"), "said in words"),
    ],
)
def test_a_known_trouble_is_said_with_its_mend(
    error: BaseException,
    message: str,
    runs_does: Callable[[Act], None],
    capsys: pytest.CaptureFixture[str],
) -> None:
    runs_does(raising(error))
    assert main(["runs"]) == 2
    assert capsys.readouterr() == ("", f"passbell: {message}\n")


def test_a_fault_of_the_program_is_one_line_and_the_rest_is_in_a_file(
    runs_does: Callable[[Act], None], capsys: pytest.CaptureFixture[str], own_folder: Path
) -> None:
    for error in (ZeroDivisionError("first"), RecursionError("second")):
        runs_does(raising(error))
        assert main(["runs"]) == 2
    log = own_folder / "log" / "faults.log"
    lines = capsys.readouterr().err.splitlines()
    assert [line.count(str(log)) for line in lines] == [1, 1]
    assert "fault of the program, not of your plan (ZeroDivisionError)" in lines[0]
    text = log.read_text()
    assert text.index("ZeroDivisionError: first") < text.index("RecursionError: second")
    assert f"passbell {passbell.__version__}, Python {sys.version.split()[0]}" in text
    assert "Traceback (most recent call last)" in text
    assert log.stat().st_mode & 0o777 == 0o600


def test_the_file_of_faults_does_not_grow_without_end(
    runs_does: Callable[[Act], None], own_folder: Path
) -> None:
    log = own_folder / "log" / "faults.log"
    log.parent.mkdir()
    log.write_text("old" * 200_000)
    runs_does(raising(ValueError("new")))
    main(["runs"])
    assert "old" not in log.read_text()
    assert "ValueError: new" in log.read_text()


def test_a_fault_that_cannot_be_written_in_its_folder_goes_elsewhere(
    runs_does: Callable[[Act], None],
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    (tmp_path / "file").touch()
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path / "file"))
    runs_does(raising(ValueError("elsewhere")))
    assert main(["runs"]) == 2
    where = capsys.readouterr().err.strip().rpartition(" ")[2]
    assert "ValueError: elsewhere" in Path(where).read_text()


def test_an_interrupt_is_130_without_a_word(
    runs_does: Callable[[Act], None], capsys: pytest.CaptureFixture[str]
) -> None:
    runs_does(raising(KeyboardInterrupt()))
    assert main(["runs"]) == 130
    assert capsys.readouterr() == ("", "")


WAITING = """
import signal, sys, time, types
signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell may have it ignored
module = types.ModuleType("passbell.cli.runs")
def act(args):
    print("waiting", flush=True)
    time.sleep(30)
def add_parser(subparsers):
    subparsers.add_parser("runs").set_defaults(func=act)
module.add_parser = add_parser
sys.modules["passbell.cli.runs"] = module
from passbell.cli.main import run
run()
"""


def test_ctrl_c_ends_the_process_with_130() -> None:
    arguments = [sys.executable, "-c", WAITING, "runs"]
    with subprocess.Popen(arguments, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"waiting\n"
        process.send_signal(signal.SIGINT)
        assert process.communicate(timeout=60) == (b"", b"")
    assert process.returncode == 130


def test_a_reader_that_left_is_no_trouble() -> None:
    read, write = os.pipe()
    os.close(read)
    with os.fdopen(write, "wb") as gone:
        done = subprocess.run(
            [*RUN, "probe", "pork_whole", "150F"], stdout=gone, stderr=subprocess.PIPE, check=False
        )
    assert (done.returncode, done.stderr) == (0, b"")


def test_output_that_the_disk_does_not_take_is_said() -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [*RUN, "probe", "pork_whole", "150F"], stdout=full, stderr=subprocess.PIPE, check=False
        )
    assert done.returncode == 2
    assert done.stderr == (
        b"passbell: something could not be read or written (No space left on device); "
        b"look at the disk and try again\n"
    )


def test_a_terminal_without_utf8_still_gets_its_answer() -> None:
    environment = os.environ | {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    done = subprocess.run(
        [*RUN, "probe", "pork_whole", "150F"], env=environment, capture_output=True, check=False
    )
    assert done.stderr == b""
    assert b"150 ?F" in done.stdout


def test_without_a_terminal_the_plan_list_asks_nothing() -> None:
    done = subprocess.run(
        RUN, stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=60, check=False
    )
    assert (done.returncode, done.stdout) == (2, "")
    assert re.fullmatch(r"passbell: .*terminal.*passbell --help\n", done.stderr)


HEAVY = ("textual", "rich", "pydantic", "sqlite3", "asyncio", "tomlkit", "icalendar")


@pytest.mark.parametrize(
    ("arguments", "never"),
    [
        (["--version"], HEAVY),
        (["--help"], HEAVY),
        (["probe", "pork_whole", "150F"], ("textual", "rich", "sqlite3", "asyncio", "icalendar")),
    ],
)
def test_only_what_a_command_needs_is_imported(arguments: list[str], never: list[str]) -> None:
    code = (
        "import sys\nfrom passbell.cli.main import main\nmain(sys.argv[1:])\n"
        f"print('loaded', *[name for name in {never!r} if name in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "loaded"


def test_the_cook_screen_needs_no_data_models_for_its_first_frame() -> None:
    heavy = ("pydantic", "tomlkit", "sqlite3", "icalendar", "passbell.tui.pages")
    code = (
        "import sys\nimport passbell.tui.app\n"
        f"print('loaded', *[name for name in {heavy!r} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "loaded"


def test_the_parser_takes_no_shortened_options() -> None:
    parser = CommandParser(prog="passbell x")
    parser.add_argument("--serve")
    with pytest.raises(SystemExit):
        parser.parse_args(["--ser", "1"])


@pytest.mark.parametrize(
    "words",
    [
        ["timeplan", "PLAN", "--json"],
        ["cook", "PLAN", "--headless", "--json"],
        ["forecast", "PLAN", "peas", "--json"],
    ],
)
def test_a_contradiction_is_data_wherever_data_is_asked_for(
    words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = tmp_path / "too_long.toml"
    plan.write_text(TOO_LONG, encoding="utf-8")
    assert main([str(plan) if word == "PLAN" else word for word in words]) == 1
    found = json.loads(capsys.readouterr().out)["error"]
    assert found["kind"] == "contradiction"
    assert [step["component"] for step in found["steps"]] == ["peas"]
    assert found["mend"]


TOO_LONG = """\
title = "Invented, and too long for its oven"
serves = 1
[[appliance]]
name = "oven"
[[appliance.stage]]
name = "roast"
time = "10 min"
[[component]]
name = "peas"
size = "8 mm"
food = "plant"
steps = [{ cook = "in a dish", on = "oven", time = "20 min", until = "95 °C" }]
"""
