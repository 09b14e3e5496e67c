"""The sound fails in the middle of a cook: nobody waits, something is heard, it is said once."""

import pytest

from passbell.sound import faults
from tests.faults import sound

STALL = 0.05
"""Seconds of work that no call of the board may take from the timers."""


@pytest.mark.parametrize("name", [n for n in sound.FAULTS if n != "the player hangs"])
def test_an_alarm_is_heard_whatever_fails(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    # The second failure is one too many, not the third: the same way, two seconds shorter.
    monkeypatch.setattr(faults, "LIMIT", 2)
    found = sound.fault(name)
    assert found.by, "nobody was heard"
    assert found.player == sound.FAULTS[name][2]
    assert found.work < STALL
    assert found.longest < 1.0, "a call waited for the sound"
    assert found.told
    assert len(set(found.told)) == len(found.told), "said twice"


def test_a_device_that_is_plugged_in_again_is_used_again() -> None:
    found = sound.back_again()
    assert found.by[-1] == "native"
    assert len(found.told) == 1
