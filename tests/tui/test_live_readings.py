"""Readings and forecasts at the desk of a real cook: judged, shown, offered, worked out beside."""

import asyncio

import pytest

from passbell.session.outlooks import Outlooks
from passbell.tui.views.probe import REST_OVER
from passbell.tui.widgets.probe import draw_probe
from tests.cook.meals import CHOPS
from tests.cook.test_outlook import ROAST as CHOPS_AND_POTATOES
from tests.tui.drawn import texts
from tests.tui.live_kitchen import Kitchen, Roasting


def test_a_reading_with_its_unit_leaves_the_next_bare_number_in_the_thermometers_own(
    kitchen: Kitchen,
) -> None:
    """66c and then 95, meant as °F, once read as 95 °C: raw chicken at its minimum."""
    kitchen.to(33 * 60 + 10)
    assert kitchen.desk.enter("1 66c")
    assert kitchen.wait(0.2).view.probe.scale == "F"
    assert kitchen.desk.enter("1 95")
    assert kitchen.desk.enter("2 95")
    assert [r.scale for r in kitchen.session.state.readings] == ["C", "F", "F"]
    assert kitchen.wait(0.2).view.probe.verdict == "BELOW"


def test_readings_are_judged_and_the_box_says_what_to_do(kitchen: Kitchen) -> None:
    kitchen.to(33 * 60 + 10)
    assert kitchen.view.probe.component == "chicken thighs"
    assert kitchen.view.probe.minimum == "165 °F"
    assert kitchen.desk.enter("150")
    kitchen.wait(0.2)
    assert kitchen.desk.enter("2 170")
    probe = kitchen.wait(0.2).view.probe
    assert probe.verdict == "BELOW"
    assert [m.reached for m in probe.readings] == [False, True]
    assert kitchen.view.rows[1].alert.startswith("BELOW by 15 °F, look again in")
    kitchen.desk.enter("1 168")
    kitchen.wait(0.2)
    assert kitchen.view.probe.verdict == "minimum met"
    assert any(line.verb == "TAKE OUT" for card in kitchen.view.cards for line in card.lines)


def test_a_rest_is_asked_for_until_it_is_over_and_then_no_more() -> None:
    # USDA FSIS, "Safe Minimum Internal Temperature Chart": whole cuts of pork rest three minutes.
    kitchen = Kitchen(CHOPS)
    kitchen.to(kitchen.session.state.schedule.ends[0][1] - 30)
    for place in (1, 2):
        assert kitchen.desk.enter(f"{place} 150")
    assert "Then rest it 3 min" in " ".join(kitchen.wait(1).view.probe.advice)
    kitchen.desk.select(0)
    kitchen.press("take_out").wait(170)
    assert "Then rest it 3 min" in " ".join(kitchen.view.probe.advice)
    assert REST_OVER not in kitchen.view.probe.advice
    kitchen.wait(15)
    assert REST_OVER in kitchen.view.probe.advice
    assert "Then rest it" not in " ".join(kitchen.view.probe.advice)


def test_a_rest_cut_short_is_never_said_to_be_over(monkeypatch: pytest.MonkeyPatch) -> None:
    kitchen = Kitchen(CHOPS)
    kitchen.to(kitchen.session.state.schedule.ends[0][1] - 30)
    for place in (1, 2):
        assert kitchen.desk.enter(f"{place} 150")
    kitchen.desk.select(0)
    kitchen.press("take_out")
    cut = kitchen.session.now() + 60
    kitchen.wait(1200)
    assert REST_OVER in kitchen.view.probe.advice
    monkeypatch.setattr("passbell.tui.views.probe.cut_at", lambda state, index: cut)
    assert REST_OVER not in kitchen.wait(1).view.probe.advice


def test_the_take_out_key_puts_back_what_came_out_too_early(kitchen: Kitchen) -> None:
    kitchen.to(32 * 60)
    kitchen.desk.select(1)
    kitchen.press("take_out")
    line = kitchen.view.cards[0].lines[0]
    assert (line.verb, line.what) == ("PUT BACK", "chicken thighs")
    assert kitchen.view.rows[1].alert.endswith("put back, keep going")
    assert kitchen.view.rows[0].words.endswith("stays with chicken thighs")
    kitchen.press("take_out", after=30)
    assert kitchen.session.state.steps[1][1].running
    kitchen.desk.enter("chicken 150")
    kitchen.press("take_out")
    kitchen.press("done", after=2)
    assert kitchen.session.state.steps[1][1].running, "Done on the cue does it as well"


def test_the_forecast_stands_in_the_box_and_on_the_row() -> None:
    kitchen = Roasting()
    untold = kitchen.wait(1).view.probe.expect
    assert not any("Once out" in line for line in untold), "the plan alone does not know"
    assert kitchen.desk.enter("chops 35c")
    kitchen.wait(1)
    assert any("Once out" in line for line in kitchen.view.probe.expect)
    probe, row = kitchen.view.probe, kitchen.view.rows[0]
    assert probe.expect[0].startswith("146 °F expected in about ")
    assert "look in " in probe.expect[0]
    assert any("Only readings on the heat count" in line for line in probe.expect)
    assert row.expect.startswith("146 °F in ~")
    assert kitchen.view.rows[1].share is not None
    assert "done in" in kitchen.view.rows[1].expect


def test_what_is_there_is_not_expected_any_more() -> None:
    """Pork, US chart: 145 °F (FSIS); the plan cooks it until 63 °C."""
    kitchen = Roasting()
    for place in ("1", "2"):
        assert kitchen.desk.enter(f"chops {place} 66c")
        kitchen.wait(1)
    probe, row = kitchen.view.probe, kitchen.view.rows[0]
    assert [line for line in probe.expect if not line.startswith("Once out")] == []
    assert probe.offer == ""
    assert row.expect == row.soon == ""


def test_an_end_that_moves_is_offered_and_waits_for_done() -> None:
    kitchen = Roasting()
    kitchen.desk.enter("chops 24c")
    kitchen.wait(1)
    assert "longer shows all" in kitchen.view.probe.offer
    kitchen.wait(60)
    assert kitchen.session.state.steps[0][0].extra == 0
    pending = kitchen.press("longer").view.pending
    assert pending is not None
    assert pending.words.startswith("chops alone: +")
    assert pending.left is None
    assert [e.name for e in pending.effects][-1] == "dish-up"
    assert kitchen.wait(30).view.pending is not None
    assert kitchen.press("drop").view.pending is None
    assert kitchen.session.state.steps[0][0].extra == 0
    assert kitchen.view.probe.offer == ""


async def test_forecasts_are_worked_out_beside_the_screen() -> None:
    """The first answer is not waited for; it is there soon, and the same as when it is."""
    kitchen = Roasting()
    beside, waited = Outlooks(), Outlooks(beside=False)
    state = kitchen.session.state
    try:
        beside.look(state)
        for _ in range(400):
            if 0 in beside.look(state):
                break
            await asyncio.sleep(0.01)
        assert beside.look(state) == waited.look(state)
    finally:
        beside.close()


def test_a_minimum_met_by_a_reading_that_can_hardly_be_is_met_and_doubted() -> None:
    """Raw chops read 66 °C half a minute after they went in: the chart's word stands."""
    kitchen = Kitchen(CHOPS_AND_POTATOES)
    kitchen.desk._outlooks = Outlooks(beside=False)
    kitchen.to(kitchen.session.state.schedule.starts[0][0] + 30)
    for place in "1", "2":
        assert kitchen.desk.enter(f"chops {place} 66c")
        kitchen.wait(1)
    view = kitchen.view
    assert view.probe.verdict == "minimum met"
    assert view.probe.doubted
    take_out = view.cards[0].lines[0]
    assert (take_out.verb, take_out.what) == ("TAKE OUT", "chops")
    assert take_out.how.startswith("odd reading: probe again first")
    drawn = texts(draw_probe(view.probe, None, 80, 4))
    assert "hotter than it can well be yet" in drawn
    assert "minimum met" in drawn
