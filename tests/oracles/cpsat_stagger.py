"""The stagger as a model for CP-SAT (OR-Tools), written from its definition on paper.

It shares the plan model with the product and nothing else: defaults, stages and constraints are
read from the plan again here, so that a slip in the product cannot repeat itself in the oracle.
"""

from dataclasses import dataclass
from functools import reduce
from math import gcd
from time import monotonic

from ortools.sat.python import cp_model

from passbell.plan.model import Component, Plan, Stage, Step


@dataclass(frozen=True)
class Answer:
    """What CP-SAT says.

    Attributes:
        figures: over_hold, dish_up, wait, start in seconds; None for a contradiction.
        proven: how many of the goals, in their order, are proven.
        late: seconds after the wanted time.
    """

    figures: tuple[int, int, int, int] | None
    proven: bool
    late: int = 0


def best(
    plan: Plan,
    serve: int | None,
    seconds: float = 2.0,
    workers: int = 1,
    *,
    whole: float | None = None,
) -> Answer:
    """The four figures of the best schedule of a plan, each goal optimised in turn.

    Args:
        plan: the plan, from scratch at instant 0.
        serve: wanted dish-up in seconds, or None.
        seconds: time limit for each goal.
        workers: search threads.
        whole: time limit for all the goals together; None: none.
    """
    return _Model(plan, serve, seconds, workers).answer(whole)


class _Model:
    def __init__(self, plan: Plan, serve: int | None, seconds: float, workers: int) -> None:
        self.plan, self.serve, self.seconds, self.workers = plan, serve, seconds, workers
        self.unit = self._unit()
        self.far = sum(self._lengths()) // self.unit + (serve or 0) // self.unit + 10
        self.m = cp_model.CpModel()
        self.table = self.m.new_int_var(0, self.far, "table")
        self.first = self.m.new_int_var(0, self.far, "first")
        self.steps = [
            [self._step(c, i) for i in range(len(d.steps))] for c, d in enumerate(plan.components)
        ]
        self.impossible = False
        self._components()
        self._hands()
        for a in range(len(plan.appliances)):
            self._appliance(a)

    # -- numbers ---------------------------------------------------------------------------

    def _lengths(self) -> list[int]:
        plan = self.plan
        found = [int(plan.slack)] * sum(len(d.steps) for d in plan.components)
        found += [int(s.time) for d in plan.components for s in d.steps]
        found += [int(a.preheat) for a in plan.appliances]
        found += [int(s.time or 0) for a in plan.appliances for s in a.stages]
        return found

    def _unit(self) -> int:
        plan = self.plan
        extra = [int(d.hold) for d in plan.components]
        extra += [int(s.hands or 0) for d in plan.components for s in d.steps]
        extra += [int(s.keep or 0) for d in plan.components for s in d.steps]
        return reduce(gcd, [*self._lengths(), *extra, self.serve or 0], 0) or 1

    def _int(self, value: int) -> int:
        return int(value) // self.unit

    # -- constraints -----------------------------------------------------------------------

    def _step(self, c: int, i: int) -> cp_model.IntVar:
        return self.m.new_int_var(0, self.far, f"s{c}_{i}")

    def _components(self) -> None:
        for c, dish in enumerate(self.plan.components):
            cooks = [i for i, s in enumerate(dish.steps) if s.kind == "cook"]
            for i, step in enumerate(dish.steps):
                start = self.steps[c][i]
                self.m.add(self.first <= start)
                end = start + self._int(step.time)
                if i + 1 == len(dish.steps):
                    self.m.add(end <= self.table)
                    continue
                slack = self._int(self.plan.slack) if _last_prep(dish, i) else 0
                self.m.add(self.steps[c][i + 1] >= end + slack)
                keep = _longest_gap(dish, i, cooks)
                if keep is not None:
                    self.m.add(self.steps[c][i + 1] <= end + self._int(keep))

    def _hands(self) -> None:
        intervals = []
        for c, dish in enumerate(self.plan.components):
            for i, step in enumerate(dish.steps):
                busy = int(step.time) if step.kind in ("prep", "finish") else 0
                if step.hands is not None:
                    busy = int(step.hands)
                if busy:
                    intervals.append(
                        self.m.new_fixed_size_interval_var(
                            self.steps[c][i], self._int(busy), f"h{c}_{i}"
                        )
                    )
        self.m.add_cumulative(intervals, [1] * len(intervals), self.plan.hands)

    def _appliance(self, a: int) -> None:
        it = self.plan.appliances[a]
        food = [
            (c, i)
            for c, d in enumerate(self.plan.components)
            for i, s in enumerate(d.steps)
            if s.on == it.name
        ]
        if not food:
            return
        if it.holds is not None:
            intervals = [
                self.m.new_fixed_size_interval_var(
                    self.steps[c][i], self._int(self._of(c, i).time), f"a{a}_{c}_{i}"
                )
                for c, i in food
                if self._of(c, i).time
            ]
            self.m.add_cumulative(intervals, [1] * len(intervals), it.holds)
        preheat = self._int(it.preheat)
        if not it.stages:
            for c, i in food:
                self.m.add(self.first <= self.steps[c][i] - preheat)
            return
        bounds = [
            self.m.new_int_var(0, 2 * self.far, f"b{a}_{k}") for k in range(len(it.stages) + 1)
        ]
        self.m.add(self.first <= bounds[0] - preheat)
        for k, stage in enumerate(it.stages):
            if stage.time is None:
                self.m.add(bounds[k + 1] >= bounds[k])
            else:
                self.m.add(bounds[k + 1] == bounds[k] + self._int(stage.time))
        for c, i in food:
            self._within(c, i, it.stages, bounds)

    def _within(
        self, c: int, i: int, stages: tuple[Stage, ...], bounds: list[cp_model.IntVar]
    ) -> None:
        """A cook step lies in one unbroken row of stages that all offer what it asks for."""
        step = self._of(c, i)
        good = [_offers(stage, step) for stage in stages]
        names = [stage.name for stage in stages]
        if step.stage:
            low, high = names.index(step.stage[0]), names.index(step.stage[-1])
            good = [g and low <= k <= high for k, g in enumerate(good)]
        picks = []
        for a in range(len(stages)):
            if good[a] and (a == 0 or not good[a - 1]):
                b = a
                while b + 1 < len(stages) and good[b + 1]:
                    b += 1
                pick = self.m.new_bool_var(f"r{c}_{i}_{a}")
                start = self.steps[c][i]
                self.m.add(start >= bounds[a]).only_enforce_if(pick)
                end = start + self._int(step.time)
                self.m.add(end <= bounds[b + 1]).only_enforce_if(pick)
                picks.append(pick)
        if picks:
            self.m.add_exactly_one(picks)
        else:
            self.impossible = True

    def _of(self, c: int, i: int) -> Step:
        return self.plan.components[c].steps[i]

    # -- goals -----------------------------------------------------------------------------

    def _goals(self) -> tuple[cp_model.LinearExpr, cp_model.LinearExpr]:
        waits, overs = [], []
        for c, dish in enumerate(self.plan.components):
            cooks = [i for i, s in enumerate(dish.steps) if s.kind == "cook"]
            if not cooks:
                continue
            last = cooks[-1]
            rest = sum(self._int(s.time) for s in dish.steps[last:])
            wait = self.m.new_int_var(0, self.far, f"w{c}")
            over = self.m.new_int_var(0, self.far, f"o{c}")
            self.m.add(wait == self.table - self.steps[c][last] - rest)
            self.m.add(over >= wait - self._int(dish.hold))
            waits.append(wait)
            overs.append(over)
        return sum(waits), sum(overs)

    def answer(self, whole: float | None = None) -> Answer:
        """Optimise one goal after the other, each fixed before the next."""
        if self.impossible:
            return Answer(None, True)
        wait, over = self._goals()
        serve = None if self.serve is None else self.serve // self.unit
        if serve is None:
            goals = [over, self.table, wait, -self.first]
        else:
            self.m.add(self.table >= serve)
            goals = [self.table, over, wait, -self.first]
        values, proven, began = [], True, monotonic()
        for goal in goals:
            left = self.seconds if whole is None else whole - (monotonic() - began)
            solver = cp_model.CpSolver()
            solver.parameters.max_time_in_seconds = min(self.seconds, max(left, 0.05))
            solver.parameters.num_workers = self.workers
            self.m.minimize(goal)
            status = solver.solve(self.m)
            if status == cp_model.INFEASIBLE:
                return Answer(None, True)
            if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                return Answer(None, False)
            proven = proven and status == cp_model.OPTIMAL
            value = round(solver.objective_value)
            values.append(value * self.unit)
            self.m.add(goal == value)
            self._hint(solver)
        if serve is None:
            figures = (values[0], values[1], values[2], -values[3])
        else:
            figures = (values[1], values[0], values[2], -values[3])
        late = 0 if self.serve is None else figures[1] - self.serve
        return Answer(figures, proven, late)

    def _hint(self, solver: cp_model.CpSolver) -> None:
        self.m.clear_hints()
        for chain in self.steps:
            for start in chain:
                self.m.add_hint(start, solver.value(start))
        self.m.add_hint(self.table, solver.value(self.table))


def _offers(stage: Stage, step: Step) -> bool:
    if step.temp is not None and (
        stage.temp is None or abs(stage.temp.celsius - step.temp.celsius) > 0.5
    ):
        return False
    return step.mode is None or (stage.mode or "").lower() == step.mode.lower()


def _last_prep(dish: Component, i: int) -> bool:
    """Whether this is the last prep before a cook."""
    if dish.steps[i].kind != "prep":
        return False
    for step in dish.steps[i + 1 :]:
        if step.kind == "prep":
            return False
        if step.kind == "cook":
            return True
    return False


def _longest_gap(dish: Component, i: int, cooks: list[int]) -> int | None:
    step = dish.steps[i]
    if not cooks:
        return step.keep
    if i >= cooks[-1]:
        return None
    if step.keep is not None:
        return step.keep
    if step.kind == "cook" or (step.kind == "rest" and i > cooks[0]):
        return 0
    return None
