"""The shape of the shipped temperature charts: what a row, a chart and the limits must hold."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from passbell.units import Frozen

Scale = Literal["F", "C"]
Degrees = Annotated[float, Field(ge=50, le=212)]
Seconds = Annotated[int, Field(ge=1, le=3600)]
Span = tuple[float, float]

COLDEST_PAIR_C = 70.0
"""No holding pair under this is offered, in °C."""


class Row(Frozen):
    """What one chart prints for one food.

    Attributes:
        key: the food it is for; "general" for every meat, poultry and fish without a row.
        name: the food in words, to follow "for".
        covers: what else the row says.
        temp_f: the minimum the chart prints in °F; None: it prints none in that unit.
        temp_c: the minimum the chart prints in °C; None likewise.
        rest_min: minutes of rest the chart asks for; 0: none printed.
        rest_max_min: the longer end where it prints a span of minutes.
        pair_unit: the unit of `pairs`.
        pairs: (temperature, seconds to hold), any one suffices; coldest first.
        visual: a sign the chart offers besides; never evidence. Empty: none.
        no_figure: the chart names the food and sets no centre temperature.
        spots: places to ask for (ours).
        each_piece: every piece is probed at every spot.
        status: "read" on the authority's own page, "copy" on a third party's copy of it.
        source: where the figures were published.
        note: anything else to know.
    """

    key: str
    name: str
    covers: str = ""
    temp_f: Annotated[Degrees | None, Field(alias="temp_F")] = None
    temp_c: Annotated[Degrees | None, Field(alias="temp_C")] = None
    rest_min: Annotated[int, Field(ge=0, le=60)]
    rest_max_min: Annotated[int | None, Field(ge=1, le=60)] = None
    pair_unit: Scale | None = None
    pairs: tuple[tuple[Degrees, Seconds], ...] = ()
    visual: str = ""
    no_figure: bool = False
    spots: Annotated[int, Field(ge=1, le=20)] = 1
    each_piece: bool = False
    status: Literal["read", "copy"]
    source: Annotated[str, Field(min_length=1)]
    note: str = ""

    @model_validator(mode="after")
    def _one_kind_of_figure(self) -> Self:
        figure = self.temp_f is not None or self.temp_c is not None
        if [figure, bool(self.pairs), self.no_figure].count(True) != 1:
            raise ValueError(f"row {self.key}: a figure, pairs, or no_figure; exactly one")
        if bool(self.pairs) != (self.pair_unit is not None):
            raise ValueError(f"row {self.key}: pairs and pair_unit go together")
        if self.rest_max_min is not None and self.rest_max_min < self.rest_min:
            raise ValueError(f"row {self.key}: the longer rest is the shorter")
        return self

    @model_validator(mode="after")
    def _units_agree(self) -> Self:
        """Printed pairs of °F and °C are rounded, never further apart than a degree."""
        if self.temp_f is not None and self.temp_c is not None:
            apart = abs((self.temp_f - 32) / 1.8 - self.temp_c)
            if apart >= 1:
                raise ValueError(f"row {self.key}: its °F and °C do not name one temperature")
        return self

    @model_validator(mode="after")
    def _pairs_in_order(self) -> Self:
        coldest = COLDEST_PAIR_C if self.pair_unit == "C" else COLDEST_PAIR_C * 1.8 + 32
        if any(degrees < coldest for degrees, _ in self.pairs):
            raise ValueError(f"row {self.key}: no pair under {COLDEST_PAIR_C:g} °C")
        rising = zip(self.pairs, self.pairs[1:], strict=False)
        if any(a[0] >= b[0] or a[1] <= b[1] for a, b in rising):
            raise ValueError(f"row {self.key}: hotter pairs are held shorter, coldest first")
        return self


class Chart(Frozen):
    """One authority's chart.

    Attributes:
        key: its key in plans.
        name: its name on the screen.
        primary_unit: the unit it prints first.
        source: where it is published.
        note: what its figures mean.
        rows: one for each food it names.
    """

    key: str
    name: str
    primary_unit: Scale
    source: Annotated[str, Field(min_length=1)]
    note: str
    rows: Annotated[tuple[Row, ...], Field(min_length=1, alias="row")]

    @model_validator(mode="after")
    def _one_row_a_food(self) -> Self:
        keys = [row.key for row in self.rows]
        if len(set(keys)) != len(keys):
            raise ValueError(f"chart {self.key}: two rows for one food")
        return self

    def row(self, key: str) -> Row | None:
        """The row printed for a food key; None: there is none."""
        return next((row for row in self.rows if row.key == key), None)


class Food(Frozen):
    """A food a plan may name.

    Attributes:
        name: in words.
        raw: whether it counts as raw meat until it has reached its minimum.
        general: whether a chart's general row covers it.
        perishable: whether the two-hour limit holds for it even before it is cooked.
        places: where it is probed, where the places have names.
    """

    name: str
    raw: bool
    general: bool = True
    perishable: bool = True
    places: tuple[str, ...] = ()


class NamedPlace(Frozen):
    """A place to probe that has a name.

    Attributes:
        name: shown.
        words: what the cook may type for exactly this place.
        also: words for places that may stand in for it.
    """

    name: str
    words: frozenset[str]
    also: frozenset[str] = frozenset()


class Thermometer(Frozen):
    """Limits for a thermometer and its readings, in °F and °C side by side.

    Attributes:
        accuracy_f, accuracy_c: a usual thermometer's error.
        refuse_f, refuse_c: an error in ice water beyond this gives no verdict.
        plausible_f, plausible_c: readings outside are no food in a kitchen.
        unit_question_f: a number so typed in °F makes sense in °C.
    """

    accuracy_f: float = Field(alias="accuracy_F")
    accuracy_c: float = Field(alias="accuracy_C")
    refuse_f: float = Field(alias="refuse_F")
    refuse_c: float = Field(alias="refuse_C")
    plausible_f: Span = Field(alias="plausible_F")
    plausible_c: Span = Field(alias="plausible_C")
    unit_question_f: Span = Field(alias="unit_question_F")


class Handling(Frozen):
    """Limits for food that waits, with the unit in every name; sources stand in the data."""

    two_hour_limit_min: int
    one_hour_limit_min: int
    one_hour_above_f: float = Field(alias="one_hour_above_F")
    one_hour_above_c: float = Field(alias="one_hour_above_C")
    refrigerate_f: float = Field(alias="refrigerate_F")
    refrigerate_c: float = Field(alias="refrigerate_C")
    hot_hold_f: float = Field(alias="hot_hold_F")
    hot_hold_c: float = Field(alias="hot_hold_C")
    oven_floor_f: float = Field(alias="oven_floor_F")
    leftover_days: tuple[int, int]
    raw_gap_min: int
    warn_before_min: int
    look_again_s: int


class Table(Frozen):
    """Everything that ships: charts in their fixed order, foods, named places and limits."""

    schema_version: Literal[1] = Field(alias="schema")
    default_chart: str
    charts: tuple[Chart, ...]
    foods: dict[str, Food]
    places: tuple[NamedPlace, ...]
    thermometer: Thermometer
    handling: Handling

    @model_validator(mode="after")
    def _keys_known(self) -> Self:
        named = {place.name for place in self.places}
        asked = {name for food in self.foods.values() for name in food.places}
        rows = {row.key for chart in self.charts for row in chart.rows}
        for unknown in (rows - set(self.foods), asked - named):
            if unknown:
                raise ValueError(f"not a known food or place: {', '.join(sorted(unknown))}")
        if self.default_chart not in {chart.key for chart in self.charts}:
            raise ValueError(f"no chart {self.default_chart}")
        return self

    def chart(self, key: str) -> Chart:
        """The chart of that key.

        Raises:
            KeyError: when there is none.
        """
        for chart in self.charts:
            if chart.key == key:
                return chart
        raise KeyError(key)
