"""The screens of the record: runs side by side, and what they ask for."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from passbell.journal import Journal
from passbell.planfiles import find_plan, load
from passbell.session.runs import load_run
from passbell.tui.live_revise import LiveRevising
from passbell.tui.live_runs import MOST, LiveRecords
from passbell.tui.screens.after import AfterScreen
from passbell.tui.screens.plans import PlansScreen
from passbell.tui.screens.revise import ReviseScreen
from passbell.tui.screens.runs import RunsScreen
from passbell.tui.views.runs import Curve, Curves, RunsView
from passbell.tui.widgets.curve import draw_curves
from tests.cook.kept_runs import TEXT as ROOTS
from tests.session.kitchen import cook_it
from tests.tui.helpers import again, press, running, until
from tests.tui.sample_pages import (
    REVISE,
    FakeAftermath,
    FakeRecords,
    FakeRevising,
    FakeShelf,
    hostile_runs,
)
from tests.tui.snapshots import check, text_of

PAGES: dict[str, Any] = {
    "runs": lambda: RunsScreen(FakeRecords()),
    "runs_hostile": lambda: RunsScreen(FakeRecords(hostile_runs())),
    "no_runs": lambda: RunsScreen(FakeRecords(RunsView(()))),
    "revise": lambda: ReviseScreen(FakeRevising()),
}


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (40, 12)])
@pytest.mark.parametrize("name", sorted(PAGES))
async def test_it_looks_as_it_did(name: str, size: tuple[int, int]) -> None:
    async with running(PAGES[name](), size) as (_app, pilot):
        await check(f"page_{name}_{size[0]}x{size[1]}", pilot)


async def test_differences_have_a_sign_and_all_can_be_read_by_paging() -> None:
    async with running(RunsScreen(FakeRecords()), (80, 24)) as (app, pilot):
        seen = ""
        for _ in range(8):
            seen += text_of(app)
            await press(pilot, "pagedown")
        for words in ("≠ out", "≠ turned out", "A run 1", "B run 2", "not ready to publish yet",
                      "over", "carrots", "green beans"):  # fmt: skip
            assert words in seen
        assert "≠ in " not in seen


async def test_the_runs_are_reached_from_the_plans_and_left_again() -> None:
    async with running(PlansScreen(FakeShelf())) as (app, pilot):
        await press(pilot, "u")
        await until(pilot, lambda: isinstance(app.screen, RunsScreen))
        await press(pilot, "x")
        await until(pilot, lambda: isinstance(app.screen, PlansScreen))


async def test_keys_pick_take_away_and_ask_what_the_runs_ask_for() -> None:
    records = FakeRecords(revising=FakeRevising())
    async with running(RunsScreen(records)) as (app, pilot):

        def told() -> list[tuple[object, ...]]:
            return [a for a in records.asked if a[0] != "look"]

        for keys, expected in (
            (("enter",), ("pick", 1)), (("down", "enter"), ("pick", 2)),
            (("o",), ("alone",)), (("r",), ("revise", 2)),
        ):  # fmt: skip
            again(app.screen)
            count = len(told())
            await press(pilot, *keys)
            await until(pilot, lambda n=count: len(told()) > n)  # type: ignore[misc]
            assert told()[-1] == expected
        await until(pilot, lambda: isinstance(app.screen, ReviseScreen))
        await press(pilot, "x")
        await until(pilot, lambda: isinstance(app.screen, RunsScreen))


async def test_a_change_is_taken_only_by_its_own_key() -> None:
    revising = FakeRevising()
    async with running(ReviseScreen(revising)) as (app, pilot):
        await press(pilot, "down", "enter", "d")
        assert revising.taken == []
        await press(pilot, "t")
        await until(pilot, lambda: revising.taken == [REVISE.asked[1]])
        revising.view = replace(REVISE, taken=2, asked=REVISE.asked[:1])
        again(app.screen)
        await press(pilot, "down")
        await until(pilot, lambda: "2 changes are taken" in text_of(app))


async def test_after_a_cook_the_changes_are_one_key_away() -> None:
    aftermath = FakeAftermath()
    async with running(AfterScreen(aftermath)) as (app, pilot):
        await press(pilot, "v")
        await until(pilot, lambda: isinstance(app.screen, ReviseScreen))
        await press(pilot, "x")
        await until(pilot, lambda: isinstance(app.screen, AfterScreen))


@pytest.fixture(scope="module")
def cooked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    home = tmp_path_factory.mktemp("home")
    file = home / "plans" / "roots.toml"
    file.parent.mkdir()
    file.write_text(ROOTS, encoding="utf-8")
    with Journal.open(home) as journal:
        for score in ("over", "over"):
            cook_it(journal, file, notes=((f"turned out: {score}", 1),))
    return home


async def test_the_real_record_side_by_side_and_a_real_change(
    cooked: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PASSBELL_HOME", str(cooked))
    with Journal.open(cooked) as journal:
        screen = RunsScreen(LiveRecords(journal), interval=3600)
        async with running(screen, (120, 60)) as (app, pilot):
            await press(pilot, "enter")
            await until(pilot, lambda: "[A]" in text_of(app))
            await press(pilot, "down")
            again(app.screen)
            await press(pilot, "enter")
            await until(pilot, lambda: "[B]" in text_of(app))
            await press(pilot, "r")
            await until(pilot, lambda: "11 min on the heat instead of 12 min" in text_of(app))
            await press(pilot, "t")
            await until(pilot, lambda: "taken; the plan as it was is kept" in text_of(app))
    plan = find_plan("roots")
    assert plan.plan.components[1].steps[1].time == 660
    assert (cooked / "plans" / "roots.toml.~1~").read_text(encoding="utf-8") == ROOTS


def test_what_is_gone_or_too_many_is_said(
    cooked: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path))
    with Journal.open(tmp_path) as journal, Journal.open(cooked) as source:
        kept = load_run(source, 1)
        file = tmp_path / "gone.toml"
        file.write_text(ROOTS, encoding="utf-8")
        cook_it(journal, file)
        records = LiveRecords(journal)
        meta = journal.run(1).meta
        for _ in range(MOST):
            journal.new_run(meta)
        for run in range(1, MOST + 2):
            records.pick(run)
        view = records.look(1)
        assert "side by side at most" in view.message
        assert view.beside is None
        assert "cannot be told" in view.trouble
        records.alone()
        revising = LiveRevising(journal, load(file))
        file.unlink()
        assert records.revise(1) is None
        assert "is gone; its text is kept" in records.look(1).message
        revising.take(REVISE.asked[0])
        assert revising.look().message == ""
        assert kept.account.title == "Roots and beans"


def plotted(*curves: Curve, height: int = 6) -> list[str]:
    drawn = draw_curves(Curves("thighs", curves, 75.0, "C"), 60, height)
    return ["".join(run.text for run in line) for line in drawn]


def test_a_curve_stands_where_its_readings_are() -> None:
    """By hand: 50 °C first and 80 °C last are the corners, 65 °C half-way up and across."""
    lines = plotted(Curve("A", ((0, 50.0), (600, 65.0), (1200, 80.0))))
    assert lines[0].endswith("A")
    assert lines[5][8] == "A"
    letters = [(y, x) for y, line in enumerate(lines) for x, c in enumerate(line) if c == "A"]
    assert len(letters) == 3
    middle = letters[1]
    assert middle[1] == pytest.approx(8 + 51 / 2, abs=1)
    assert middle[0] in (2, 3)
    assert lines[0].startswith("  80 °C ")
    assert lines[5].startswith("  50 °C ")
    assert any("┄75 °C" in line for line in lines)
    assert lines[6].split() == ["0", "min", "20", "min"]


def test_curves_are_told_apart_without_colour() -> None:
    lines = plotted(
        Curve("A", ((0, 50.0), (1200, 60.0))), Curve("B", ((0, 70.0), (1200, 80.0))), height=8
    )
    text = "\n".join(lines)
    assert text.count("A") == text.count("B") == 2

    def dots(rows: list[str]) -> int:
        cells = (ord(c) - 0x2800 for row in rows for c in row if 0x2800 <= ord(c) < 0x2900)
        return sum(cell.bit_count() for cell in cells)

    assert dots(lines[4:]) > 1.5 * dots(lines[:4]), "the second line is broken"


@pytest.mark.parametrize(
    "points", [((5, 60.0),), ((5, 60.0), (5, 60.0)), ((0, -273.0), (9, 999.0))]
)
def test_one_reading_and_odd_ones_are_drawn_too(points: tuple[tuple[int, float], ...]) -> None:
    assert any("A" in line for line in plotted(Curve("A", points)))
    assert draw_curves(Curves("x", (Curve("A", points),), None, "F"), 20, 4) == []
