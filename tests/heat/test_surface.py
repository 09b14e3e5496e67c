"""The moist surface against humid air and against convection correlations."""

import pytest
from ht.conv_free_immersed import Nu_horizontal_plate_VDI
from iapws import IAPWS97
from scipy.optimize import brentq

from passbell.heat.course import body_of, course
from passbell.heat.model import Exposure, Piece, Segment
from passbell.heat.surface import (
    cap,
    dry_flux,
    rest_films,
    vapour_pressure,
    wet_flux,
)

WET_BULBS = [
    # air °C, humidity ratio, thermodynamic wet bulb by the library CoolProp (from memory of a run)
    (163, 0.01, 43.85),
    (163, 0.05, 52.75),
    (177, 0.05, 53.79),
    (204, 0.10, 62.05),
    (163, 0.20, 68.65),
    (22, 0.008, 15.19),
]


@pytest.mark.parametrize(("air", "ratio", "bulb"), WET_BULBS)
def test_a_wet_surface_without_radiation_sits_at_the_wet_bulb(
    air: float, ratio: float, bulb: float
) -> None:
    vapour = 101325 * ratio / (0.622 + ratio)
    found = brentq(lambda t: 20 * (air - t) - wet_flux(20, t, vapour), 0.5, 99)
    assert found == pytest.approx(bulb, abs=1.0)


@pytest.mark.parametrize("celsius", [20.0, 40.0, 60.0, 80.0, 95.0])
def test_vapour_pressure_is_that_of_the_steam_tables(celsius: float) -> None:
    exact = IAPWS97(T=celsius + 273.15, x=0).P * 1e6
    assert vapour_pressure(celsius) == pytest.approx(exact, rel=0.004 if celsius <= 60 else 0.025)


def test_the_cap_lies_far_under_the_oven_and_never_above_it() -> None:
    """A moist surface in an oven of 163 °C tends to about 101 °C, in one of 204 °C to 112."""
    assert cap(163) == pytest.approx(101, abs=1)
    assert cap(204) == pytest.approx(112, abs=1.5)
    assert cap(177) == pytest.approx(105, abs=1.5)
    assert cap(50) <= 50
    assert cap(163, 2.1) < cap(163) < cap(163, 4.3)


@pytest.mark.parametrize("mode", ["bake", "convection", "air_fry"])
def test_the_film_has_the_dry_flux_at_40_and_nothing_at_the_cap(mode: str) -> None:
    oven = Exposure((Segment(0.0, 177.0, mode),))  # type: ignore[arg-type]
    leg = course(oven, 10.0, 60.0)[0]
    h, base, gap = leg.film(body_of(Piece(0.0, 12.7)))
    assert h * gap == pytest.approx(dry_flux(mode, 177.0))  # type: ignore[arg-type]
    assert base + gap == pytest.approx(cap(177.0))


def test_a_still_oven_in_all_is_what_was_measured() -> None:
    """Oven roasting of unstuffed turkeys in a conventional electric oven: 19.252 W/m²K in all."""
    assert dry_flux("bake", 163, 60) / (163 - 60) == pytest.approx(19.252, rel=0.12)


def test_the_still_ovens_convection_lies_among_the_correlations() -> None:
    """Free convection about a plate of 10 cm at 60 °C in air of 177 °C: relations of the VDI heat
    atlas as `ht` has them, air properties at the film temperature from memory."""
    nu, k, pr, length = 2.5e-5, 0.0331, 0.69, 0.10
    grashof = 9.81 / 391.5 * (177 - 60) * length**3 / nu**2
    favoured, hindered = (
        float(Nu_horizontal_plate_VDI(pr, grashof, way)) * k / length for way in (True, False)
    )
    assert hindered < 8.0 < favoured


def test_modes_are_in_their_order_and_rest_cools() -> None:
    fluxes = [dry_flux(mode, 177.0) for mode in ("bake", "convection", "air_fry")]
    assert fluxes == sorted(fluxes)
    films = rest_films(22.0)
    assert [seconds for seconds, _ in films][:2] == [60.0, 120.0]
    assert [film.h for _, film in films] == sorted((f.h for _, f in films), reverse=True)
    assert all(5 < film.h < 50 and film.around < 58 for _, film in films)
