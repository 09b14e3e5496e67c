"""An independent check: does a schedule keep every constraint, and are its figures true?

Written from the definition of the stagger, sharing nothing with the search but the models.
"""

from collections.abc import Iterator
from itertools import pairwise

from passbell.schedule.model import Machine, Problem, Schedule, Work


def violations(problem: Problem, schedule: Schedule) -> list[str]:
    """Every constraint that a schedule breaks, in plain words; empty when it keeps them all.

    Constraints wholly between facts are not looked at, and a limit the schedule names as
    stretched may be passed by what it names.

    Args:
        problem: the meal, facts included.
        schedule: an answer to it.
    """
    check = _Check(problem, schedule)
    parts = (
        check.spans(),
        check.orders(),
        check.places(),
        check.programs(),
        check.windows(),
        check.figures(),
    )
    return [fault for part in parts for fault in part]


class _Check:
    def __init__(self, problem: Problem, schedule: Schedule) -> None:
        self.problem = problem
        self.plan = schedule
        self.passed = {(s.kind, s.first, s.second): s.by for s in schedule.stretched}
        self.facts = [_last_fact(chain) for chain in problem.works]

    def start(self, work: Work) -> int:
        return self.plan.starts[work.component][work.index]

    def end(self, work: Work) -> int:
        return self.plan.ends[work.component][work.index]

    def works(self) -> Iterator[Work]:
        return (work for chain in self.problem.works for work in chain)

    def past(self, work: Work) -> bool:
        """Whether a step, or one after it in its component, has begun."""
        return work.index <= self.facts[work.component]

    def spans(self) -> Iterator[str]:
        for work in self.works():
            start, end = self.start(work), self.end(work)
            if not self.past(work):
                if end != start + work.time:
                    yield f"{_name(work)} does not take its time"
                if start < max(self.problem.now, work.release):
                    yield f"{_name(work)} starts too early"
            elif work.began is not None and start != work.began:
                yield f"{_name(work)} does not start when it began"
            if work.began is not None and work.ended is None and self._is_last_fact(work):
                if end != max(work.began + work.time, self.problem.now):
                    yield f"{_name(work)} is running and does not end at its time"
            elif work.ended is not None and end != max(work.ended, start):
                yield f"{_name(work)} does not end when it ended"

    def _is_last_fact(self, work: Work) -> bool:
        return work.index >= self.facts[work.component]

    def orders(self) -> Iterator[str]:
        for chain in self.problem.works:
            for one, other in pairwise(chain):
                gap = self.start(other) - self.end(one)
                if not self.past(other) and gap < one.gap_min:
                    yield f"{_name(other)} starts {one.gap_min - gap} s too soon"
                stretch = self.passed.get(("keep", one.component, one.index), 0)
                if one.gap_max is not None and not self.past(other) and gap > one.gap_max + stretch:
                    yield f"{_name(one)} waits {gap - one.gap_max} s too long"
            if chain and self.end(chain[-1]) > self.plan.dish_up:
                yield f"{_name(chain[-1])} ends after dish-up"

    def places(self) -> Iterator[str]:
        hands = [(w, self._hands_end(w)) for w in self.works() if w.hands]
        yield from self._crowds("hands", self.problem.hands, hands)
        for index, machine in enumerate(self.problem.machines):
            if machine.holds is not None:
                food = [(w, self.end(w)) for w in self.works() if w.machine == index]
                yield from self._crowds(machine.name, machine.holds, food)

    def _hands_end(self, work: Work) -> int:
        end = self.start(work) + work.hands
        return min(end, self.end(work)) if self.past(work) else end

    def _crowds(self, what: str, most: int, users: list[tuple[Work, int]]) -> Iterator[str]:
        for work, end in users:
            moment = self.start(work)
            if self.past(work) or end <= moment:
                continue
            there = {w.component for w, until in users if self.start(w) <= moment < until}
            if len(there) > most:
                yield f"{what}: {len(there)} at once when {_name(work)} starts"

    def programs(self) -> Iterator[str]:
        for index, machine in enumerate(self.problem.machines):
            bounds = self.plan.bounds[index]
            food = [w for w in self.works() if w.machine == index]
            if machine.stages and (bounds or any(not self.past(w) for w in food)):
                yield from self._program(index, machine, bounds)
            elif not machine.stages and food:
                yield from self._plain(index, machine, food)

    def _program(self, index: int, machine: Machine, bounds: tuple[int, ...]) -> Iterator[str]:
        known = machine.bounds
        if len(bounds) != len(machine.stages) + 1 or bounds[: len(known)] != known:
            yield f"{machine.name}: its boundaries are not those of its program"
            return
        if not known and bounds[0] < self._ready(machine):
            yield f"{machine.name} is not ready when its first stage begins"
        if not machine.over and any(bound < self.problem.now for bound in bounds[len(known) :]):
            yield f"{machine.name}: a boundary still to come lies in the past"
        on = bounds[0] - machine.preheat if machine.on is None else machine.on
        if self.plan.on[index] != on:
            yield f"{machine.name} is not switched on for its first stage"
        for k, time in enumerate(machine.stages):
            lasts, stretch = bounds[k + 1] - bounds[k], self.passed.get(("stage", index, k), 0)
            exact = time is None or time <= lasts <= time + stretch
            if lasts < 0 or (not exact and k + 1 >= len(known)):
                yield f"{machine.name}: stage {k} lasts {lasts} s instead of {time}"

    def _plain(self, index: int, machine: Machine, food: list[Work]) -> Iterator[str]:
        first = min(self.start(w) for w in food)
        if not any(self.past(w) for w in food) and first < self._ready(machine):
            yield f"{machine.name} is not ready for its first food"
        on = first - machine.preheat if machine.on is None else machine.on
        if self.plan.on[index] != on:
            yield f"{machine.name} is not switched on for its first food"

    def _ready(self, machine: Machine) -> int:
        on = self.problem.now if machine.on is None else machine.on
        return max(on + machine.preheat, machine.release, self.problem.now)

    def windows(self) -> Iterator[str]:
        for work in self.works():
            if work.machine is None or work.ended is not None:
                continue
            excused = any(
                (k, work.component, work.index) in self.passed for k in ("over", "window")
            )
            machine, bounds = self.problem.machines[work.machine], self.plan.bounds[work.machine]
            if not self.past(work) and machine.over and not excused:
                yield f"{_name(work)} cooks on {machine.name}, whose program has ended"
            if work.runs and bounds and not excused and not self._inside(work, machine, bounds):
                yield f"{_name(work)} is not within its stages"

    def _inside(self, work: Work, machine: Machine, bounds: tuple[int, ...]) -> bool:
        start, end = self.start(work), self.end(work)
        if self.past(work):
            ends = [b + 1 for _, b in work.runs]
            return any(b < len(machine.bounds) or end <= bounds[b] for b in ends)
        return any(bounds[a] <= start and end <= bounds[b + 1] for a, b in work.runs)

    def figures(self) -> Iterator[str]:
        plan, problem = self.plan, self.problem
        waits = [self._wait(chain) for chain in problem.works]
        over = sum(max(0, w - hold) for w, hold in zip(waits, problem.holds, strict=True))
        begin = [s for row in plan.starts for s in row] + [on for on in plan.on if on is not None]
        begin.append(plan.dish_up)
        late = 0 if problem.serve is None else plan.dish_up - problem.serve
        true = (sum(waits), over, min(begin), late)
        if (plan.wait, plan.over_hold, plan.start, plan.late) != true:
            yield f"the figures {plan.wait, plan.over_hold, plan.start, plan.late} are not {true}"
        if min(waits, default=0) < 0 or late < 0 or plan.dish_up < problem.now:
            yield "dish-up comes before something it waits for"

    def _wait(self, chain: tuple[Work, ...]) -> int:
        cooks = [work.index for work in chain if work.kind == "cook"]
        if not cooks:
            return 0
        after = sum(self.end(w) - self.start(w) for w in chain[cooks[-1] + 1 :])
        return self.plan.dish_up - self.end(chain[cooks[-1]]) - after


def _last_fact(chain: tuple[Work, ...]) -> int:
    """The place of the last step of a component that has begun; −1: none has."""
    begun = [i for i, w in enumerate(chain) if w.began is not None or w.ended is not None]
    return begun[-1] if begun else -1


def _name(work: Work) -> str:
    return f"step {work.index} of component {work.component} (“{work.text or work.kind}”)"
