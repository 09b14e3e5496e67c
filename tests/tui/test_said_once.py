"""What the screen says of one thing in two places agrees, and its reasons fit what they explain."""

from passbell.session.outlooks import Outlooks
from passbell.tui.views.probe import HEAT_OFF
from passbell.tui.widgets.headline import draw_head, head_part
from tests.tui.drawn import text
from tests.tui.real_cook import RealCook


def test_an_earlier_dish_up_is_explained_by_what_was_ready_sooner() -> None:
    cook = RealCook().to(3300)
    found = cook.desk.tick().dish_up
    assert found.drift <= -30
    assert found.reason.endswith("sooner")
    assert "longer" not in found.reason


def test_what_is_on_the_table_was_served() -> None:
    view = RealCook().to(3300).desk.tick()
    assert view.dish_up.served
    assert "served 18:2" in text(draw_head(head_part(view), 80))
    assert ", now " not in text(draw_head(head_part(view), 80))


def test_below_its_minimum_only_the_forecast_says_when_to_look_again() -> None:
    cook = RealCook().to(2700, probing=False)
    assert cook.desk.enter("1 158")
    probe = cook.desk.tick().probe
    assert "It stays on the heat; probe place 1 again." in probe.advice
    assert any("look in" in line for line in probe.expect)


def test_with_the_heat_off_the_forecast_does_not_ask_for_more_heat() -> None:
    cook = RealCook().to(2200)
    cook.desk._outlooks = Outlooks(beside=False)
    cook.clock.move(1)
    cook.desk.press("heat_off")
    cook.clock.move(1)
    assert cook.desk.tick().probe.expect == (HEAT_OFF,)


def test_an_oven_that_is_to_be_on_by_now_has_no_countdown() -> None:
    cook = RealCook()
    assert cook.desk.tick().appliances[0].coming == "convection roast 400 °F on now"
