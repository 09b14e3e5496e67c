"""The room that food takes on a tray, reckoned from its pieces, beside figures from outside."""

import math
from fractions import Fraction

import numpy as np
import pytest

from passbell.plan.dump import plan_text
from passbell.plan.model import Component, Plan
from passbell.plan.read import read_plan
from passbell.plan.room import CLOSEST, SPREAD, room_of
from passbell.plan.scaling import scaled
from passbell.planfiles import find_plan
from tests.plan.test_findings import PLATE, ROAST


def dish(**keys: object) -> Component:
    return Component.model_validate({"name": "it", "steps": [ROAST, PLATE], **keys})


def test_an_area_that_is_written_is_taken_as_it_is() -> None:
    room = room_of(dish(area="20 x 15 cm", size="25 mm", ingredients=["1 kg roots"]))
    assert room is not None
    assert (room.cm2, room.least, room.grounds) == (300, 300, "")


def test_pieces_of_one_footprint_are_counted() -> None:
    room = room_of(dish(piece="12 x 9 cm", pieces=6, food="poultry_pieces"))
    assert room is not None
    assert room.cm2 == 6 * 12 * 9
    assert room.grounds == "6 × 12 x 9 cm"


@pytest.mark.parametrize(
    ("lines", "grams"),
    [
        (["350 g waxy potatoes, in 25 mm wedges"], 350),
        (["1 kg squash", "1 tbsp oil"], 1000),
        (["400 g carrots", "0.4 kg parsnips", "salt"], 800),
        (["2 boneless thighs, skin on, about 150 g each"], 300),
        (["4 fillets, 6 oz each"], 4 * 6 * 28.349523125),  # NIST SP 811: an ounce in grams
        (["1 to 1 1/2 lb beans"], 1.5 * 453.59237),  # the same
    ],
)
def test_a_weight_and_a_thickness_say_what_is_covered(lines: list[str], grams: float) -> None:
    room = room_of(dish(size="25 mm", ingredients=lines))
    assert room is not None
    # Its volume as a slab of that thickness, one gram a cubic centimetre.
    assert room.cm2 * SPREAD == pytest.approx(grams / 2.5)
    assert room.least * CLOSEST == pytest.approx(grams / 2.5)


def test_balls_and_rolls_cover_their_outlines() -> None:
    # Twelve balls of 4 cm: each weighs π/6 · 4³ g and covers π/4 · 4² cm² (a sphere's volume and
    # its shadow, Euclid).
    each = math.pi / 6 * 64
    ball = room_of(dish(shape="sphere", size="4 cm", ingredients=[f"{12 * each:.2f} g mince"]))
    counted = room_of(dish(shape="sphere", size="4 cm", pieces=12))
    assert ball is not None
    assert counted is not None
    assert ball.cm2 * SPREAD == pytest.approx(12 * math.pi * 4, rel=1e-3)
    assert counted.cm2 == pytest.approx(ball.cm2, rel=1e-3)
    # A roll of 9 cm and 20 cm length weighs π/4 · 9² · 20 g and covers 9 x 20 cm.
    weight = math.pi / 4 * 81 * 20
    roll = room_of(dish(shape="cylinder", size="9 cm", ingredients=[f"{weight:.1f} g loin"]))
    assert roll is not None
    assert roll.cm2 * SPREAD == pytest.approx(180, rel=1e-3)


@pytest.mark.parametrize(
    "keys",
    [
        {},
        {"size": "25 mm"},
        {"ingredients": ["1 kg roots"]},
        {"size": "25 mm", "ingredients": ["a handful of beans", "200 ml stock", "3 carrots"]},
        {"size": "25 mm", "pieces": 3, "food": "fish"},
    ],
)
def test_where_nothing_says_it_is_not_known(keys: dict[str, object]) -> None:
    assert room_of(dish(**keys)) is None


def test_pieces_spread_at_random_cover_what_the_literature_says() -> None:
    """Discs dropped where there is room, on a surface without edges, by another hand's method.

    "Random sequential adsorption", Journal of Theoretical Biology 87 (1980), gives 0.547 after
    endless tries; after so few as these a little of it is missing.
    """
    random = np.random.default_rng(7)
    side, discs = 16.0, np.empty((0, 2))
    for tried in random.random((20000, 2)) * side:
        apart = np.abs(discs - tried)
        apart = np.minimum(apart, side - apart)
        if not len(discs) or (apart**2).sum(axis=1).min() >= 1:
            discs = np.vstack([discs, tried])
    cover = len(discs) * math.pi / 4 / side**2
    assert SPREAD - 0.03 < cover < SPREAD + 0.01


def test_the_bundled_trays_take_at_least_what_is_reckoned() -> None:
    for name in ("tray-supper", "sunday-roast", "meatless-supper"):
        for own in find_plan(name).plan.components:
            room = room_of(own.model_copy(update={"area": None}))
            if own.area is not None and room is not None:
                assert room.cm2 < own.area.cm2 * 1.05, own.name


def test_a_footprint_is_read_written_and_grows_in_number() -> None:
    text = (
        'title="t"\nserves=2\n[[component]]\nname="a"\nfood="plant"\npieces=3\n'
        'piece="5 x 5 cm"\nsteps=[{finish="x",time="1 min"}]\n'
    )
    plan = read_plan(text, "x")
    assert read_plan(plan_text(plan), "x") == plan
    five = scaled(plan, text, 5)
    assert five.plan.components[0].pieces == 8
    assert any("8 pieces instead of 3" in note for note in five.notes)
    room = room_of(five.plan.components[0])
    assert room is not None
    assert Fraction(room.cm2) == 200
    assert isinstance(five.plan, Plan)
