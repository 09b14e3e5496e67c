"""Invented meals on one tray, for the tests of layers."""

from typing import Any

from passbell.plan.model import Plan
from tests.cook.meals import step


def meal(areas: dict[str, str], stages: bool = True) -> Plan:
    """Things that roast for 20 minutes on one tray of 30 x 30 cm."""
    oven: dict[str, Any] = {"name": "oven", "preheat": "10 min", "tray": "30 x 30 cm"}
    if stages:
        oven["stage"] = [
            {"name": "roast", "mode": "fan", "temp": "200 °C", "time": "20 min"},
            {"name": "crisp", "mode": "grill", "temp": "220 °C", "time": "10 min"},
        ]
    components = [
        {
            "name": name,
            "area": area,
            "ingredients": [f"400 g {name}"],
            "hold": "40 min",
            "steps": [
                step("prep", "cut", "4 min"),
                step("cook", "in", "20 min", on="oven", **({"stage": "roast"} if stages else {})),
                step("finish", "plate", "1 min"),
            ],
        }
        for name, area in areas.items()
    ]
    if stages:
        crumbs = [step("cook", "in", "10 min", on="oven", stage="crisp")]
        components.append({"name": "crumbs", "area": "5 x 5 cm", "steps": crumbs})
    return Plan.of({"title": "Invented", "serves": 2, "appliance": [oven], "component": components})
