"""Heat: when to look next. Pure; it forecasts, and never says that food is done.

`forecast` answers for a piece in what it meets; `from_plan` makes both from a plan.
"""

from passbell.heat.dose import Cooked, share_cooked
from passbell.heat.forecast import forecast
from passbell.heat.from_plan import Asked, Run, Times, Turn, asked, met, piece_of
from passbell.heat.model import (
    Exposure,
    Forecast,
    NoForecast,
    Odd,
    Piece,
    PlanTime,
    Reading,
    Segment,
)
from passbell.heat.thickness import OwnTime, TimeRange, thickness_range

__all__ = [
    "Asked",
    "Cooked",
    "Exposure",
    "Forecast",
    "NoForecast",
    "Odd",
    "OwnTime",
    "Piece",
    "PlanTime",
    "Reading",
    "Run",
    "Segment",
    "TimeRange",
    "Times",
    "Turn",
    "asked",
    "forecast",
    "met",
    "piece_of",
    "share_cooked",
    "thickness_range",
]
