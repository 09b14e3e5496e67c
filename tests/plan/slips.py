"""A small plan that is right, and what is told of one that is not."""

import pytest

from passbell.plan.problem import PlanError
from passbell.plan.read import read_plan

GOOD = """\
title  = "Supper"
serves = 2
[[appliance]]
name = "oven"
  [[appliance.stage]]
  name = "roast"
  temp = "400 °F"
  [[appliance.stage]]
  name = "crisp"
[[component]]
name  = "carrots"
food  = "plant"
steps = [
  { prep = "peel", time = "6 min" },
  { cook = "roast", on = "oven", time = "30 min", stage = ["roast", "crisp"] },
  { rest = "covered", time = "2 min" },
]
"""


def problems(text: str) -> list[str]:
    """What is wrong, as printed, without the file's name."""
    with pytest.raises(PlanError) as caught:
        read_plan(text, "meal.toml")
    told = [str(problem) for problem in caught.value.problems]
    assert str(caught.value) == "\n".join(told)
    assert all(line.startswith("meal.toml:") for line in told)
    assert [p.line for p in caught.value.problems] == sorted(p.line for p in caught.value.problems)
    return [line.removeprefix("meal.toml:") for line in told]
