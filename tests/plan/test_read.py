"""Reading plans: what is right is read, what is wrong is told at its line, all of it at once."""

# ruff: noqa: E501 - a case is easier to judge when what is told stands on one line

import pytest

from passbell.plan.problem import PlanError
from passbell.plan.read import LARGEST, read_file, read_plan
from tests.plan.slips import GOOD, problems


def test_a_plan_is_read_whole() -> None:
    plan = read_plan(GOOD, "meal.toml")
    assert (plan.title, plan.serves, plan.chart, plan.call, plan.hands) == (
        "Supper", 2, "us", 600, 1,
    )  # fmt: skip
    (oven,), (carrots,) = plan.appliances, plan.components
    assert [stage.name for stage in oven.stages] == ["roast", "crisp"]
    assert [(s.kind, s.text, s.time) for s in carrots.steps] == [
        ("prep", "peel", 360), ("cook", "roast", 1800), ("rest", "covered", 120),
    ]  # fmt: skip
    assert carrots.steps[1].stage == ("roast", "crisp")
    assert (carrots.food, carrots.hold, carrots.pieces, carrots.shape) == (
        ("plant",), 600, 1, "slab",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        # Values without a unit, and with one that two readers read in two ways.
        (
            '"6 min"', "35",
            "14: component “carrots”, step 1, time: 35 has no unit; write it with a unit, for "
            'example "35 min", "90 s" or "1 h 20 min"',
        ),
        (
            '"6 min"', '"35:00"',
            "14: component “carrots”, step 1, time: “35:00” could be minutes or hours; write it "
            'with a unit, for example "35 min", "90 s" or "1 h 20 min"',
        ),
        (
            '"6 min"', "00:06:00",
            "14: component “carrots”, step 1, time: 00:06:00 is not in quotes; write it with a "
            'unit, for example "35 min", "90 s" or "1 h 20 min"',
        ),
        (
            '"400 °F"', "400",
            "7: appliance “oven”, stage “roast”, temp: 400 has no unit; write it with its unit, "
            'for example "400 °F" or "200 °C"',
        ),
        (
            "serves = 2", 'serves = 2\nserve_at = "6 pm"',
            "3: serve_at: “6 pm” is not a time of day; write it as a quoted 24-hour time, for "
            'example "18:45"',
        ),
        (
            "serves = 2", "serves = 2\nserve_at = 18:45",
            "3: serve_at: 18:45:00 is not in quotes; write it as a quoted 24-hour time, for "
            'example "18:45"',
        ),
        # Keys that are not there.
        (
            "food  =", "foood =",
            "12: component “carrots”, foood: there is no key “foood” here; did you mean “food”?",
        ),
        (
            "food  =", "chart =",
            "12: component “carrots”, chart: there is no key “chart” here; it belongs to the whole "
            "meal: write it above the first [[appliance]] and [[component]]",
        ),
        (
            "food  =", "preheat =",
            "12: component “carrots”, preheat: there is no key “preheat” here; it belongs to "
            "[[appliance]]",
        ),
        (
            'title  = "Supper"', 'titel  = "Supper"',
            "1: titel: there is no key “titel” here; did you mean “title”?",
        ),
        (
            'title  = "Supper"\n', "",
            '1: title: “title” is missing; add title = "Sunday roast"',
        ),
        (
            ', time = "6 min"', "",
            "14: component “carrots”, step 1, time: “time” is missing; add time = \"6 min\"",
        ),
        (
            'prep = "peel"', 'kind = "prep", text = "peel"',
            "14: component “carrots”, step 1, kind: there is no key “kind” here; begin the step "
            'like prep = "peel"',
        ),
        # Values of another kind.
        ("serves = 2", 'serves = "2"', "2: serves: “2” is not a whole number; write it like serves = 2"),
        ("serves = 2", "serves = true", "2: serves: true is not a whole number; write it like serves = 2"),
        ("serves = 2", "serves = 2.0", "2: serves: 2.0 is not a whole number; write it like serves = 2"),
        ("serves = 2", "serves = 0", "2: serves: 0 is too small; write 1 or more"),
        ("serves = 2", "serves = 2000", "2: serves: 2000 is too large; write 1000 or less"),
        ('"Supper"', "1", '1: title: 1 is not text; write it in quotes: title = "…"'),
        ('"Supper"', '" \\u202e "', "1: title: it is empty; write a word, or leave it out"),
        (
            '"peel"', "1",
            "14: component “carrots”, step 1, prep: 1 is not text; write it in quotes: prep = \"…\"",
        ),
        (
            "serves = 2", 'serves = 2\nchart = "uss"',
            '3: chart: “uss” is none of the words there are; write "us", "canada", "uk", '
            '"australia" or "strictest"',
        ),
        (
            "serves = 2", 'serves = 2\ningredients = "300 g carrots"',
            "3: ingredients: “300 g carrots” is not a list; write ingredients = [\"300 g carrots\"]",
        ),
        (
            "serves = 2", "serves = 2\ningredients = [\n 1]",
            "4: ingredient 1: 1 is not text; write ingredients = [\"300 g carrots\"]",
        ),
        (
            '{ prep = "peel", time = "6 min" }', '"peel"',
            "14: component “carrots”, step 1: “peel” is not a table in braces; write "
            'steps = [ { prep = "peel", time = "6 min" } ]',
        ),
        (
            "[[component]]", "[component]",
            "10: component: there may be several of it; write [[component]], with two brackets on "
            "each side",
        ),
        # What must fit together.
        (
            'on = "oven"', 'on = "Ovn"',
            "15: component “carrots”, step 2, on: there is no appliance “Ovn”; did you mean “oven”?",
        ),
        (
            'on = "oven"', 'on = "grill"',
            "15: component “carrots”, step 2, on: there is no appliance “grill”; there are oven",
        ),
        (
            ', on = "oven"', "",
            "15: component “carrots”, step 2: a cook step needs “on”; name its appliance: "
            'on = "oven"',
        ),
        (
            '["roast", "crisp"]', '"crips"',
            "15: component “carrots”, step 2, stage: “oven” has no stage “crips”; did you mean "
            "“crisp”?",
        ),
        (
            '["roast", "crisp"]', '["crisp", "roast"]',
            "15: component “carrots”, step 2, stage: stages are given as the first and the last, "
            'in the order of the program; write stage = ["roast", "crisp"]',
        ),
        (
            '["roast", "crisp"]', '["roast", "roast", "crisp"]',
            "15: component “carrots”, step 2, stage: stages are given as the first and the last, "
            'in the order of the program; write stage = ["roast", "crisp"]',
        ),
        (
            'time = "2 min"', 'time = "2 min", until = "75 °C"',
            "16: component “carrots”, step 3, until: “until” belongs to a cook step, not to rest; "
            "leave it out, or make it a cook step",
        ),
        (
            'time = "6 min"', 'time = "6 min", hands = "7 min"',
            "14: component “carrots”, step 1, hands: “hands” is 7 min, longer than its step of "
            "6 min; write 6 min or less",
        ),
        (
            'time = "30 min"', 'time = "30 min", check = "31 min"',
            "15: component “carrots”, step 2, check: “check” is 31 min, longer than its step of "
            "30 min; write 30 min or less",
        ),
        (
            'time = "30 min"', 'time = "30 min", during = [{ at = "1 h", do = "turn" }]',
            "15: component “carrots”, step 2, action 1, at: it is at 1 h, after the end of its "
            'step of 30 min; write less, or at = "halfway"',
        ),
        (
            'time = "30 min"', 'time = "30 min", during = [{ at = "half", do = "turn" }]',
            "15: component “carrots”, step 2, action 1, at: “half” is not a duration; write it "
            'with a unit, for example "35 min", "90 s" or "1 h 20 min"',
        ),
        (
            'prep = "peel"', 'prep = "peel", rest = "lie"',
            "14: component “carrots”, step 1: a step has exactly one of prep, cook, rest and "
            'finish, this one has prep and rest; begin it like { prep = "peel", time = "6 min" }',
        ),
        (
            '  name = "crisp"', '  name = "ROAST"',
            "9: appliance “oven”, stage “ROAST”, name: the name “ROAST” is there twice; give each "
            "its own name",
        ),
    ],
)  # fmt: skip
def test_a_fault_is_told_with_its_line_and_its_mend(old: str, new: str, told: str) -> None:
    assert GOOD.count(old) == 1
    assert told in problems(GOOD.replace(old, new))


def test_all_faults_are_told_at_once_in_the_order_of_their_lines() -> None:
    text = (
        GOOD.replace("serves = 2", 'serves = "two"')
        .replace('"400 °F"', '"400"')
        .replace('"6 min"', "6")
        .replace('on = "oven"', 'on = "oben"')
        .replace('rest = "covered", time = "2 min"', 'tiem = "2 min", hands = 3')
    )
    assert [line.partition(":")[0] for line in problems(text)] == [
        "2",
        "7",
        "14",
        "15",
        "16",
        "16",
        "16",
    ]
    told = "\n".join(problems(text))
    for word in ("two", "“400” has no unit", "6 has no unit", "oben", "exactly one of", "tiem"):
        assert word in told


def test_names_are_told_apart_by_more_than_capitals() -> None:
    twice = GOOD + GOOD[GOOD.index("[[component]]") :].replace('"carrots"', '"CARROTS "')
    assert problems(twice) == [
        "19: component “CARROTS”, name: the name “CARROTS” is there twice; give each its own name"
    ]


def test_toml_1_1_is_read_as_well() -> None:
    newer = GOOD.replace('{ prep = "peel", time', '{\n    prep = "\\x70eel", # small\n    time')
    assert read_plan(newer, "x") == read_plan(GOOD, "x")


def test_what_an_editor_adds_does_no_harm() -> None:
    assert read_plan("\ufeff" + GOOD.replace("\n", "\r\n"), "x") == read_plan(GOOD, "x")


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b'title = "x"\nname = "caf\xe9"\n', "2: it is not written in UTF-8 (byte 0xe9); save it as UTF-8"),
        (GOOD.encode("utf-16"), "1: it is written in UTF-16; save it as UTF-8"),
        (b"#" * (LARGEST + 1), "1: it is larger than any meal; a plan is one meal: cut it down"),
    ],
)  # fmt: skip
def test_bytes_that_are_no_text_are_told(data: bytes, told: str) -> None:
    with pytest.raises(PlanError) as caught:
        read_file(data, "meal.toml")
    assert str(caught.value) == f"meal.toml:{told}"


def test_the_bytes_of_a_plan_are_read_with_their_text() -> None:
    assert read_file(GOOD.encode(), "x") == (read_plan(GOOD, "x"), GOOD)


def test_text_stays_text() -> None:
    name = "[red]x[/] {y} \\u001b 味噌 “q” שלום"
    plan = read_plan(GOOD.replace('"carrots"', f"'{name}'"), "x")
    assert plan.components[0].name == name
    nasty = GOOD.replace('"carrots"', '"a\\u001b[2Jb\\u202e\\nc"')
    assert read_plan(nasty, "x").components[0].name == "a[2Jb c"


def test_notes_keep_their_paragraphs() -> None:
    text = GOOD.replace(
        "serves = 2", 'serves = 2\nnotes = """\nFirst.\\u001b\n\n\nSecond\tline.\n"""'
    )
    assert read_plan(text, "x").notes == "First.\n\nSecond line."


def test_text_too_long_for_a_line_is_refused_and_not_cut() -> None:
    assert problems(GOOD.replace('"peel"', f'"{"x" * 401}"')) == [
        "14: component “carrots”, step 1, prep: it is longer than 400 characters; say it in "
        "fewer words"
    ]
    assert read_plan(GOOD.replace('"peel"', f'"{"x" * 400}"'), "x").components[0].steps[0].text


@pytest.mark.parametrize(
    "text",
    [
        "",
        "# Soup\n\nTake leeks.\n" * 40,
        '[project]\nname = "a"\n\n[tool.mend]\nx = 1\n',
        '{"a": [1]}',
    ],
)
def test_a_file_that_is_no_plan_is_told_so_once(text: str) -> None:
    assert problems(text) == [
        "1: this is no plan: it has no title, serves, appliance or component; look at the file's "
        "name, or begin a plan with: passbell new"
    ]


@pytest.mark.parametrize(
    "line", ["[[component]]", " [ component ]", "serves 4\ntitle= x", "[appliance"]
)
def test_a_badly_written_plan_is_still_a_plan(line: str) -> None:
    assert not any("this is no plan" in problem for problem in problems(f"oh\n{line}\n"))
