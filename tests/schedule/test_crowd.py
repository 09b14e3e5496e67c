"""The least tardiness of a small crowd, against every order there is."""

import random
from itertools import permutations

import pytest

from passbell.schedule.crowd import FIRST, tardiness


@pytest.mark.parametrize("seed", range(60))
def test_the_least_tardiness_is_that_of_the_best_order(seed: int) -> None:
    rng = random.Random(seed)
    jobs = [
        (rng.randint(0, 20), rng.randint(1, 9), rng.randint(3, 30))
        for _ in range(rng.randint(1, 6))
    ]
    least = 10**9
    for order in permutations(jobs):
        now = late = 0
        for release, length, due in order:
            now = max(now, release) + length
            late += max(0, now - due)
        least = min(least, late)
    asked = [(release, length, due, k, FIRST) for k, (release, length, due) in enumerate(jobs)]
    assert tardiness(1, asked, 0) == least
