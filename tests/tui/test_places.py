from dataclasses import fields
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passbell.tui.places import Place, Places, arrange

SHOWN = ("head", "now", "appliances", "rows", "hands", "side", "foot", "keys")


def overlap(a: Place, b: Place) -> bool:
    across = a.x < b.x + b.width and b.x < a.x + a.width
    return across and a.y < b.y + b.height and b.y < a.y + a.height


def all_places(places: Places) -> dict[str, Place]:
    found = {f.name: getattr(places, f.name) for f in fields(places)}
    return {name: place for name, place in found.items() if isinstance(place, Place)}


@given(
    st.integers(1, 260), st.integers(1, 120), st.integers(0, 8), st.integers(0, 40), st.booleans()
)
def test_everything_is_on_the_screen_and_nothing_overlaps(
    width: int, height: int, appliances: int, rows: int, far: bool
) -> None:
    places = all_places(arrange(width, height, appliances, rows, far))
    for name, place in places.items():
        assert min(place.x, place.y) >= 0, name
        assert min(place.width, place.height) >= 1, name
        assert place.x + place.width <= width, name
        assert place.y + place.height <= height, name
    shown = [places[name] for name in SHOWN if name in places]
    assert not any(overlap(a, b) for a, b in combinations(shown, 2))


def test_eighty_by_twenty_four_shows_six_components_whole() -> None:
    places = arrange(80, 24, 2, 6)
    assert places.rows is not None
    assert places.rows.height == 6
    assert places.appliances is not None
    assert places.appliances.height == 2
    assert places.foot is not None
    assert places.foot.height == 3
    assert places.now.height == 8
    assert places.hands is not None
    assert places.head is not None
    assert places.keys is not None


def test_a_large_terminal_gives_now_the_most() -> None:
    places = arrange(200, 60, 2, 6)
    assert places.rows is not None
    assert places.foot is not None
    assert places.now.height >= places.rows.height
    assert places.now.height > arrange(120, 40, 2, 6).now.height > arrange(80, 24, 2, 6).now.height


@pytest.mark.parametrize(("width", "height"), [(40, 12), (20, 5), (10, 3), (1, 1)])
def test_a_small_terminal_keeps_now(width: int, height: int) -> None:
    places = arrange(width, height, 2, 6)
    assert places.now.y <= 1
    assert places.now.height >= min(height, 2)
    assert height < 11 or places.foot is not None


def test_help_leaves_now_in_sight() -> None:
    for size in ((80, 24), (120, 40), (200, 60)):
        places = arrange(*size, 2, 6)
        assert places.cover.y >= places.now.y + places.now.height


def test_far_gives_everything_to_now() -> None:
    places = arrange(80, 24, 2, 6, far=True)
    assert places.now.height == 23
    assert places.rows is None
    assert places.foot is None
