"""How long the forecast takes, in CPU time.

python tests/bench/bench_heat.py

Prints the median of many runs beside what is asked: a forecast of 60 minutes in less than 1 ms, a
refit after a reading with its 80 % interval in less than 40 ms; and SciPy's Radau on the same 12
cells beside the solver.
"""

import statistics
import time
from collections.abc import Callable

import numpy as np
from scipy.integrate import solve_ivp

from passbell.heat import Exposure, Piece, PlanTime, Reading, Segment, forecast
from passbell.heat.cells import cells
from passbell.heat.course import Body, body_of, course, step_for, walk
from passbell.heat.forecast import _calibrated

CHOP = Piece(0.0, 12.7, "pork_whole", 4.0)
THICK = Piece(0.0, 19.05, "pork_whole", 4.0)
ROAST = Piece(1.0, 38.1, "pork_whole", 4.0)
OVEN = Exposure((Segment(0.0, 204.4, "convection"), Segment(480.0, 162.8, "air_fry")))


def median_ms(task: Callable[[], object], runs: int) -> float:
    times = []
    for _ in range(runs):
        begin = time.process_time_ns()
        task()
        times.append((time.process_time_ns() - begin) / 1e6)
    return statistics.median(times)


def hour(body: Body) -> None:
    for _ in walk(body, course(OVEN, step_for(body), 3600.0)):
        pass


def radau(body: Body) -> None:
    """The same 12 cells and film, one stage, by SciPy."""
    geometry = cells(body.shape)
    volume = np.array(geometry.volume)
    link, film = np.array(geometry.link), 1 / (1 / 1.5 + 1 / geometry.skin)

    def slope(_: float, u: np.ndarray) -> np.ndarray:
        flow = np.concatenate(([0.0], link * np.diff(u), [film * (101 - u[-1])]))
        return np.asarray(np.diff(flow) / volume * body.alpha / body.half_m**2)

    solve_ivp(slope, (0, 3600), np.full(12, 4.0), method="Radau", rtol=1e-4)


def refit(piece: Piece, plan_s: float, readings: int, *, cold: bool) -> None:
    if cold:
        _calibrated.cache_clear()
    at = [0.55 * plan_s, 0.72 * plan_s, 0.85 * plan_s][:readings]
    shown = [Reading(t, c) for t, c in zip(at, (33.0, 45.0, 53.0), strict=False)]
    forecast(piece, OVEN, 62.8, shown, PlanTime(plan_s))


def main() -> None:
    print("60 minutes, one piece (asked: under 1 ms)")
    for name, piece in (("chop 1 in", CHOP), ("chop 1.5 in", THICK), ("roast 3 in", ROAST)):
        body = body_of(piece)
        ours, scipys = median_ms(lambda b=body: hour(b), 60), median_ms(lambda b=body: radau(b), 9)  # type: ignore[misc]
        print(f"  {name:12s} {ours:6.2f} ms   Radau {scipys:6.1f} ms   ratio {scipys / ours:5.1f}")
    print("forecast with its 80 % interval and rise (asked: under 40 ms after a reading)")
    for name, piece, plan in (
        ("chop 1 in", CHOP, 1080.0),
        ("chop 1.5 in", THICK, 2040.0),
        ("roast 3 in", ROAST, 5400.0),
    ):
        cells_ = [
            f"{k}: {median_ms(lambda p=piece, s=plan, n=k: refit(p, s, n, cold=False), 15):5.1f}"  # type: ignore[misc]
            for k in range(4)
        ]
        cold = median_ms(lambda p=piece, s=plan: refit(p, s, 1, cold=True), 9)  # type: ignore[misc]
        print(f"  {name:12s} ms after readings {', '.join(cells_)}; with calibration {cold:5.1f}")


if __name__ == "__main__":
    main()
