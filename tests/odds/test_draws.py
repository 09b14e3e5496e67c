"""The draws against a reference library: moments, quantiles and tails by scipy.stats."""

from math import log, sqrt
from statistics import fmean, pstdev

import pytest
from scipy import stats

from passbell.odds.draws import gamma2, lognormal, mixed, uniform
from passbell.odds.luck import OURS, Luck, Spread

MANY = 4000


def test_the_mixing_is_that_of_splitmix64() -> None:
    """First outputs for the seed 1234567, as widely printed for the generator (from memory)."""
    golden, mask = 0x9E3779B97F4A7C15, (1 << 64) - 1
    found = [mixed((1234567 + golden * k) & mask) for k in (1, 2, 3)]
    assert found == [6457827717110365317, 3203168211198807973, 9817491932198370423]


def test_uniform_draws_are_uniform_and_do_not_go_together() -> None:
    one = [uniform(7, run, 1, 0, 0) for run in range(MANY)]
    other = [uniform(7, run, 1, 0, 1) for run in range(MANY)]
    assert stats.kstest(one, "uniform").pvalue > 0.001
    assert abs(stats.pearsonr(one, other).statistic) < 4 / sqrt(MANY)


@pytest.mark.parametrize("spread", [0.1, 0.25, 0.6])
def test_a_factor_is_lognormal_with_mean_one(spread: float) -> None:
    variance = log(1 + spread**2)
    known = stats.lognorm(s=sqrt(variance), scale=(1 + spread**2) ** -0.5)
    assert known.mean() == pytest.approx(1)
    assert known.std() == pytest.approx(spread)
    for u in (0.001, 0.1, 0.5, 0.9, 0.999):
        assert lognormal(u, spread) == pytest.approx(known.ppf(u), rel=1e-9)


def test_what_has_passed_leaves_the_rest_of_the_distribution() -> None:
    variance = log(1 + 0.25**2)
    known = stats.lognorm(s=sqrt(variance), scale=(1 + 0.25**2) ** -0.5)
    for u in (0.05, 0.5, 0.95):
        below = known.cdf(1.2)
        assert lognormal(u, 0.25, 1.2) == pytest.approx(known.ppf(below + u * (1 - below)))


def test_hands_on_times_have_the_mean_and_spread_that_are_told() -> None:
    times = [Luck(3, run).hands((0, 0), 1200) for run in range(MANY)]
    assert fmean(times) == pytest.approx(1200, abs=4 * 300 / sqrt(MANY))
    assert pstdev(times) == pytest.approx(1200 * OURS.hands, rel=0.06)
    assert stats.skew(times) == pytest.approx(
        stats.lognorm(s=sqrt(log(1.0625))).stats("s"), abs=0.3
    )


def test_an_opening_costs_a_gamma_time() -> None:
    times = [Luck(3, run).door(0, 0) for run in range(MANY)]
    known = stats.gamma(2, scale=OURS.door / 2)
    assert fmean(times) == pytest.approx(known.mean(), abs=4 * known.std() / sqrt(MANY))
    assert pstdev(times) == pytest.approx(known.std(), rel=0.08)
    assert gamma2(0.5, 0.5, 30) == pytest.approx(30 * log(2))


def test_nothing_varies_where_nothing_is_to_vary() -> None:
    luck = Luck(3, 5, Spread(0.0, 0.0, 0.0))
    assert luck.hands((0, 0), 777) == luck.probe((1, 1), 777) == 777
    assert luck.door(0, 3) == 0
    assert luck.hands((0, 0), 60, passed=90) == 90
