"""The plan list, the time before the start and the record after it, of real plans and cooks."""

import contextlib
from collections.abc import Iterator
from pathlib import Path

import pytest

from passbell.clock import HandClock, local_time
from passbell.cook.commands import Note
from passbell.journal import Journal
from passbell.kitchen import read_kitchen
from passbell.plan.dump import plan_text
from passbell.plan.read import read_plan
from passbell.planfiles import bundled_folder, find_plan, load
from passbell.session import CookSession
from passbell.tui.live import LiveDesk
from passbell.tui.live_after import LiveAftermath
from passbell.tui.live_before import LivePreparation
from passbell.tui.live_shelf import LiveShelf
from passbell.tui.screens.plans import PlansScreen
from tests.cook.kept_runs import TEXT as ROOTS
from tests.cook.layered import meal
from tests.session.test_session import PLAN, say_done
from tests.tui.helpers import press, running, until
from tests.tui.snapshots import text_of


def desk(session: CookSession) -> LiveDesk:
    return LiveDesk(session, None, lambda: 0.0)


@pytest.fixture
def journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Journal]:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path))
    with Journal.open() as found:
        yield found


@pytest.fixture
def preparation(journal: Journal) -> Iterator[LivePreparation]:
    found = LivePreparation(find_plan("tray-supper"), journal, desk)
    with contextlib.closing(found):
        yield found


def test_the_shelf_sums_up_every_bundled_plan(journal: Journal) -> None:
    view = LiveShelf(journal, desk).look()
    found = {Path(p.key).stem: p for p in view.plans if p.key.startswith(str(bundled_folder()))}
    assert set(found) == {"tray-supper", "sunday-roast", "meatless-supper"}
    roast = found["sunday-roast"]
    assert roast.serves == "4"
    assert roast.total == 90 * 60
    assert roast.temperatures[0] == "oven 175 °C, 220 °C"
    assert roast.problems == ()
    assert roast.unfinished == ""


def test_an_unfinished_cook_is_listed_and_taken_up(journal: Journal) -> None:
    shelf = LiveShelf(journal, desk)
    key = str(bundled_folder() / "tray-supper.toml")
    assert shelf.resume(key) is None
    assert "no unfinished cook" in shelf.look().message
    preparation = shelf.open(key)
    assert preparation is not None
    assert preparation.start() is not None
    listed = next(p for p in shelf.look().plans if p.key == key)
    assert listed.unfinished.startswith("begun at ")
    assert shelf.resume(key) is None, "it is open here already"
    assert "Another passbell" in shelf.look().message


def test_the_list_shows_a_plan_as_its_file_is_now(journal: Journal, tmp_path: Path) -> None:
    file = tmp_path / "plans" / "roots.toml"
    file.parent.mkdir()
    shelf = LiveShelf(journal, desk)
    for title in ("Roots", "Leaves"):
        file.write_text(ROOTS.replace("Roots and beans", title), encoding="utf-8")
        assert shelf.look().plans[0].title == title
    file.write_text("title = 3", encoding="utf-8")
    assert not shelf.look().plans[0].readable
    file.unlink()
    assert all(not plan.key.endswith("roots.toml") for plan in shelf.look().plans)


async def test_what_was_chosen_stays_chosen_when_a_plan_comes_before_it(
    journal: Journal, tmp_path: Path
) -> None:
    shelf = LiveShelf(journal, desk)
    async with running(PlansScreen(shelf, interval=0.05)) as (app, pilot):
        await press(pilot, "down")
        chosen = shelf.look().plans[1].title
        assert f"▸ {chosen}" in text_of(app)
        assert "yours" not in text_of(app)
        file = tmp_path / "plans" / "roots.toml"
        file.parent.mkdir()
        file.write_text(ROOTS, encoding="utf-8")
        await until(pilot, lambda: "yours" in text_of(app))
        assert f"▸ {chosen}" in text_of(app)


def test_a_plan_that_is_gone_is_said(journal: Journal) -> None:
    shelf = LiveShelf(journal, desk)
    assert shelf.open("/nowhere/plan.toml") is None
    assert "it is gone" in shelf.look().message


def test_before_the_start_the_serving_time_can_be_chosen(preparation: LivePreparation) -> None:
    assert preparation.look().serving == "as soon as possible"
    assert preparation.ask("serve", "in 3 h")
    view = preparation.look()
    assert view.serving == "serve in 3 h"
    assert view.start_in > 3600
    assert not preparation.ask("serve", "soon")
    assert "soon" in preparation.look().message
    assert preparation.ask("serve", "in 20 min")
    assert any("late: " in problem for problem in preparation.look().problems)


def test_what_is_gathered_is_ticked_and_unticked(preparation: LivePreparation) -> None:
    preparation.tick_off(1)
    assert [item.ticked for item in preparation.look().gather[:3]] == [False, True, False]
    preparation.tick_off(1)
    assert not any(item.ticked for item in preparation.look().gather)


def test_chart_unit_and_ice_are_those_of_the_cook(preparation: LivePreparation) -> None:
    preparation.press("chart")
    preparation.press("unit")
    assert preparation.ask("thermometer", "0.5C")
    assert not preparation.ask("thermometer", "cold")
    assert preparation.look().thermometer == "Canada, Health Canada · °C · 0.5 °C in ice water"
    begun = preparation.start()
    assert isinstance(begun, LiveDesk)
    state = begun.session.state
    assert (state.chart, state.scale, str(state.ice)) == ("canada", "C", "0.5 °C")


def test_a_serving_time_that_is_none_is_told_how_to_be_written(
    preparation: LivePreparation,
) -> None:
    assert not preparation.ask("serve", "soon")
    assert preparation.look().message.endswith('write "now", "18:45" or "in 90 min"')


def test_the_thermometer_is_checked_in_ice_and_where_water_boils(
    preparation: LivePreparation,
) -> None:
    # Water boils at 202.8 °F at 5000 ft: the saturation line of IAPWS R7-97 at the pressure of
    # the standard atmosphere, as worked out in tests/safety.
    assert preparation.ask("thermometer", "203F at 5000 ft")
    assert "should show 202.8 °F, it shows 203 °F" in preparation.look().message
    view = preparation.look()
    assert view.thermometer.endswith("not checked in ice water, 203 °F boiling at 5000 ft")
    assert not any("oiling water" in text for text in view.problems)
    assert preparation.ask("thermometer", "212F at 5000 ft")
    assert any("no verdict with this thermometer" in text for text in preparation.look().problems)
    assert preparation.ask("thermometer", "35F")
    assert any("Ice water should show 32 °F" in text for text in preparation.look().problems)
    assert not preparation.ask("thermometer", "212F at the coast")
    assert "is no height" in preparation.look().message


def test_a_plan_changed_before_its_cook_is_read_anew_and_a_broken_one_changes_nothing(
    journal: Journal, tmp_path: Path
) -> None:
    file = tmp_path / "roots.toml"
    file.write_text(ROOTS, encoding="utf-8")
    with contextlib.closing(LivePreparation(load(file), journal, desk)) as found:
        found.press("chart")
        assert [line.name for line in found.look().lines][1] == "carrots"
        file.write_text(ROOTS.replace("carrots", "parsnips"), encoding="utf-8")
        view = found.look()
        assert view.message == "the plan's file has changed: read anew"
        assert [line.name for line in view.lines][1] == "parsnips"
        assert "Canada" in view.thermometer
        file.write_text(ROOTS.replace('"40 min"', '"40"'), encoding="utf-8")
        view = found.look()
        assert [line.name for line in view.lines][1] == "parsnips"
        assert any("the plan shown is the one before: " in text for text in view.problems)
        file.unlink()
        assert any("cannot be opened" in text for text in found.look().problems)
        file.write_text(ROOTS, encoding="utf-8")
        assert [line.name for line in found.look().lines][1] == "carrots"


def test_it_can_be_for_more_people_and_a_way_out_of_a_full_tray_is_cooked(
    journal: Journal, tmp_path: Path
) -> None:
    file = tmp_path / "tray.toml"
    plan = meal({"beets": "20 x 20 cm", "leeks": "10 x 20 cm"}, stages=False)
    file.write_text(plan_text(plan), encoding="utf-8")
    with contextlib.closing(LivePreparation(load(file), journal, desk)) as found:
        assert found.look().amounts == ()
        assert not found.ask("people", "a crowd")
        assert "no number of people" in found.look().message
        assert found.ask("people", "4")
        view = found.look()
        assert view.serves == "4"
        assert view.gather[0].text == "800 g beets"
        assert any("more than one layer" in text for text in view.problems)
        assert any("way 2: " in text and "two rounds" in text for text in view.problems)
        assert not found.ask("people", "4 way 3")
        assert found.ask("people", "4 way 2")
        view = found.look()
        assert not any("one layer" in text for text in view.problems)
        assert sum("round" in line.name for line in view.lines) == 2
        file.write_text(plan_text(plan).replace("400 g beets", "500 g beets"), encoding="utf-8")
        assert "read anew" in found.look().message
        assert sum(item.text == "500 g beets" for item in found.look().gather) == 2
        assert found.start() is not None
    (row,) = journal.runs()
    kept = read_plan(row.meta.plan_text, "x")
    assert (kept.serves, len(kept.components)) == (4, 3)
    resumed = CookSession.resume(journal, row.id, HandClock(utc=row.meta.started_utc))
    assert [c.name for c in resumed.state.plan.components] == [c.name for c in kept.components]


def test_the_kitchen_is_seen_on_the_time_plan_and_kept_with_the_cook(
    journal: Journal, tmp_path: Path
) -> None:
    lessons = [
        f'[[lesson]]\nrun = {n}\nbegan = {n}\nappliance = "oven"\npreheat = 1.6\n' for n in (1, 2)
    ]
    (tmp_path / "kitchen.toml").write_text("".join(lessons), encoding="utf-8")
    file = tmp_path / "roots.toml"
    file.write_text(ROOTS, encoding="utf-8")
    with contextlib.closing(LivePreparation(load(file), journal, desk)) as found:
        view = found.look()
        assert view.kitchen == ("oven: preheat 12 min 30 s instead of 10 min (your oven, 2 runs)",)
        heat = view.lines[0].segments[0]
        assert (heat.kind, heat.end - heat.start) == ("preheat", 750)
        live = found.start()
    assert isinstance(live, LiveDesk)
    assert live.session.state.plan.appliances[0].preheat == 750
    again = CookSession.resume(journal, 1, live.session.clock)
    assert again.state.plan.appliances[0].preheat == 750
    assert journal.run(1).meta.plan_text == ROOTS


def test_the_cautions_stand_there_until_the_first_cook(preparation: LivePreparation) -> None:
    assert preparation.look().cautions
    preparation.start()
    assert preparation.look().cautions == ()


def test_after_the_cook_scores_and_lines_are_in_the_journal(journal: Journal) -> None:
    clock = HandClock(utc=1_800_000_000.0, awake=500.0)
    session = CookSession.begin(read_plan(PLAN, "eggs"), clock, book=(journal, "eggs", PLAN))
    for text in ("PREPARE", "ADD"):
        clock.move(60)
        say_done(session, text)
    clock.move(240)
    session.tick()
    desk(session).enter("165F")
    for text in ("TAKE OUT", "FINISH eggs", "SWITCH OFF", "DISH UP"):
        say_done(session, text)
    after = LiveAftermath(session)
    after.judge(0, "over")
    after.judge(0, "just right")
    assert after.ask("change", "a minute less", None)
    assert after.ask("note", "too salty", 0)
    assert not after.ask("note", "  ", 0)
    view = after.look()
    assert view.message == "nothing was typed"
    assert view.rows[0].score == "just right"
    assert view.rows[0].verdict == "met, 165 °F"
    assert view.change == "a minute less"
    assert "too salty" in view.rows[0].note
    assert view.reminder.startswith("leftovers into the fridge by ")
    # FSIS and FoodSafety.gov: 40 °F or below, used within 3 to 4 days.
    assert view.reminder.endswith("at 40 °F / 4 °C or colder they keep 3 to 4 days")
    clock.move(2 * 3600 - 1)
    assert after.look().reminder == view.reminder
    clock.move(1)
    late = after.look().reminder
    # FSIS and FoodSafety.gov: two hours, one above 90 °F. The minute it left in is meant as well.
    assert f"throw away what left the heat by {local_time(clock.now().utc - 7200)}: " in late
    assert "2 h or longer (the limit is one hour in a room over 90 °F / 32 °C)" in late
    after.judge(0, "just right")
    assert after.look().rows[0].score is None
    again = CookSession.resume(journal, 1, clock)
    assert LiveAftermath(again).look().change == "a minute less"
    again.tell(Note(text="turned out: just right", component=0))
    assert again.state.served is not None
    live = LiveAftermath(again)
    assert live.revise() is None
    assert "is gone; its text is kept with the run" in live.look().message
    live.close()
    taught = [lesson.pace for lesson in read_kitchen().kitchen.lessons]
    assert taught == [240 / 300]


def test_sizes_and_another_mode_of_today_move_the_time_plan(preparation: LivePreparation) -> None:
    before = preparation.look()
    assert preparation.ask("size", "chicken=38mm")
    view = preparation.look()
    assert view.sizes[0].startswith("chicken thighs 38mm instead of 30 mm")
    assert view.span[1] > before.span[1]
    assert not preparation.ask("mode", "chicken=bake 400 F")
    view = preparation.look()
    assert any(line.startswith("by makers") for line in view.sizes)
    assert "choose" in view.message
    assert preparation.ask("mode", "chicken=bake 400 F by makers")
    assert any("instead of air fry" in line for line in preparation.look().sizes)
    assert not preparation.ask("size", "chicken=2m")
    assert preparation.ask("size", "as written")
    assert preparation.ask("mode", "as written")
    assert preparation.look().sizes == ()
    assert preparation.look().span == before.span
