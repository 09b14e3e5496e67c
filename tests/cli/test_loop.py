"""From a cook to a better plan, by the command: debrief, compare, revise, the kitchen."""

import json
import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from passbell.cli.main import main
from passbell.clock import HandClock, SpeedClock
from passbell.cook.revise import Edit, Proposal
from passbell.journal import Journal
from passbell.pen import PenError
from passbell.plan.read import read_plan
from passbell.planfiles import load, own_folder
from passbell.session import CookSession
from passbell.session.revise import take
from passbell.units import Duration
from tests.cook.kept_runs import TEXT
from tests.session.kitchen import cook_it
from tests.terminal import Terminal

Capture = pytest.CaptureFixture[str]


@pytest.fixture(scope="module")
def cooked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A home with two cooks of one plan, green beans a minute longer in the second."""
    home = tmp_path_factory.mktemp("home")
    file = home / "plans" / "roots.toml"
    file.parent.mkdir()
    file.write_text(TEXT, encoding="utf-8")
    with Journal.open(home) as journal:
        cook_it(journal, file)
        cook_it(journal, file, notes=(("next time: hotter", None),))
        cook_it(journal, file, rehearsal=True)
    file.parent.rename(home / "moved")
    return home


@pytest.fixture
def home(cooked: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The same home anew, so that no test finds what another wrote."""
    (tmp_path / "plans").mkdir()
    (tmp_path / "plans" / "roots.toml").write_text(TEXT, encoding="utf-8")
    (tmp_path / "cooks.db").write_bytes((cooked / "cooks.db").read_bytes())
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path))
    monkeypatch.setenv("TZ", "UTC")
    return tmp_path


def said(capsys: Capture, *argv: str) -> tuple[int, str, str]:
    code = main(argv)
    out, err = capsys.readouterr()
    return code, out, err


def test_debrief_compare_revise_and_nothing_is_written_unasked(home: Path, capsys: Capture) -> None:
    plan = home / "plans" / "roots.toml"
    for run in ("1", "2"):
        assert said(capsys, "runs", "debrief", run, "--over", "green")[0] == 0
    code, out, _ = said(capsys, "runs", "compare", "1", "2", "3")
    assert code == 0
    assert "turned out" in out
    (line,) = (line for line in out.splitlines() if "turned out" in line)
    assert line.split() == ["turned", "out", "over", "over", "not", "said", "≠"]
    code, out, _ = said(capsys, "runs", "revise", str(plan))
    assert code == 0
    assert "1  green beans: 11 min on the heat instead of 12 min" in out
    assert "because over twice after 12:00, 1 min taken off (runs 1, 2)" in out
    assert "after run 2 you wrote for next time: hotter" in out
    assert plan.read_text(encoding="utf-8") == TEXT
    assert [p.name for p in plan.parent.iterdir()] == ["roots.toml"]


def test_a_change_taken_is_in_the_file_with_its_reason_and_the_old_file_beside_it(
    home: Path, capsys: Capture
) -> None:
    plan = home / "plans" / "roots.toml"
    said(capsys, "runs", "debrief", "1", "--over", "green beans", "--note", "carrots: pale")
    code, out, _ = said(capsys, "runs", "revise", "roots", "--take", "1")
    assert code == 0
    assert "roots.toml.~1~" in out
    assert "changes:" not in out
    new = plan.read_text(encoding="utf-8").splitlines()
    changed = [line for line in new if line not in TEXT.splitlines()]
    assert len(new) == len(TEXT.splitlines()) + 1
    assert changed[0].startswith("  # 20")
    assert "over after 12:00, 1 min taken off (run 1)" in changed[0]
    assert changed[1] == (
        '  { cook = "left side", on = "oven", time = "11 min", check = "10 min" },'
    )
    assert (plan.parent / "roots.toml.~1~").read_text(encoding="utf-8") == TEXT
    assert "the runs ask for no change" in said(capsys, "runs", "revise", "roots")[1]


def test_line_ends_a_byte_order_mark_and_every_other_character_stay(
    home: Path, capsys: Capture
) -> None:
    plan = home / "plans" / "roots.toml"
    before = "\ufeff# hers\n" + TEXT.replace('name  = "carrots"', 'name  = "carrots"  # 🥕\t')
    plan.write_bytes(before.replace("\n", "\r\n").encode())
    said(capsys, "runs", "debrief", "1", "--over", "green beans")
    code, _, err = said(capsys, "runs", "revise", "roots", "--take", "1")
    assert code == 0, err
    after = plan.read_bytes().decode()
    lines = after.split("\r\n")
    assert "\n" not in after.replace("\r\n", "")
    comment = next(line for line in lines if line.startswith("  # 20"))
    lines.remove(comment)
    same = "\n".join(lines).replace('time = "11 min"', 'time = "12 min"')
    assert same == before


def test_on_a_terminal_each_change_is_asked_for_and_a_second_one_is_warned_of(
    home: Path, capsys: Capture
) -> None:
    said(capsys, "runs", "debrief", "1", "--over", "green beans", "--over", "carrots")
    with Terminal(["runs", "revise", "roots"], home) as terminal:
        for prompt, answer in (
            ("Take change 1?", "y"),
            ("one a cook tells you which one did it", ""),
            ("Take change 2?", "y"),
            ("with one change a cook you know", ""),
        ):
            terminal.wait_for(prompt)
            if answer:
                terminal.type(answer + "\r")
        assert terminal.end() == 0
    steps = [c.steps[1].time for c in load(home / "plans" / "roots.toml").plan.components]
    assert steps == [36 * 60, 11 * 60]


def test_two_changes_at_once_are_taken_but_it_says_what_that_costs(
    home: Path, capsys: Capture
) -> None:
    said(capsys, "runs", "debrief", "1", "--over", "green beans", "--under", "carrots")
    out = said(capsys, "runs", "revise", "roots")[1]
    assert "Take one: with one change a cook you know which one did it." in out
    code, out, err = said(capsys, "runs", "revise", "roots", "--take", "2,1,2")
    # More carrots would not fit into their stage of 40 minutes: it becomes longer with them.
    assert (code, err) == (0, "")
    assert "That is 2 changes" in out
    plan = load(home / "plans" / "roots.toml").plan
    assert plan.appliances[0].stages[0].time == plan.components[0].steps[1].time == 44 * 60


def test_a_change_that_cannot_be_cooked_is_not_written(home: Path) -> None:
    file = home / "plans" / "roots.toml"
    edit = Edit(("component", 1, "steps", 1, "time"), Duration(60 * 60))
    asked = Proposal("green beans", "an hour", "to try it", (edit,), (1,))
    with pytest.raises(PenError, match="would contradict itself"):
        take(load(file), (asked,), "2027-01-01")
    assert file.read_text(encoding="utf-8") == TEXT


@pytest.mark.parametrize(
    ("argv", "says"),
    [
        (["runs", "compare", "1"], "name two to 6"),
        (["runs", "compare", "1", "1"], "name two to 6"),
        (["runs", "compare", "1", "99"], "There is no cook 99"),
        (["runs", "debrief", "99", "--over", "x"], "There is no cook 99"),
        (["runs", "debrief", "1", "--over", "leeks"], "no component “leeks”"),
        (["runs", "debrief", "1"], "nothing was said"),
        (["runs", "revise", "no-such-plan"], "there is no plan"),
        (["runs", "revise", "roots", "--take", "7"], "numbers of the list"),
        (["runs", "revise", "roots", "--take", "one"], "numbers of the list"),
        (["kitchen", "--on", "--off"], "not allowed with"),
    ],
)
def test_what_is_not_understood_is_one_line_and_code_2(
    home: Path, argv: list[str], says: str, capsys: Capture
) -> None:
    code, _, err = said(capsys, *argv)
    assert (code, len(err.splitlines())) == (2, 1)
    assert says in err


def test_show_says_whether_it_is_ready_and_a_plan_that_is_gone_is_no_loss(
    home: Path, capsys: Capture
) -> None:
    out = said(capsys, "runs", "show", "2")[1]
    assert "READY TO PUBLISH" in out
    assert "✓ run 2 was cooked unchanged from the text" in out
    assert "next time: hotter" in out
    (home / "plans" / "roots.toml").unlink()
    code, out, err = said(capsys, "runs", "show", "2")
    assert code == 0
    assert "is gone; its text is kept with the run" in err
    assert "not ready to publish yet" in out
    found = json.loads(said(capsys, "runs", "show", "2", "--json")[1])
    assert found["plan_text"] == TEXT
    assert found["ready"]["ready"] is False


def test_a_run_is_written_out_like_any_export(home: Path, capsys: Capture) -> None:
    code, out, _ = said(capsys, "runs", "export", "2", "--as", "csv")
    assert (code, out) == (0, said(capsys, "export", "2", "--as", "csv")[1])
    assert "green beans" in out
    assert said(capsys, "runs", "export", "99", "--as", "csv")[0] == 2


def test_compare_as_data(home: Path, capsys: Capture) -> None:
    found = json.loads(said(capsys, "runs", "compare", "1", "2", "--json")[1])
    assert found["ready"]["ready"] is True
    assert [c["name"] for c in found["components"]] == ["carrots", "green beans"]
    assert [c["differs"] for c in found["components"]] == [[], []]
    revise = json.loads(said(capsys, "runs", "revise", "roots", "--json")[1])
    assert revise["runs"] == [1, 2, 3]
    assert revise["proposals"] == []


def test_the_kitchen_learns_from_cooks_changes_the_time_plan_and_is_switched_off(
    home: Path, capsys: Capture
) -> None:
    code, out, _ = said(capsys, "kitchen")
    assert code == 0
    assert "oven (your oven, 2 runs)" in out
    assert "run 3" not in out
    file = home / "kitchen.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("preheat = 1.0", "preheat = 1.5"), encoding="utf-8")
    file.write_text(text + '[[appliance]]\nname = "oven"\npreheat = 1.4\n', encoding="utf-8")
    out = said(capsys, "timeplan", "roots", "--asap")[1]
    assert "oven: preheat 14 min instead of 10 min (your oven, 2 runs)" in out
    data = json.loads(said(capsys, "timeplan", "roots", "--asap", "--json")[1])
    assert data["kitchen"] == ["oven: preheat 14 min instead of 10 min (your oven, 2 runs)"]
    assert "switched off" in said(capsys, "kitchen", "--off")[1]
    assert "preheat 14 min" not in said(capsys, "timeplan", "roots", "--asap")[1]
    assert said(capsys, "kitchen", "--forget", "hob")[0] == 1
    assert said(capsys, "kitchen", "--forget", "oven")[0] == 0
    assert json.loads(said(capsys, "kitchen", "--on", "--json")[1])["lessons"] == []


def test_the_kitchens_file_is_opened_in_the_editor_and_read_afterwards(
    home: Path, tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("VISUAL", raising=False)
    monkeypatch.setenv("EDITOR", f"{sys.executable} -c 'import sys; open(sys.argv[1], \"a\")'")
    assert said(capsys, "kitchen", "--edit")[0] == 0
    assert "use = true" in (home / "kitchen.toml").read_text(encoding="utf-8")
    spoil = f'{sys.executable} -c \'import sys; open(sys.argv[1], "w").write("use = 3")\''
    monkeypatch.setenv("EDITOR", spoil)
    code, _, err = said(capsys, "kitchen", "--edit")
    assert code == 2
    assert "use" in err
    monkeypatch.setenv("EDITOR", "")
    (home / "kitchen.toml").unlink()
    assert said(capsys, "kitchen", "--edit")[0] == 2


def test_a_kitchens_file_with_a_fault_spoils_no_cook(home: Path, capsys: Capture) -> None:
    (home / "kitchen.toml").write_text("use = perhaps")
    code, out, _ = said(capsys, "timeplan", "roots", "--asap")
    assert code == 0
    assert "kitchen.toml" in out
    assert said(capsys, "kitchen")[0] == 2


def test_a_plan_that_ships_is_copied_to_the_cooks_own_first(
    home: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    shipped = home / "shipped"
    (home / "plans").rename(shipped)
    plan = shipped / "roots.toml"
    monkeypatch.setattr("passbell.session.revise.bundled_folder", lambda: shipped)
    said(capsys, "runs", "debrief", "1", "--over", "green beans")
    code, out, err = said(capsys, "runs", "revise", str(plan), "--take", "1")
    assert code == 0, err
    assert plan.read_text(encoding="utf-8") == TEXT
    own = load(own_folder() / "roots.toml")
    assert own.plan.components[1].steps[1].time == 11 * 60
    assert str(own_folder()) in out


def test_the_whole_loop_as_a_process_with_nothing_asked(home: Path) -> None:
    env = {**os.environ, "PASSBELL_HOME": str(home), "PYTHONPATH": os.pathsep.join(sys.path)}
    command = [sys.executable, "-c", "from passbell.cli.main import run; run()"]
    done = subprocess.run(
        [*command, "runs", "revise", "roots"],
        env=env, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    assert "3 cooks kept" in done.stdout


def test_the_hours_of_a_rehearsal_are_those_its_screen_showed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    """At ten times the speed an hour is over in six minutes, and is an hour in the record."""
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path))
    monkeypatch.setenv("TZ", "UTC")
    start = 1_800_000_000
    clock = SpeedClock(10, HandClock(utc=start))
    with Journal.open(tmp_path) as journal:
        session = CookSession.begin(read_plan(TEXT, "roots.toml"), clock, book=(journal, "", TEXT))
        planned = session.state.first.dish_up
    shown = f"{datetime.fromtimestamp(start + planned, UTC):%H:%M:%S}"
    assert f"dish-up planned {shown}, was" in said(capsys, "runs", "show", "1")[1]
