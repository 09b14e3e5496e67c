"""`passbell forecast`: when a component will be at its temperature, by its readings."""

import argparse
import difflib
import json
import re
from collections.abc import Iterator

from passbell.cli.parser import say
from passbell.cli.plan_args import add_plan_argument, add_size_option, as_sized, plan_of
from passbell.cli.timeplan_json import contradicted
from passbell.cook.other_mode import options, read_wish, setting_of
from passbell.cook.sizes import TodayError
from passbell.heat import Forecast, NoForecast, PlanTime, Reading, Run, Times, asked, forecast, met
from passbell.plan.model import Plan
from passbell.safety.chart import governing
from passbell.schedule import Contradiction, problem_of, solve
from passbell.units import Duration, Temperature, UnitError, clean_text

_READING = re.compile(
    r"(?:(?P<piece>.*\S)\s+)?(?P<temp>[+-]?\d[\d.,]*\s*\S{0,2}?\s*[a-zA-Z℃℉]?)\s*"
)
_MEND = 'write the time since going in and the temperature, for example --reading "6 min=48 C"'
_EPILOG = """\
A reading is the time since the component went in and what the probe showed: "6 min=48 C"; of the
second piece: "6 min=2 48 C". Without readings the answer rests on the plan's own time alone.
A forecast says when to look next. It never says that food is done or safe: only a reading, judged
by the chart (passbell probe), says which published minimum was reached.
"""


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add `forecast` to the command's subcommands; its `func` returns the exit code."""
    parser = subparsers.add_parser(
        "forecast",
        help="when a component will be at its temperature, by its readings",
        description="When a component is expected at its temperature, and when to look next.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add_plan_argument(parser)
    parser.add_argument("component", metavar="COMPONENT", help="its name in the plan")
    parser.add_argument(
        "--reading", metavar="TIME=T", action="append", default=[], help='such as "6 min=48 C"'
    )
    parser.add_argument(
        "--other", metavar="SETTING", help='what another setting would do: "bake 375 F"'
    )
    add_size_option(parser)
    parser.add_argument("--json", action="store_true", help="for other programs")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """Forecast and print; 0 for a forecast, 1 for none, 2 when not understood."""
    loaded = plan_of(args)
    try:
        place = _component(loaded.plan, args.component)
        sizes = [text if "=" in text else f"{args.component}={text}" for text in args.size]
        loaded, notes = as_sized(sizes, loaded)
        plan = loaded.plan
        for note in notes:
            say(note)
        readings = [parse_reading(text) for text in args.reading]
        if args.other:
            return _other(plan, place, args.other, as_json=args.json)
    except (UnitError, TodayError) as error:
        say(f"{error.what}; {error.mend}", "passbell forecast")
        return 2
    try:
        told, until = _told(plan, place, readings)
    except Contradiction as error:
        return contradicted(error, "passbell forecast", as_json=args.json)
    name = plan.components[place].name
    if isinstance(told, NoForecast):
        _none(told, name, as_json=args.json)
        return 1
    assert until is not None, "a forecast waits for a temperature"
    if args.json:
        print(json.dumps(forecast_json(told, until), ensure_ascii=False))
    else:
        print("\n".join(_lines(told, name, until)))
    return 0


def _other(plan: Plan, place: int, setting: str, *, as_json: bool) -> int:
    """What the model and each published rule make of another setting; nothing is changed."""
    name = plan.components[place].name
    wish = read_wish(plan, f"{name}={setting}")
    here, found = setting_of(plan, place), options(plan, wish)
    if as_json:
        rows = [
            {"by": o.key, "name": o.name, "factor": round(o.factor, 3), "time_s": o.time_s,
             "temps": [str(t) for t in o.temps], "look_s": o.check_s,
             "source": o.rule.source if o.rule else None}
            for o in found
        ]  # fmt: skip
        print(json.dumps(rows, ensure_ascii=False))
        return 0
    minutes = _minutes(int(plan.components[place].steps[here.step].time))
    print(f"{name}, written for {here.mode} {here.temp}, {minutes} min. In {wish.mode}:")
    for option in found:
        print(f"  {option.words}")
        if option.rule is not None:
            print(f"      {option.rule.source}; for {option.rule.applies_to}")
    print(f'They disagree; you choose: passbell timeplan PLAN --other "{name}={setting} by …".')
    print("The plan's file is not changed. Only a reading says when food may leave the heat.")
    return 0


def parse_reading(text: str) -> Reading:
    """Read "6 min=48 C", or "6 min=2 48 C" for the second piece.

    Raises:
        UnitError: when the time or the temperature cannot be read.
    """
    time, equals, shown = text.partition("=")
    match = _READING.fullmatch(shown.strip())
    if not equals or match is None:
        raise UnitError(f"{clean_text(text)!r} is no reading", _MEND)
    piece = clean_text(match["piece"] or "1")
    return Reading(Duration.parse(time), Temperature.parse(match["temp"]).celsius, piece)


def _component(plan: Plan, wanted: str) -> int:
    names = [dish.name.casefold() for dish in plan.components]
    asked_for = clean_text(wanted).casefold()
    if asked_for in names:
        return names.index(asked_for)
    begun = [i for i, name in enumerate(names) if asked_for and f" {asked_for}" in f" {name}"]
    if len(begun) == 1:
        return begun[0]
    near = difflib.get_close_matches(asked_for, names, 1)
    listed = ", ".join(dish.name for dish in plan.components)
    mend = f"perhaps {near[0]}" if near else f"there are {listed}"
    raise UnitError(f"{clean_text(wanted)!r} is no component of this plan", mend)


def _told(
    plan: Plan, place: int, readings: list[Reading]
) -> tuple[Forecast | NoForecast, Temperature | None]:
    dish = plan.components[place]
    wants = asked(dish)
    if isinstance(wants, NoForecast):
        return wants, None
    schedule = solve(problem_of(plan))
    runs = tuple(Run(bounds) for bounds in schedule.bounds)
    times = Times(schedule.starts[place], schedule.ends[place], runs)
    exposure = met(plan, dish, wants.step, times)
    if isinstance(exposure, NoForecast):
        return exposure, wants.until
    seconds = times.ends[wants.step] - times.starts[wants.first]
    tested = PlanTime(seconds, target_c=wants.until.celsius)
    until = wants.until
    if wants.step == dish.last_cook:
        until = governing(until, dish.food, plan.chart, until.scale)
    return forecast(wants.piece, exposure, until.celsius, readings, tested), until


def _none(told: NoForecast, name: str, *, as_json: bool) -> None:
    if as_json:
        print(json.dumps({"error": {"kind": told.reason, "text": told.sentence}}))
    else:
        print(f"{name}: no forecast. {told.sentence}")


def _rise(told: Forecast, until: Temperature) -> Temperature:
    factor = 1.8 if until.scale == "F" else 1.0
    return Temperature(round(told.rise_c * factor, 1), until.scale)


def forecast_json(told: Forecast, until: Temperature) -> dict[str, object]:
    """The forecast for another program: seconds from the last reading, or from going in."""
    return {
        "target": str(until),
        "eta_s": told.eta_s,
        "eta_low_s": told.eta_low_s,
        "eta_high_s": told.eta_high_s,
        "look_again_s": told.look_again_s,
        "rise_after": str(_rise(told, until)),
        "rise_peak_s": told.rise_peak_s,
        "uncertain": told.uncertain,
        "piece": told.piece,
        "odd": [{"kind": odd.kind, "at_s": odd.at_s, "text": odd.sentence} for odd in told.odd],
    }


def _minutes(seconds: int) -> str:
    """A time as it may be trusted: whole minutes from five on, half minutes below."""
    minutes = round(seconds / 60) if seconds >= 300 else round(seconds / 30) / 2
    return f"{minutes:g}"


def _lines(told: Forecast, name: str, until: Temperature) -> Iterator[str]:
    since = "after the last reading" if told.from_s else "after going in"
    late = "no end in sight" if told.eta_high_s is None else _minutes(told.eta_high_s)
    if told.eta_s == 0:
        yield f"{name}: {until} expected by now. Probe now."
    else:
        yield (
            f"{name}: {until} expected about {_minutes(told.eta_s)} min {since} "
            f"({_minutes(told.eta_low_s)} to {late}). "
            f"Look again after {_minutes(told.look_again_s)} min."
        )
    if told.uncertain:
        yield "Too uncertain: probe."
    for odd in told.odd:
        yield f"At {_minutes(round(odd.at_s))} min: {odd.sentence}"
    yield (
        f"Off the heat, expect about +{_rise(told, until).value:.0f} °{until.scale}, highest after "
        f"{_minutes(told.rise_peak_s)} min: probe again then. The rise passes nothing."
    )
    yield "A forecast says when to look. Only a reading says which published minimum was reached."
