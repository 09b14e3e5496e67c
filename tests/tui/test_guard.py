import pytest

from passbell.tui.guard import CHORD as CHORD_TIME
from passbell.tui.guard import FAST_REPEAT, REPEAT, KeyGuard
from passbell.tui.guard import QUIET as QUIET_TIME

CHORD, QUIET = CHORD_TIME + 0.001, QUIET_TIME + 0.001


def presses(guard: KeyGuard, *keys: tuple[str, float], fast: bool = False) -> list[str]:
    """The keys that come through, each settled before the next is pressed late enough."""
    through: list[str] = []
    for key, at in keys:
        through += guard.settle(at)
        guard.press(key, at, fast)
    return through + guard.settle(keys[-1][1] + CHORD)


def test_one_press_comes_through_after_a_moment() -> None:
    guard = KeyGuard()
    assert guard.press("enter", 10.0)
    assert guard.settle(10.0 + CHORD / 2) == []
    assert guard.settle(10.0 + CHORD) == ["enter"]
    assert guard.settle(11.0) == []


@pytest.mark.parametrize("delay", [0.25, 0.5, 0.66])
def test_a_held_key_is_one_press(delay: float) -> None:
    repeats = [("enter", 0.0)] + [("enter", delay + n / 30) for n in range(60)]
    assert presses(KeyGuard(), *repeats) == ["enter"]


def test_the_same_key_again_later_is_a_press_again() -> None:
    assert presses(KeyGuard(), ("enter", 0.0), ("enter", REPEAT + 0.01)) == ["enter", "enter"]


def test_a_wet_double_tap_is_one_press() -> None:
    assert presses(KeyGuard(), ("enter", 0.0), ("enter", 0.15)) == ["enter"]


def test_minutes_may_be_added_fast() -> None:
    taps = [("plus", n * (FAST_REPEAT + 0.03)) for n in range(5)]
    assert presses(KeyGuard(), *taps, fast=True) == ["plus"] * 5


def test_a_held_fast_key_does_not_run_away() -> None:
    repeats = [("plus", 0.0)] + [("plus", 0.5 + n / 30) for n in range(60)]
    assert len(presses(KeyGuard(), *repeats, fast=True)) == 2


def test_a_cloth_on_the_keyboard_does_nothing() -> None:
    guard = KeyGuard()
    chord = [(key, n * 0.01) for n, key in enumerate(("d", "enter", "f", "h", "b", "x"))]
    assert presses(guard, *chord) == []
    assert guard.chords == 1


def test_two_keys_at_once_do_nothing() -> None:
    assert presses(KeyGuard(), ("enter", 0.0), ("t", CHORD / 2)) == []


def test_a_cloth_that_moves_on_does_nothing_until_it_is_gone() -> None:
    guard = KeyGuard()
    moving = [("d", 0.0), ("f", 0.02), ("g", 0.2), ("enter", 0.4), ("h", 0.6)]
    assert presses(guard, *moving) == []
    assert guard.press("enter", 0.6 + QUIET)
    assert guard.settle(0.6 + QUIET + CHORD) == ["enter"]


def test_different_keys_one_after_the_other_come_through() -> None:
    keys = [("enter", 0.0), ("plus", 0.3), ("t", 0.5)]
    assert presses(KeyGuard(), *keys) == ["enter", "plus", "t"]


def test_enter_with_a_typed_digit_in_the_same_moment_is_dropped() -> None:
    guard = KeyGuard()
    guard.note("5", 1.0)
    assert not guard.press("enter", 1.0 + CHORD / 2)
    guard.note("5", 2.0)
    assert guard.press("enter", 2.1)


def test_a_dropped_chord_does_not_use_up_the_key() -> None:
    guard = KeyGuard()
    presses(guard, ("enter", 0.0), ("t", 0.01))
    assert guard.press("enter", 0.01 + QUIET)
