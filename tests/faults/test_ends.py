"""The short version of `ends`: a cook whose window is closed, two programs at one cook."""

import pytest

from tests.faults import ends


@pytest.mark.parametrize("kind", ["closed", "two"])
def test_nothing_is_lost_however_a_cook_ends(kind: str) -> None:
    tally = ends.run(kind, 1, seed=2, fresh=True)
    assert tally.lost == []
    assert (tally.kills, tally.starting) == (1, 0)
    assert tally.screens + tally.torn == 1
