"""Real pasts from a seed: a schedule cooked up to some instant, with lateness on the way."""

import random
from dataclasses import replace

from passbell.schedule import Machine, Problem, Schedule, Work


def halfway(problem: Problem, schedule: Schedule, seed: int, lateness: int = 300) -> Problem:
    """The same meal at a random instant: what had begun by then, and how it really went."""
    rng = random.Random(seed)
    now = rng.randint(schedule.start, schedule.dish_up)
    delay = rng.choice([0, 0, rng.randint(0, lateness)])
    works = tuple(tuple(_chain(rng, chain, schedule, now, delay)) for chain in problem.works)
    machines = tuple(
        _machine(machine, index, schedule, now - delay)
        for index, machine in enumerate(problem.machines)
    )
    return replace(problem, works=works, machines=machines, now=now)


def _chain(
    rng: random.Random, chain: tuple[Work, ...], schedule: Schedule, now: int, delay: int
) -> list[Work]:
    found: list[Work] = []
    earliest = 0
    for work in chain:
        start = schedule.starts[work.component][work.index] + delay
        began = max(earliest, start + rng.choice([0, 0, rng.randint(-30, 240)]))
        if began > now or (found and found[-1].ended is None):
            found.append(work if rng.random() < 0.9 else replace(work, release=now + 120))
            continue
        ends = began + work.time + rng.choice([0, 0, rng.randint(-60, 240)])
        earliest = max(began, ends)
        ended = earliest if earliest <= now else None
        longer = max(work.time, earliest - began) if ended is None else work.time
        found.append(replace(work, began=began, ended=ended, time=longer))
    return found


def _machine(machine: Machine, index: int, schedule: Schedule, now: int) -> Machine:
    on = schedule.on[index]
    if on is None or on > now:
        return machine
    bounds = tuple(b for b in schedule.bounds[index] if b <= now) if machine.stages else ()
    over = bool(machine.stages) and len(bounds) > len(machine.stages)
    return replace(machine, on=on, bounds=bounds, over=over)
