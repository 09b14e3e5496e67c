"""The short version of `kills`: two kills, one of a cook gone on with."""

from tests.faults import kills


def test_nothing_that_a_screen_showed_is_lost_by_a_kill() -> None:
    tally = kills.run(2, seed=8)
    assert tally.lost == []
    assert tally.kills == 2
    assert tally.screens + tally.torn == 2
    assert tally.resumed == 1
    assert tally.entries >= 2
