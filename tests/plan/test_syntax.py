"""Slips of the pen: each told at its line, several at once, and the values judged all the same."""

import pytest

from passbell.plan.problem import PlanError
from passbell.plan.read import read_plan
from tests.plan.slips import GOOD, problems

SLIPS = [
    # Quotes.
    ("“Supper”", '1: title: curly quotes mark no text here; write straight ones: "Supper"'),
    ("Supper", '1: title: “Supper” stands without quotes; write "Supper"'),
    (
        "Grandma's supper, for two",
        "1: title: “Grandma's supper, for two” stands without quotes; write "
        '"Grandma\'s supper, for two"',
    ),
    ('"Supper', '1: title: a quote opens here and is not closed; close it with "'),
    ("'Supper", "1: title: a quote opens here and is not closed; close it with '"),
    ('"""Supper', '1: a quote opens here and is not closed; close it with """'),
    ('"Supper",', "1: title: there is more behind the text: “,”; take it out"),
    (
        '"Sup"per"',
        '1: title: there is more behind the text: “per"”; close every text with ", and write a '
        r"quote within one as \"",
    ),
    (
        r'"C:\supper"',
        r"1: title: the \ in this text is followed by what it cannot be; write \\ for a \ itself",
    ),
    ("", "1: title: it is empty; write a word, or leave it out"),
    ('"a\x00b"', "1: there is a control character (U+0000); take it out"),
    ('"a" # \x1b[2J', "1: there is a control character (U+001B); take it out"),
    ('"a"\rserves = 1', "1: there is a control character (U+000D); take it out"),
]


@pytest.mark.parametrize(("new", "told"), SLIPS, ids=range(len(SLIPS)))
def test_a_slip_in_a_value(new: str, told: str) -> None:
    found = problems(GOOD.replace('"Supper"', new))
    assert told in found
    assert len(found) == 1 or "\r" in new


LINES = [
    # What stands in the file, what is written instead, and all that is told of it.
    (
        'title  = "Supper"',
        'title: "Supper"',
        "1: title: a colon stands behind “title”; write title = …",
    ),
    (
        'title  = "Supper"',
        'title : "Supper"',
        "1: title: a colon stands behind “title”; write title = …",
    ),
    (
        'title  = "Supper"',
        'title "Supper"',
        "1: title: there is no = behind “title”; write title = …",
    ),
    (
        "serves = 2",
        "serves = 2\nPreheat the oven first",
        '3: “Preheat the oven first” has no = and no value; write key = "value"; a '
        "remark begins with #",
    ),
    (
        "serves = 2",
        'serves = 2\nserve at = "18:45"',
        "3: serve_at: “serve at” is no key; write letters, digits, - and _ only, such as serve_at",
    ),
    (
        "serves = 2",
        "serves = 2 people",
        "2: serves: “2 people” is not a whole number; write it like serves = 2",
    ),
    (
        "serves = 2",
        "serves = 2\nserve_at = 6 pm",
        "3: serve_at: “6 pm” is not a time of day; write it as a quoted 24-hour time, "
        'for example "18:45"',
    ),
    (
        "serves = 2",
        "serves = 2\n\nserves = 3",
        "4: serves: “serves” is there twice, first on line 2; keep one of them",
    ),
    (
        "serves = 2",
        "serves = 2\n= 3",
        "3: the line begins with =, and nothing there wants it; look at the lines above, "
        "or take it out",
    ),
    (
        "serves = 2",
        "serves\u00a0= 2",
        "2: there is a blank of an unusual kind (U+00A0); write an ordinary one",
    ),
    (
        '"6 min" },',
        '"6 min" }',
        "14: component “carrots”, steps: a comma is missing behind this; put one there",
    ),
    (
        '"6 min" },',
        '"6 min",',
        "14: component “carrots”, steps: the { that opens here is not closed; close it with }",
    ),
    (
        '{ prep = "peel"',
        '{ prep = "peel',
        '14: component “carrots”, steps: there is more behind the text: “6 min" },”; '
        'close every text with ", and write a quote within one as \\"',
    ),
    (
        '"peel", time',
        '"peel" time',
        "14: component “carrots”, step 1: a comma is missing behind this; put one there",
    ),
    (
        'prep = "peel"',
        'prep: "peel"',
        "14: component “carrots”, step 1, prep: a colon stands behind “prep”; write prep = …",
    ),
    (
        'prep = "peel"',
        "prep = peel",
        '14: component “carrots”, step 1, prep: “peel” stands without quotes; write "peel"',
    ),
    (
        'time = "6 min"',
        "time = 6 min",
        '14: component “carrots”, step 1, time: “6 min” stands without quotes; write "6 min"',
    ),
    (
        'time = "6 min"',
        '"6 min"',
        '14: component “carrots”, step 1: “"6 min"” has no = and no value; write key = "value"',
    ),
    (
        "\n]\n",
        "\n",
        "13: component “carrots”, steps: the [ that opens here is not closed; close it with ]",
    ),
    (
        "\n]\n",
        "\n]]\n",
        "17: component “carrots”, steps: there is more behind it: “]”; begin a new line, "
        "or take it out",
    ),
    (
        '"roast", "crisp"]',
        '"roast" "crisp"]',
        "15: component “carrots”, step 2, stage 1: a comma is missing behind this; put one there",
    ),
    (
        '"roast", "crisp"]',
        '"roast", "crisp"',
        "15: component “carrots”, steps: the [ that opens here is not closed; close it with ]",
    ),
    (
        '"roast", "crisp"]',
        '"roast",, "crisp"]',
        "15: component “carrots”, steps: there is a “,” too many in the list; take it out",
    ),
    (
        "[[component]]",
        "[[component]",
        "10: the header is not closed; write [[component]]",
    ),
    (
        "[[component]]",
        "[[]]",
        "10: the header is not closed; write [[component]]",
    ),
    (
        "[[component]]",
        "component",
        "10: “component” stands without brackets; write [[component]]",
    ),
    (
        "[[component]]",
        "[[com ponent]]",
        "10: “com ponent” is no name of a table; write letters, digits, - and _ only, "
        "such as serve_at",
    ),
    (
        "[[component]]",
        '[[component]]\nname = "beets"\nsteps = [{ finish = "plate", time = "0 s" }]\n[component]',
        "13: component: “component” is there twice, first on line 10; for several of "
        "them write [[component]]",
    ),
]


@pytest.mark.parametrize(("old", "new", "told"), LINES, ids=range(len(LINES)))
def test_a_slip_is_told_and_nothing_that_only_follows_from_it(
    old: str, new: str, told: str
) -> None:
    assert old in GOOD
    assert problems(GOOD.replace(old, new, 1)) == [told]


def test_slips_and_wrong_values_are_told_together() -> None:
    text = (
        GOOD.replace('"Supper"', "Supper")
        .replace("serves = 2", "serves = 0")
        .replace('"400 °F"', "400 °F")
        .replace('"plant"', "“plant”")
        .replace('"6 min" }', "6 }")
        .replace('"30 min"', "30 min")
        .replace('"2 min"', '"2 weeks"')
    )
    assert [problem.split("; ")[0] for problem in problems(text)] == [
        "1: title: “Supper” stands without quotes",
        "2: serves: 0 is too small",
        "7: appliance “oven”, stage “roast”, temp: “400 °F” stands without quotes",
        "12: component “carrots”, food: curly quotes mark no text here",
        "14: component “carrots”, step 1, time: 6 has no unit",
        "15: component “carrots”, step 2, time: “30 min” stands without quotes",
        "16: component “carrots”, step 3, time: “2 weeks” is not a duration",
    ]


def test_a_quote_that_swallows_the_rest_is_told_alone() -> None:
    text = GOOD.replace("serves = 2", 'notes = """A note').replace('"6 min"', "6")
    assert problems(text) == ['2: a quote opens here and is not closed; close it with """']


def test_line_ends_of_other_systems_do_not_move_the_lines() -> None:
    text = GOOD.replace('"6 min"', "6 min").replace("\n", "\r\n")
    assert [problem.split(":")[0] for problem in problems("\ufeff" + text)] == ["14"]


def test_lines_are_counted_through_texts_of_several_lines_and_comments() -> None:
    text = '# one\nnotes = """\nthree [\n{ four\n"""  # five\n\n' + GOOD.replace('"6 min"', "6")
    assert [problem.split(":")[0] for problem in problems(text)] == [str(14 + 6)]
    inline = GOOD.replace('{ prep = "peel", time = "6 min" }', '{\n prep = "peel",\n time = 6,\n }')
    assert [problem.split(":")[0] for problem in problems(inline)] == ["16"]


def test_a_problem_names_its_file_as_the_cook_did() -> None:
    with pytest.raises(PlanError) as caught:
        read_plan(GOOD.replace("serves", "severs"), "my meal.toml")
    assert str(caught.value.problems[0]).startswith("my meal.toml:2: severs: ")


def test_a_bracket_left_open_loses_nothing_of_what_follows() -> None:
    text = GOOD.replace('"plant"', '["plant"').replace('"6 min"', "6")
    assert [problem.split("; ")[0] for problem in problems(text)] == [
        "12: component “carrots”, food: the [ that opens here is not closed",
        "14: component “carrots”, step 1, time: 6 has no unit",
    ]
