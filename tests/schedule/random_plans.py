"""Invented plans from a seed: every feature of the stagger, in kitchen-like proportions."""

import random
from typing import Any

from passbell.plan.model import Plan

Data = dict[str, Any]


def minutes(rng: random.Random, low: int, high: int) -> str:
    return f"{rng.randint(low, high)} min"


def random_plan(seed: int, components: int) -> tuple[Plan, int | None]:
    """A plan and a wanted dish-up in seconds (or None), the same for the same seed."""
    rng = random.Random(seed)
    appliances = _appliances(rng, components)
    data: Data = {
        "title": f"invented meal {seed}",
        "serves": 2,
        "hands": 2 if rng.random() < 0.2 else 1,
        "slack": minutes(rng, 0, 2),
        "appliance": appliances,
        "component": [_component(rng, c, appliances) for c in range(components)],
    }
    serve = rng.choice([None, None, 1200, 3600, 7200, 14400]) if components else None
    return Plan.of(data), serve


def _appliances(rng: random.Random, components: int) -> list[Data]:
    burners = [
        {"name": f"burner {k}", "preheat": minutes(rng, 0, 5), "holds": 1}
        for k in range(rng.randint(1, 2 + components // 4))
    ]
    oven: Data = {"name": "oven", "preheat": minutes(rng, 0, 12)}
    if rng.random() < 0.3:
        oven["holds"] = rng.randint(2, 3)
    if rng.random() < 0.75:
        oven["stage"] = [_stage(rng, k) for k in range(rng.randint(1, 3))]
    return [oven, *burners]


def _stage(rng: random.Random, k: int) -> Data:
    stage: Data = {"name": f"stage {k}", "mode": rng.choice(["roast", "broil"])}
    stage["temp"] = rng.choice(["180 C", "200 C"])
    if rng.random() < 0.5:
        stage["time"] = minutes(rng, 8, 30)
    return stage


def _component(rng: random.Random, c: int, appliances: list[Data]) -> Data:
    steps: list[Data] = []
    for _ in range(rng.choice([0, 1, 1, 1, 2])):
        steps.append({"prep": "cut", "time": minutes(rng, 1, 12)})
        _maybe_keep(rng, steps[-1], 0.15)
    if rng.random() < 0.1:
        steps.append({"rest": "marinate", "time": minutes(rng, 5, 60)})
    if rng.random() < 0.92:
        for _ in range(rng.choice([1, 1, 1, 2])):
            steps.append(_cook(rng, rng.choice(appliances)))
            _maybe_keep(rng, steps[-1], 0.2)
    if rng.random() < 0.3:
        steps.append({"rest": "rest", "time": minutes(rng, 2, 15)})
    if rng.random() < 0.5 or not steps:
        steps.append({"finish": "plate", "time": minutes(rng, 1, 5)})
    return {"name": f"dish {c}", "hold": minutes(rng, 0, 15), "steps": steps}


def _maybe_keep(rng: random.Random, step: Data, chance: float) -> None:
    if rng.random() < chance:
        step["keep"] = minutes(rng, 2, 20)


def _cook(rng: random.Random, appliance: Data) -> Data:
    step: Data = {"cook": "heat", "on": appliance["name"], "time": minutes(rng, 3, 28)}
    if rng.random() < 0.15:
        step["hands"] = minutes(rng, 1, 3)
    stages = appliance.get("stage", [])
    if stages and rng.random() < 0.35:
        a = rng.randrange(len(stages))
        step["stage"] = [stages[a]["name"], stages[rng.randrange(a, len(stages))]["name"]]
    elif stages and rng.random() < 0.3:
        offered = rng.choice(stages)
        step[rng.choice(["mode", "temp"])] = offered["mode"] if "mode" in step else offered["temp"]
        if "mode" in step:
            step["mode"] = offered["mode"]
    return step
