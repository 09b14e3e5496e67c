"""Benchmark of truth: the forecast against a kitchen that is not the one it believes in.

    python tests/bench/bench_truth.py [cooks of each kind, 80] [seed, 1]

Prints, after 0 to 3 readings, the error of the time to target (minutes, median / 90th percentile)
of the forecast, of a straight line through the last two readings, and of an exponential approach
to the set point through them; and how often the 80 % interval held the truth.
"""

import math
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from passbell.heat.forecast import forecast
from passbell.heat.model import Exposure, Forecast, Piece, PlanTime, Reading, Segment

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bench.kitchen import KINDS, LEVELS, Cooks, Draws, Kind, drawn, middle

READINGS = 3
NEVER = 240.0
Figures = tuple[float, float, float, float, float, float]


@dataclass(frozen=True, slots=True)
class Row:
    """One forecast: absolute instants in seconds from going in, and the truth."""

    kind: str
    readings: int
    truth: float
    model: float
    low: float
    high: float
    line: float
    newton: float
    rise: float
    rose: float


def step_of(kind: Kind) -> float:
    return 1.5 if kind.sizes_mm[0] < 35 else 3.0 if kind.sizes_mm[0] < 60 else 6.0


def rest_of(kind: Kind) -> float:
    """Long enough for the peak after taking out, s."""
    return 900.0 if kind.sizes_mm[0] < 60 else 2700.0


def tested_times(kind: Kind, draws: Draws) -> list[float]:
    """What test cooks would have written, s: whole minutes, the door opened once at 4/5."""
    times = np.full(len(draws.k), np.inf)
    for _ in (1, 2):
        cooks = Cooks(kind, draws, step_of(kind))
        reached = np.full(cooks.n, np.nan)
        while np.isnan(reached).any() and cooks.now < NEVER * 60:
            cooks.advance()
            reached[np.isnan(reached) & (cooks.coldest >= kind.target_c)] = cooks.now
            due = (cooks.now >= 0.8 * times) & (cooks.now - cooks.step < 0.8 * times)
            if due.any():
                cooks.open_door(due)
        times = np.nan_to_num(reached, nan=NEVER * 60)
    return [60 * max(1, round(float(t) / 60)) for t in times]


def asked(kind: Kind, readings: Sequence[Reading], time_s: float) -> Forecast | None:
    piece = Piece(kind.shape, kind.sizes_mm[0] / 2, kind.food)
    segments = tuple(Segment(at, c, mode) for at, c, mode in kind.stages)  # type: ignore[arg-type]
    told = forecast(piece, Exposure(segments), kind.target_c, readings, PlanTime(time_s))
    return told if isinstance(told, Forecast) else None


def by_line(points: Sequence[tuple[float, float]], target: float) -> float:
    (t0, c0), (t1, c1) = points[-2:]
    return math.inf if c1 <= c0 else t1 + (target - c1) * (t1 - t0) / (c1 - c0)


def by_newton(points: Sequence[tuple[float, float]], target: float, air: float) -> float:
    (t0, c0), (t1, c1) = points[-2:]
    rate = math.log((air - c0) / (air - c1)) / (t1 - t0)
    return math.inf if rate <= 0 else t1 + math.log((air - c1) / (air - target)) / rate


def cook_all(
    kind: Kind, draws: Draws, times: Sequence[float], rng: np.random.Generator
) -> list[Row]:
    """Cook every piece to its target, asking the forecast at the looks it asks for."""
    cooks = Cooks(kind, draws, step_of(kind))
    n = cooks.n
    readings: list[list[Reading]] = [[] for _ in range(n)]
    told: list[list[Figures]] = [[] for _ in range(n)]
    looks = [ask(kind, readings[i], times[i], told[i]) for i in range(n)]
    reached = np.full(n, np.nan)
    peak = np.zeros(n)
    while cooks.now < NEVER * 60 and not (cooks.now > np.max(reached) + rest_of(kind)):
        cooks.advance()
        done = np.isnan(reached) & (cooks.coldest >= kind.target_c)
        reached[done] = cooks.now
        cooks.out |= done
        peak = np.maximum(peak, cooks.t[:, LEVELS // 2, 0, 0])
        due = [i for i in range(n) if cooks.now >= looks[i] and np.isnan(reached[i])]
        for i in due:
            shown = cooks.at_probe(i) + draws.probe_bias[i] + 0.7 * rng.standard_normal()
            readings[i].append(Reading(cooks.now, round(float(shown), 1)))
            looks[i] = ask(kind, readings[i], times[i], told[i])
        if due:
            cooks.open_door(np.isin(np.arange(n), due))
    return [
        Row(kind.name, k, float(reached[i]), *figures, float(peak[i] - kind.target_c))
        for i in range(n)
        for k, figures in enumerate(told[i])
        if not np.isnan(reached[i])
    ]


def ask(kind: Kind, readings: list[Reading], time_s: float, told: list[Figures]) -> float:
    """Ask, keep the answers, and return the instant of the next look."""
    answer = asked(kind, readings, time_s)
    air = kind.stages[-1][1]
    points = [(0.0, 4.0), *((r.at_s, r.temp_c) for r in readings)]
    line = by_line(points, kind.target_c) if readings else math.inf
    newton = by_newton(points, kind.target_c, air) if readings else math.inf
    if answer is None:
        told.append((math.inf, 0.0, math.inf, line, newton, 0.0))
        return math.inf
    high = math.inf if answer.eta_high_s is None else answer.from_s + answer.eta_high_s
    eta, low = answer.from_s + answer.eta_s, answer.from_s + answer.eta_low_s
    told.append((eta, low, high, line, newton, answer.rise_c))
    if len(readings) >= READINGS:
        return math.inf
    return answer.from_s + max(answer.look_again_s, 30)


def spread(errors: Sequence[float]) -> str:
    if not errors or all(math.isinf(e) for e in errors):
        return "      –     "
    sizes = [min(abs(e) / 60, NEVER) for e in errors]
    middle_, high = np.percentile(sizes, (50, 90))
    return f"{middle_:5.2f} /{high:6.2f}"


def table(rows: Sequence[Row]) -> Iterator[str]:
    for k in range(READINGS + 1):
        those = [r for r in rows if r.readings == k]
        if not those:
            continue
        held = np.mean([r.low <= r.truth <= r.high for r in those])
        cells = [
            spread([getattr(r, f) - r.truth for r in those]) for f in ("model", "line", "newton")
        ]
        share = spread([60 * 100 * (r.model - r.truth) / r.truth for r in those])
        width = np.median([(r.high - r.low) / 60 for r in those])
        yield (
            f"  {k} readings  n {len(those):4d}  model {cells[0]}  line {cells[1]}  "
            f"exponential {cells[2]}  covers {100 * held:3.0f} %  share {share} %  "
            f"width {width:4.1f}"
        )


def rises(rows: Sequence[Row]) -> str:
    """How far the middle rose after taking out, and the error of its forecast, K."""
    those = [r for r in rows if r.readings == READINGS and r.rose > 0]
    off = [abs(r.rise - r.rose) for r in those]
    rose = np.median([r.rose for r in those])
    return f"  rise {rose:.1f} K, off by {np.median(off):.1f} / {np.percentile(off, 90):.1f} K"


def promise(rows: Sequence[Row], k: int) -> float:
    """How often the forecast is within 2 min, or 8 % of a cook beyond 40 min."""
    those = [r for r in rows if r.readings == k]
    kept = [abs(r.model - r.truth) <= (120 if r.truth <= 2400 else 0.08 * r.truth) for r in those]
    return 100 * float(np.mean(kept))


def run(n: int, seed: int, *, elsewhere: bool) -> list[Row]:
    """Every kind; `elsewhere`: the plan was tested in another drawn kitchen each time."""
    rows: list[Row] = []
    for place, kind in enumerate(KINDS):
        rng = np.random.default_rng((seed, place, elsewhere))
        draws = drawn(n, rng)
        times = tested_times(kind, middle()) * n
        if elsewhere:
            times = tested_times(kind, drawn(n, rng))
        own = cook_all(kind, draws, times, rng)
        middle_truth = np.median([r.truth for r in own]) / 60
        print(
            f"{kind.name}: truth {middle_truth:.0f} min, plan {times[0] / 60:.0f} min", flush=True
        )
        print("\n".join(table(own)))
        print(rises(own), flush=True)
        rows += own
    return rows


def main() -> None:
    n = int(sys.argv[1]) if len(sys.argv) > 1 else 80
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    for elsewhere in (False, True):
        print(
            "=== the plan was tested in",
            "another kitchen each time" if elsewhere else "the middle kitchen",
        )
        rows = run(n, seed, elsewhere=elsewhere)
        print("ALL")
        print("\n".join(table(rows)))
        print(rises(rows))
        kept = [f"{k}: {promise(rows, k):.0f} %" for k in range(READINGS + 1)]
        print("  within 2 min (8 % beyond 40 min) after", ", ".join(kept), flush=True)


if __name__ == "__main__":
    main()
