"""An exposure cut into legs of equal steps, prepared once and walked many times."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from passbell.heat.air import LAG_S, Air, air_of
from passbell.heat.cells import CELLS, Row, cells
from passbell.heat.conduction import factored, march, soft_start
from passbell.heat.model import Exposure, ModeKey, Piece, Segment
from passbell.heat.properties import properties_of
from passbell.heat.surface import MOISTURE, TURN_C, cap, dry_flux, rest_films

_FINE = 0.008
_SHORTEST, _LONGEST, _COARSEST = 2.0, 20.0, 60.0
_CHUNK = 24
_COOLING_S, _COOLED = 60.0, 4.0


@dataclass(frozen=True, slots=True)
class Leg:
    """A stretch with one film and equal steps.

    Attributes:
        start_s: when it begins, s.
        step_s: length of a step, s.
        flux: dry flux at 40 °C, W/m² (oven), or the film's coefficient, W/m²K (room).
        air_c: oven air, °C; None in room air, where the film does not depend on the unknowns.
        around: per step, the share of `flux` that acts (oven), or what the surface sees (room).
    """

    start_s: float
    step_s: float
    flux: float
    air_c: float | None
    around: tuple[float, ...]

    def film(self, body: "Body") -> tuple[float, float, float]:
        """Coefficient, W/m²K, and the two weights that turn `around` into °C."""
        if self.air_c is None:
            return self.flux, 0.0, 1.0
        gap = min(cap(self.air_c, body.moisture), body.ceiling_c) - TURN_C
        return body.coefficient * self.flux / gap, TURN_C, gap


@dataclass(frozen=True, slots=True)
class Stretch:
    """Temperatures after equal steps.

    Attributes:
        start_s: when the first row holds, s.
        step_s: time from row to row, s.
        rows: the temperatures of the cells, °C.
    """

    start_s: float
    step_s: float
    rows: list[Row]

    @property
    def end_s(self) -> float:
        """When the last row holds, s."""
        return self.start_s + (len(self.rows) - 1) * self.step_s


@dataclass(frozen=True, slots=True)
class Body:
    """A piece with the unknowns put in.

    Attributes:
        shape: index of the shape.
        half_m: half thickness, m.
        k: conductivity, W/mK.
        alpha: diffusivity, m²/s.
        start_c: temperature when it goes in, °C.
        coefficient: factor on the surface coefficient of every oven mode.
        moisture: κ of the surface.
        ceiling_c: the surface's cap is no higher than this, °C.
    """

    shape: float
    half_m: float
    k: float
    alpha: float
    start_c: float
    coefficient: float = 1.0
    moisture: float = MOISTURE
    ceiling_c: float = math.inf


def body_of(piece: Piece, coefficient: float = 1.0) -> Body:
    """The body of a piece as the cook wrote it."""
    food = properties_of(piece.food_key)
    half = piece.half_mm / 1000
    return Body(piece.shape, half, food.k, food.alpha, piece.start_c, coefficient)


def step_for(body: Body) -> float:
    """A step that keeps the accuracy of the solver, s: 0.008 L²/α between 2 and 20 s."""
    return min(max(_FINE * body.half_m**2 / body.alpha, _SHORTEST), _LONGEST)


def coarse_step(body: Body) -> float:
    """Step of a fit, s: twice the fine one; a door's dip of 75 s must still be seen in it."""
    return min(max(2 * _FINE * body.half_m**2 / body.alpha, 2 * _SHORTEST), _COARSEST)


def course(exposure: Exposure, step_s: float, until_s: float) -> tuple[Leg, ...]:
    """The legs of an exposure from going in to `until_s`."""
    air = air_of(exposure)
    ends = [s.at_s for s in exposure.segments[1:]]
    legs: list[Leg] = []
    for segment, end in zip(exposure.segments, [*ends, until_s], strict=True):
        legs += _legs(segment, min(end, until_s), step_s, (air, exposure.room_c))
    return tuple(legs)


def _legs(segment: Segment, end: float, step_s: float, around: tuple[Air, float]) -> Iterator[Leg]:
    if end <= segment.at_s:
        return
    if segment.mode == "rest":
        yield from _resting(segment, end, step_s)
    elif segment.air_c < TURN_C:
        yield from _cooling(segment, end, step_s, around[0])
    else:
        yield _leg(segment.mode, segment.air_c, (segment.at_s, end, step_s), around[0])


def _leg(mode: ModeKey, air_c: float, when: tuple[float, float, float], air: Air) -> Leg:
    """A stretch (from, to, longest step, s) whose film is made straight for one oven air."""
    start, end, longest = when
    n, step = _steps(end - start, longest)
    flux = dry_flux(mode, max(air_c, TURN_C + 1))
    seen = (air.at(start + (i + 0.5) * step) for i in range(n))
    return Leg(start, step, flux, air_c, tuple(_share(mode, one, flux) for one in seen))


def _cooling(segment: Segment, end: float, step_s: float, air: Air) -> Iterator[Leg]:
    """An oven whose heat is off: its air falls, so that no one film holds for long."""
    at = segment.at_s
    while at < end:
        last = min(end, at + _COOLING_S) if at - segment.at_s < _COOLED * LAG_S else end
        seen = max(air.at((at + min(last, at + _COOLING_S)) / 2), TURN_C + 1)
        yield _leg(segment.mode, seen, (at, last, step_s), air)
        at = last


def _share(mode: ModeKey, air_c: float, flux: float) -> float:
    return dry_flux(mode, air_c) / flux


def _resting(segment: Segment, end: float, step_s: float) -> Iterator[Leg]:
    at = segment.at_s
    for seconds, film in rest_films(segment.air_c):
        last = min(at + seconds, end)
        if last > at:
            n, step = _steps(last - at, step_s)
            yield Leg(at, step, film.h, None, (film.around,) * n)
        at = last


def _steps(seconds: float, step_s: float) -> tuple[int, float]:
    n = max(1, math.ceil(seconds / step_s - 1e-9))
    return n, seconds / n


def walk(body: Body, legs: tuple[Leg, ...]) -> Iterator[Stretch]:
    """Walk a body along its legs, a few steps at a time so that a caller may stop early."""
    geometry = cells(body.shape)
    row: Row = (body.start_c,) * CELLS
    for leg in legs:
        h, base, gap = leg.film(body)
        fourier = body.alpha * leg.step_s / body.half_m**2
        matrix = factored(geometry, h * body.half_m / body.k, fourier)
        around = [base + gap * share for share in leg.around]
        rows = [row, soft_start(matrix, row, around[0])]
        done, begin = 0, 1
        while done < len(around):
            rows += march(matrix, rows[-1], around[begin : begin + _CHUNK])
            yield Stretch(leg.start_s + done * leg.step_s, leg.step_s, rows)
            done += len(rows) - 1
            begin = done
            row = rows[-1]
            rows = [row]
