"""Plan files of any size and any nonsense: read or refused, in bounded time, in a cook's words."""

import re
import time
import unicodedata

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from passbell.plan.model import Plan
from passbell.plan.problem import PlanError
from passbell.plan.read import LARGEST, MOST_PROBLEMS, read_plan
from passbell.planfiles import bundled_folder
from tests.plan.slips import GOOD, problems
from tests.plan.toml_texts import texts

SHIPPED = [path.read_text("utf-8") for path in sorted(bundled_folder().glob("*.toml"))]
JARGON = re.compile(
    r"\b(None|True|False|pydantic|datetime|Input|should be|validat|literal|Error|dict|str|int)\b"
)


def meal(components: int, steps: int) -> str:
    """A plan of so many components of so many steps each."""
    one = '[[component]]\nname = "c{}"\nsteps = [\n' + '{{ prep = "p", time = "1 min" }},\n' * steps
    return 'title = "t"\nserves = 1\n' + "".join(one.format(i) + "]\n" for i in range(components))


def test_a_meal_has_a_size() -> None:
    assert len(read_plan(meal(200, 10), "x").components) == 200
    assert problems(meal(201, 1)) == [
        "1003: component “c200”: 201 components are too many; at most 200"
    ]
    assert problems(meal(200, 11)) == ["1: 2200 steps are too many; at most 2000"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "\n" * 7 + "a = " + "[" * 50,
            "8: lists and tables are nested too deep; write the steps one level deep",
        ),
        (
            "a" + ".a" * 5000 + " = 1",
            "1: lists and tables are nested too deep; write the steps one level deep",
        ),
        ("x" * (LARGEST + 1), "1: it is larger than any meal; a plan is one meal: cut it down"),
        (
            "a = [" + "1," * 99_999 + "]",
            "1: it is larger than any meal; a plan is one meal: cut it down",
        ),
    ],
)
def test_a_text_beyond_the_bounds_is_refused_unread(text: str, told: str) -> None:
    assert problems(text) == [told]


def test_of_very_many_problems_the_first_are_told() -> None:
    found = problems(meal(200, 10).replace('"1 min"', "1 min"))
    assert len(found) == MOST_PROBLEMS + 1
    assert found[0].startswith("6: component “c0”, step 1, time")
    assert found[-1].endswith(
        f"there is more wrong, {2000 - MOST_PROBLEMS} times; mend these first"
    )


HOSTILE = [
    meal(200, 10).replace('"1 min"', "1"),
    meal(200, 10).replace('" }', '", }'),
    "".join(f"key{i} = 1\n" for i in range(10_000)),
    "".join(f"a.b{i} = 1\nc.d{i} = 2\n" for i in range(5_000)) + "!",
    "\n" * 90_000 + "!",
    'a = "' + "\\u0041" * 150_000 + '"\n!',
    "title = 0x" + "f" * 900_000,
    "title" + ".a" * 30 + " = 1",
    "a" * 900_000 + " = 1",
    'title = "' + "é\u202e" * 190_000 + '"',
    "a" + '."a"' * 40_000 + " = 1",
    '"a" ' * 30_000 + "= 1",
    "a=[\n" + "b\n" * 15_000 + "!",
    "a={" + "b c " * 20_000,
    "a=“x”\n" * 10_000,
    'a="""' + 'x"' * 400_000,
    "a=[=" + "=" * 90_000,
    'a="' + "\\q" * 400_000 + '"',
]


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_a_hostile_file_is_refused_or_read_in_bounded_time(text: str) -> None:
    """The slowest takes some seconds here; a quadratic step anywhere takes many minutes."""
    before = time.process_time()
    found = answer(text)
    assert isinstance(found, Plan) or len(found.problems) <= MOST_PROBLEMS + 1
    assert time.process_time() - before < 60


def answer(text: str) -> Plan | PlanError:
    """The plan, or what is told of it; any other error is a fault."""
    try:
        return read_plan(text, "x")
    except PlanError as error:
        return error


def well_told(text: str) -> None:
    """Every problem has a line of the text, two halves, one line, and no word of a library."""
    found = answer(text)
    if isinstance(found, Plan):
        return
    assert found.problems
    for problem in found.problems:
        assert 1 <= problem.line <= text.count("\n") + 1
        assert problem.what
        assert problem.mend
        assert not {"Cc", "Cs", "Zl", "Zp"} & {unicodedata.category(c) for c in str(problem)}
        # What the file itself says stands in quotes, and the keys there are follow in a list.
        own = re.sub('“[^”]*”|"[^"]*"', "", f"{problem.what}; {problem.mend}")
        assert JARGON.search(own) is None, own


WORDS = st.sampled_from(
    [
        "title", "serves", "component", "appliance", "name", "steps", "prep", "cook", "time",
        "on", "=", "[", "]", "[[", "]]", "{", "}", ",", '"6 min"', '"x"', "1", "#", "'", '"""',
        ".", "during", "true", "nan", "18:45", "kind", "text", "literal", '"a(b["', "at",
        "halfway", "\n", "\x00", "\u00a0"
    ]
)  # fmt: skip


@settings(max_examples=50)
@example('text=""')
@given(st.one_of(st.text(), st.lists(WORDS, max_size=40).map(" ".join), texts(newer=True)))
def test_any_text_is_read_or_refused_with_a_place(text: str) -> None:
    well_told(text)


@settings(max_examples=50)
@given(st.data())
def test_any_slip_in_a_good_plan_is_read_or_refused(data: st.DataObject) -> None:
    text = data.draw(st.sampled_from([GOOD, *SHIPPED]))
    for _ in range(data.draw(st.integers(1, 3))):
        start = data.draw(st.integers(0, len(text) - 1))
        end = data.draw(st.integers(start, min(len(text), start + 6)))
        put = data.draw(st.one_of(st.just(""), WORDS, st.text(max_size=3)))
        text = text[:start] + put + text[end:] or " "
    well_told(text)


PLAIN = [
    "1", "-1", "0", "2.5", "true", "inf", "1e300", "0xffffffffffffffffffff", '"x"', '""',
    "'6 min'", '"400 °F"', "18:45", "1979-05-27", '"halfway"', '"oven"', '"plant"', '"25 mm"'
]  # fmt: skip
VALUES = st.recursive(
    st.sampled_from(PLAIN),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda v: f"[{', '.join(v)}]"),
        st.tuples(st.sampled_from(["at", "do", "prep", "time", "x"]), inner).map(
            lambda pair: f"{{ {pair[0]} = {pair[1]} }}"
        ),
    ),
    max_leaves=4,
)


@settings(max_examples=50)
@given(st.data())
def test_any_value_of_any_key_is_read_or_refused(data: st.DataObject) -> None:
    text = data.draw(st.sampled_from([GOOD, *SHIPPED]))
    spots = list(re.finditer(r'(?<== )("[^"\n]*"|\[[^\[\]{}\n]*\]|[0-9]+)', text))
    spot = data.draw(st.sampled_from(spots))
    well_told(text[: spot.start()] + data.draw(VALUES) + text[spot.end() :])
