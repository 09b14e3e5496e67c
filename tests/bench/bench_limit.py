"""What readings can tell at all: the forecast in a kitchen that is exactly as it believes.

    python tests/bench/bench_limit.py [cooks, 120] [seed, 5]

The unknowns are drawn from the forecast's own prior, the body follows its own equations and the
probe scatters as it assumes. No estimate can then be much better than this one. Prints the error of
the time to target after 1 to 3 looks at fixed shares of the true time, minutes, median / 90th
percentile: where `bench_truth.py` is near it, only surer knowledge beforehand would help.
"""

import sys
from pathlib import Path

import numpy as np

from passbell.heat.course import Body, coarse_step, course
from passbell.heat.estimate import THERMOMETER_K, body_at, place_at
from passbell.heat.forecast import _bent, _calibrated, _drying, forecast
from passbell.heat.journey import Look, follow
from passbell.heat.model import Exposure, Forecast, Piece, PlanTime, Reading, Segment

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bench.kitchen import KINDS, Kind

LOOKS = (0.63, 0.91, 0.95)
"""Where the looks fall in `bench_truth.py`, as shares of the true time (medians)."""

PLANS = (20.0, 34.0, 29.0, 26.0, 82.0)
"""The plans' times there, minutes."""


def reached(body: Body, exposure: Exposure, target_c: float, until_s: float) -> float | None:
    return follow(body, course(exposure, coarse_step(body), until_s), (), target_c).reach_s


def misses(kind: Kind, plan_s: float, rng: np.random.Generator) -> list[float] | None:
    """The errors after each look of one cook, s; None: it never gets there."""
    piece = Piece(kind.shape, kind.sizes_mm[0] / 2, kind.food)
    segments = tuple(Segment(at, c, mode) for at, c, mode in kind.stages)  # type: ignore[arg-type]
    plain, target = Exposure(segments), kind.target_c
    found = _calibrated(piece, plain, target, plan_s)
    assert found is not None
    unknowns = tuple(float(x) for x in rng.standard_normal(5))
    body = body_at(_bent(_drying(piece), found), unknowns)
    alone = reached(body, plain, target, 6 * plan_s)
    if alone is None:
        return None
    at = [share * alone for share in LOOKS]
    opened = Exposure(segments, tuple(at))
    place = place_at(unknowns, piece.shape)
    legs = course(opened, coarse_step(body), 6 * plan_s)
    shown = follow(body, legs, [Look(t, place) for t in at], target)
    if shown.reach_s is None:
        return None
    scatter = THERMOMETER_K * rng.standard_normal(len(at))
    readings = [Reading(t, c + e) for t, c, e in zip(at, shown.looks, scatter, strict=True)]
    told = [forecast(piece, plain, target, readings[:n], PlanTime(plan_s)) for n in (1, 2, 3)]
    return [
        abs(f.from_s + f.eta_s - shown.reach_s) if isinstance(f, Forecast) else 6 * plan_s
        for f in told
    ]


def main() -> None:
    n = int(sys.argv[1]) if len(sys.argv) > 1 else 120
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 5
    every = []
    for place, (kind, minutes) in enumerate(zip(KINDS, PLANS, strict=True)):
        rng = np.random.default_rng((seed, place))
        drawn = (misses(kind, 60 * minutes, rng) for _ in range(n))
        rows = [row for row in drawn if row is not None]
        every += rows
        print(f"{kind.name:24s} {_figures(rows)}", flush=True)
    print(f"{'ALL':24s} {_figures(every)}")


def _figures(rows: list[list[float]]) -> str:
    found = [np.percentile(column, (50, 90)) / 60 for column in np.array(rows).T]
    return "   ".join(f"{k}: {a:.1f} / {b:.1f}" for k, (a, b) in enumerate(found, start=1))


if __name__ == "__main__":
    main()
