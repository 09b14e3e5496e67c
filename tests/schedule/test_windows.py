"""The windows of jobs on one place, against every order there is."""

import random
from itertools import permutations

from passbell.schedule.windows import edges

Task = tuple[int, int, int]


def starts_of(tasks: list[Task]) -> list[list[int]]:
    """The earliest starts of every order in which each task ends by its due instant."""
    found = []
    for order in permutations(range(len(tasks))):
        now, starts = -(10**9), [0] * len(tasks)
        for k in order:
            release, length, less = tasks[k]
            starts[k] = max(now, release)
            now = starts[k] + length
            if now > -less:
                break
        else:
            found.append(starts)
    return found


def invented(rng: random.Random) -> list[Task]:
    many, width = rng.randint(1, 5), rng.randint(4, 26)
    found = []
    for _ in range(many):
        length, release = rng.randint(1, 6), rng.randint(0, width // 2)
        found.append((release, length, -max(release + length, rng.randint(2, width))))
    return found


def test_no_order_starts_a_job_before_its_window() -> None:
    rng = random.Random(3)
    later = none = 0
    for _ in range(1500):
        tasks = invented(rng)
        told, orders = edges(tasks), starts_of(tasks)
        if told is None:
            none += 1
            assert not orders, tasks
            continue
        later += any(new > task[0] for new, task in zip(told, tasks, strict=True))
        for starts in orders:
            assert all(new <= start for new, start in zip(told, starts, strict=True)), tasks
    assert later > 50
    assert none > 50


def test_a_job_that_fits_only_behind_the_others_starts_behind_them() -> None:
    assert edges([(0, 4, -20), (1, 3, -9), (2, 4, -9)]) == [8, 1, 2]
