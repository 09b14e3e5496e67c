"""`export` as a cook or a script calls it: real cooks, each format read by another reader."""

import csv
import io
import json
from datetime import UTC, datetime
from pathlib import Path

import pytest
import vobject
import webvtt

from passbell.cli.main import main
from passbell.clock import HandClock, SystemClock
from passbell.cook.commands import ExtendStep
from passbell.journal import Journal
from passbell.plan.read import read_plan
from passbell.session import CookSession
from tests.session.kitchen import TEXT


@pytest.fixture(autouse=True)
def own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("TZ", "UTC")


@pytest.fixture
def plan(tmp_path: Path) -> str:
    file = tmp_path / "thighs.toml"
    file.write_text(TEXT, encoding="utf-8")
    return str(file)


def printed(capsysbinary: pytest.CaptureFixture[bytes], *argv: str) -> tuple[int, str, str]:
    code = main(argv)
    out, err = capsysbinary.readouterr()
    return code, out.decode(), err.decode()


def test_a_kept_cook_is_written_out_in_every_format(
    plan: str, tmp_path: Path, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    script = tmp_path / "script"
    script.write_text("60 mark\n2350 thighs 160\n2580 thighs 168\n")
    assert main(["cook", plan, "--headless", "--keep", "--script", str(script)]) == 0
    capsysbinary.readouterr()
    code, card, _ = printed(capsysbinary, "export", "1", "--as", "card")
    assert (code, "run 1" in card) == (0, True)
    _, card, _ = printed(capsysbinary, "export", plan, "--as", "card")
    assert "run 1 (as cooked)" in card.replace("\\", "")
    Path(plan).write_text(TEXT.replace('"12 min"', '"13 min"'), encoding="utf-8")
    _, card, _ = printed(capsysbinary, "export", plan, "--as", "card")
    assert "those of the plan" in card  # that cook was of another text
    code, text, said = printed(capsysbinary, "export", "1", "--as", "jsonld")
    assert json.loads(text)["name"] == "Thighs and beans"
    assert "image" in said
    code, text, _ = printed(capsysbinary, "export", "1", "--as", "vtt")
    chapters = list(webvtt.from_buffer(io.StringIO(text)))
    code, lines, _ = printed(capsysbinary, "export", "1", "--as", "chapters")
    assert len(lines.splitlines()) == len(chapters) > 4
    code, text, _ = printed(capsysbinary, "export", "1", "--as", "csv")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert [(r["component"], r["verdict"]) for r in rows] == [
        ("thighs", "met"),
        ("green beans", ""),
    ]
    code, _, said = printed(capsysbinary, "export", "1", "--as", "ics")
    assert code == 1
    assert "over" in said


def test_a_plan_is_a_calendar_that_rises_and_keeps_its_identities(
    plan: str, tmp_path: Path, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    found = []
    for _ in range(2):
        argv = ("export", plan, "--as", "ics", "--now", "17:00", "--serve", "19:00")
        assert main([*argv, "--to", str(tmp_path / "meal.ics")]) == 0
        found.append(list(vobject.readOne((tmp_path / "meal.ics").read_text()).vevent_list))
    first, second = found
    assert [e.uid.value for e in first] == [e.uid.value for e in second]
    assert int(first[0].sequence.value) < int(second[0].sequence.value)
    assert second[-1].dtstart.value.strftime("%H:%M") == "19:00"
    assert b"backup" in capsysbinary.readouterr()[1]


def test_a_cook_that_goes_on_is_exported_again_after_it_was_extended(
    plan: str, tmp_path: Path, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    now = int(SystemClock().now().utc)
    with Journal.open() as journal:
        book = (journal, plan, TEXT)
        session = CookSession.begin(read_plan(TEXT, plan), HandClock(utc=now), book=book)
        _, before, _ = printed(capsysbinary, "export", "1", "--as", "ics")
        planned = session.state.schedule.dish_up
        assert session.tell(ExtendStep(component=0, by=600)) is None
        moved = session.state.schedule.dish_up
        _, after, _ = printed(capsysbinary, "export", "1", "--as", "ics")
    first, second = (vobject.readOne(text).vevent_list[-1] for text in (before, after))
    assert (first.summary.value, first.uid.value) == (second.summary.value, second.uid.value)
    assert int(second.sequence.value) > int(first.sequence.value)
    late = (second.dtstart.value - first.dtstart.value).total_seconds()
    assert late == moved - planned > 0
    assert first.dtstart.value == datetime.fromtimestamp(now + planned, UTC)


def test_more_people_are_cooked_for_and_written_out(
    plan: str, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    Path(plan).write_text(TEXT.replace("serves = 2", 'serves = 2\ningredients = ["1 cup stock"]'))
    assert main(["cook", plan, "--headless", "--keep", "--serves", "3"]) == 0
    assert "for 3 instead of 2" in capsysbinary.readouterr()[1].decode()
    _, card, _ = printed(capsysbinary, "export", "1", "--as", "card")
    assert "For 3 people." in card
    assert "1 1/2 cups (360 ml) stock" in card
    _, card, said = printed(capsysbinary, "export", "1", "--as", "card", "--serves", "6")
    assert "3 cups (720 ml) stock" in card
    assert "for 6 instead of 3" in said
    _, card, _ = printed(capsysbinary, "export", plan, "--as", "card", "--serves", "1")
    assert "1/2 cup (120 ml) stock" in card
    code, out, said = printed(capsysbinary, "timeplan", "tray-supper", "--serves", "3", "--asap")
    assert (code, "for 3, " in out, "way 1: " in said) == (0, True, True)
    code, _, said = printed(capsysbinary, "export", "1", "--as", "csv", "--way", "1")
    assert (code, "as it was" in said) == (2, True)


def test_a_card_tells_the_size_as_cooked_and_a_calendar_is_of_the_size_of_today(
    plan: str, tmp_path: Path, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    script = tmp_path / "script"
    script.write_text("2350 thighs 160\n3200 thighs 168\n")
    sized = TEXT.replace('doneness = "juices', 'size = "30 mm"\ndoneness = "juices')
    Path(plan).write_text(sized, encoding="utf-8")
    words = ["cook", plan, "--headless", "--keep", "--script", str(script)]
    assert main([*words, "--size", "thighs=38 mm"]) == 0
    capsysbinary.readouterr()
    _, card, _ = printed(capsysbinary, "export", "1", "--as", "card")
    assert "Cooked with pieces of these sizes. thighs: 38 mm" in card
    _, text, _ = printed(capsysbinary, "export", "1", "--as", "jsonld")
    assert "38 mm" in json.loads(text)["description"]
    _, card, _ = printed(capsysbinary, "export", plan, "--as", "card")
    assert "The times are for these sizes. thighs: 30 mm" in card
    assert "those of the plan" in card
    code, text, said = printed(capsysbinary, "export", plan, "--as", "ics", "--size", "thighs=38mm")
    assert (code, text.startswith("BEGIN:VCALENDAR")) == (0, True)
    assert "thighs 38mm instead of 30 mm" in said
    for kind in ("card", "ics"):
        code, _, said = printed(capsysbinary, "export", "1", "--as", kind, "--size", "thighs=38mm")
        assert (code, "as it was" in said) == (2, True)


def test_no_other_file_is_written_over(
    plan: str, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    code, _, said = printed(capsysbinary, "export", plan, "--as", "csv", "--to", plan)
    assert code == 2
    assert "no .csv file" in said
    assert Path(plan).read_text(encoding="utf-8") == TEXT


@pytest.mark.parametrize(
    ("argv", "code", "says"),
    [
        (("nothing", "--as", "card"), 2, "no plan"),
        (("99", "--as", "card"), 2, "no cook 99"),
        (("tray-supper", "--as", "vtt", "--mark", "3"), 2, "no mark 3"),
        (("tray-supper", "--as", "poem"), 2, "poem"),
        (("tray-supper", "--as", "csv", "--to", "/nowhere/x.csv"), 2, "nowhere"),
    ],
)
def test_what_cannot_be_is_said(
    argv: tuple[str, ...], code: int, says: str, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    found, _, said = printed(capsysbinary, "export", *argv)
    assert (found, says in said) == (code, True), said
