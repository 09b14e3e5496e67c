"""What the cook types, as commands."""

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passbell.cook import commands as cm
from passbell.cook.cards import first_cue
from passbell.cook.verdicts import verdict
from passbell.cook.whose import NotUnderstood
from passbell.cook.words import change_of_now, read_words
from passbell.units import ClockTime
from tests.cook.meals import CHOPS, TRAY, Hand, plan_of, step

HAND = Hand(TRAY).cook_to(34 * 60)


@pytest.mark.parametrize(
    ("text", "command"),
    [
        ("152", cm.Probe(component=1, place="1", shown=152.0, scale="F")),
        ("66c", cm.Probe(component=1, place="1", shown=66.0, scale="C")),
        ("62,8 C", cm.Probe(component=1, place="1", shown=62.8, scale="C")),
        ("chicken 152", cm.Probe(component=1, place="1", shown=152.0, scale="F")),
        ("2 151", cm.Probe(component=1, place="2", shown=151.0, scale="F")),
        ("chicken thighs 2 151.5F", cm.Probe(component=1, place="2", shown=151.5, scale="F")),
        ("oven 9:30", cm.Dial(appliance=0, seconds=570)),
        ("longer oven 3", cm.ExtendStage(appliance=0, by=180)),
        ("shorter carrots 2", cm.ExtendStep(component=0, by=-120)),
        ("take out beans", cm.TakeOut(component=2)),
        ("put back chicken", cm.PutBack(component=1)),
        ("heat off oven", cm.HeatOff(appliance=0)),
        ("note a bit dark", cm.Note(text="a bit dark")),
        ("serve asap", cm.ServeAt(at=None)),
        ("Take Back", cm.TakeBack()),
        ("chart canada", cm.SetChart(chart="canada")),
        ("put off 3 min", cm.PutOff(cue="dish_up.0.0.-.0", by=180)),
    ],
)
def test_words(text: str, command: cm.Command) -> None:
    found = read_words(text, HAND.state)
    if isinstance(command, cm.PutOff):
        assert isinstance(found, cm.PutOff)
        assert found.by == command.by
    else:
        assert found == command


def test_serve_takes_more_minutes_or_a_clock_time() -> None:
    planned = HAND.state.schedule.dish_up
    assert read_words("serve +15", HAND.state) == cm.ServeAt(at=planned + 900)
    found = read_words(
        "serve 19:00", HAND.state, serve_in=lambda c: 3600 if c == ClockTime(19, 0) else 0
    )
    assert found == cm.ServeAt(at=3600)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "nothing was typed"),
        ("abc", "no reading and no command"),
        ("nan", "no reading"),
        ("inf F", "no reading"),
        ("grill 9:30", "is no appliance"),
        ("take out", "which component"),
        ("chart mars", "there are us, canada"),
        ("serve soon", "not a time of day"),
        ("put off 5 h", "too long"),
        ("longer oven 99999999", "too much"),
        ("oven 99:59:59", "too much"),
        ("serve +9999", "too much"),
        ("long " + "x" * 80 + " 150", "too much"),
    ],
)
def test_what_is_not_understood_says_how_to_write_it(text: str, says: str) -> None:
    with pytest.raises(NotUnderstood, match=says):
        read_words(text, HAND.state)


def test_a_number_that_could_be_two_foods_is_asked_back() -> None:
    both = {**CHOPS, "component": [*CHOPS["component"]]}
    both["component"] = [
        both["component"][0],
        {**both["component"][0], "name": "lamb", "food": "beef_lamb_whole"},
    ]
    both["appliance"] = [{"name": "pan"}]
    hand = Hand(both)
    hand.cook_to(max(row[1] for row in hand.state.schedule.starts) + 1)
    with pytest.raises(NotUnderstood, match="whose reading"):
        read_words("150", hand.state)


def test_what_is_missing_is_asked_for_by_its_name() -> None:
    hand = Hand(CHOPS).cook_to(25 * 60)
    with pytest.raises(NotUnderstood, match=r"whose display\? type its name before the time: pan"):
        read_words("9:30", hand.state)
    with pytest.raises(NotUnderstood, match="nothing is on the heat; a reading is of something"):
        read_words("150", Hand(CHOPS).state)


def test_a_number_while_only_vegetables_are_hot_is_told_so() -> None:
    only = {**CHOPS}
    only["component"] = [
        {**only["component"][0], "name": "leeks", "food": "plant",
         "steps": [{"cook": "in", "on": "pan", "time": "10 min"}]},
    ]  # fmt: skip
    only["appliance"] = [{"name": "pan"}]
    hand = Hand(only)
    hand.cook_to(max(row[0] for row in hand.state.schedule.starts) + 1)
    with pytest.raises(NotUnderstood, match="nothing on the heat has to be probed; type a name"):
        read_words("150", hand.state)


def test_a_question_ends_with_its_own_sign() -> None:
    assert str(NotUnderstood("whose reading?", "type a name")) == "whose reading? type a name"
    assert str(NotUnderstood("no reading", "type 152")) == "no reading; type 152"


def test_longer_means_the_food_that_now_asks_for_where_no_program_runs() -> None:
    """A pan has no stage that could last longer: its food does, and nothing further down."""
    hand = Hand(CHOPS)
    start = hand.state.schedule.starts[1][0]
    hand.cook_to(start - 1).at(start)
    hand.done("READY? back")
    first = first_cue(hand.state)
    assert first is not None
    assert first.text.startswith("ADD rice")
    assert change_of_now(hand.state, 60) == cm.ExtendStep(component=1, step=0, by=60)


def test_a_bare_reading_belongs_to_the_place_that_is_asked_for() -> None:
    """Else the coldest piece, probed again, stands for another that nobody looked at again."""
    hand = Hand(TRAY).cook_to(34 * 60)
    for typed in ("2 140", "130", "170", "171"):
        hand.say(read_words(typed, hand.state))
        hand.at(hand.now + 5)
    assert [r.place for r in hand.state.readings] == ["2", "1", "1", "2"]
    judged = verdict(hand.state, 1)
    assert judged.verdict == "met"
    hand = Hand(TRAY).cook_to(34 * 60)
    for typed in ("2 140", "130", "170"):
        hand.say(read_words(typed, hand.state))
        hand.at(hand.now + 5)
    judged = verdict(hand.state, 1)
    assert (judged.verdict, judged.next_place) == ("below", "2")


def test_a_number_alone_before_a_reading_is_a_place_whatever_the_names_hold() -> None:
    data = {**TRAY, "component": [dict(c) for c in TRAY["component"]]}
    data["component"][0]["name"] = "2 carrots"
    hand = Hand(plan_of(data)).cook_to(34 * 60)
    assert read_words("2 151", hand.state) == cm.Probe(
        component=1, place="2", shown=151.0, scale="F"
    )
    named = read_words("carrots 151", hand.state)
    assert named == cm.Probe(component=0, shown=151.0, scale="F")


@given(st.text(max_size=60))
def test_any_text_is_a_command_or_a_sentence(text: str) -> None:
    with contextlib.suppress(NotUnderstood):
        read_words(text, HAND.state)


def _oven_of(*dishes: tuple[str, str]) -> Hand:
    """Dishes of meat, each with its food keys, an hour on appliances of their own."""
    made = [
        {
            "name": name,
            "food": food.split(","),
            "steps": [step("cook", "roast", "60 min", on=f"oven {n}", until="165 °F")],
        }
        for n, (name, food) in enumerate(dishes)
    ]
    ovens = [{"name": f"oven {n}", "preheat": "3 min"} for n in range(len(dishes))]
    meal = {"title": "Invented roasts", "serves": 2, "appliance": ovens, "component": made}
    return Hand(meal).cook_to(70 * 60)


@pytest.mark.parametrize("selected", [None, 0, 1])
@pytest.mark.parametrize("typed", ["thigh 170", "turkey thigh 170"])
def test_a_reading_of_one_bird_is_never_put_down_to_another_food(
    typed: str, selected: int | None
) -> None:
    """A whole bird is read at its thigh (FSIS); chicken thighs that cook beside it are not that."""
    hand = _oven_of(("turkey", "poultry_whole"), ("chicken thighs", "poultry_pieces"))
    if typed == "turkey thigh 170":
        read = read_words(typed, hand.state, selected=selected)
        assert read == cm.Probe(component=0, place="thigh", shown=170.0, scale="F")
        return
    with pytest.raises(NotUnderstood, match="type chicken thighs or turkey 1"):
        read_words(typed, hand.state, selected=selected)
    assert read_words("turkey 1 170", hand.state) == cm.Probe(
        component=0, place="1", shown=170.0, scale="F"
    )
    assert read_words("chicken thighs 170", hand.state) == cm.Probe(
        component=1, place="1", shown=170.0, scale="F"
    )


def test_two_names_that_share_a_word_are_asked_back() -> None:
    hand = _oven_of(("chicken", "poultry_whole"), ("chicken thighs", "poultry_pieces"))
    with pytest.raises(NotUnderstood, match="could be 2 foods; type chicken thighs or chicken 1"):
        read_words("chicken thigh 170", hand.state)


def test_a_place_in_the_name_of_its_food_is_still_that_place() -> None:
    """A second reading of the stuffing must not be put over a cold thigh."""
    hand = _oven_of(("turkey with stuffing", "stuffing,poultry_whole"))
    for typed in ("stuffing 170", "thigh 150", "wing 170", "breast 170", "stuffing 171"):
        assert hand.say(read_words(typed, hand.state)) is None
        hand.at(hand.now + 5)
    assert verdict(hand.state, 0).verdict == "below"
    assert hand.state.readings[-1].place == "stuffing"
    hand = _oven_of(("stuffing", "stuffing"))
    for typed in ("stuffing 170", "stuffing 171"):
        assert hand.say(read_words(typed, hand.state)) is None
    assert verdict(hand.state, 0).verdict == "incomplete", "the meat has not been read"


def test_the_selected_one_of_two_birds_is_meant() -> None:
    hand = _oven_of(("turkey", "poultry_whole"), ("goose", "poultry_whole"))
    read = read_words("wing 170", hand.state, selected=1)
    assert read == cm.Probe(component=1, place="wing", shown=170.0, scale="F")
    with pytest.raises(NotUnderstood, match="type turkey 2 or goose 2"):
        read_words("wing 170", hand.state)


def test_a_letter_is_a_place_and_no_part_of_a_name() -> None:
    hand = _oven_of(("pork", "pork_whole"), ("lamb", "beef_lamb_whole"))
    for letter in ("a", "b", "l"):
        read = read_words(f"{letter} 150", hand.state, selected=0)
        assert read == cm.Probe(component=0, place=letter, shown=150.0, scale="F")
    read = read_words("lam 150", hand.state, selected=0)
    assert read == cm.Probe(component=1, place="1", shown=150.0, scale="F")


@pytest.mark.parametrize(
    ("text", "component", "told"),
    [
        ("a bit dark", None, "note: a bit dark"),
        ("a bit dark", 0, "note on carrots: a bit dark"),
        ("turned out: just right", 0, "carrots turned out: just right"),
        ("turned out: not said", 0, "carrots turned out: not said"),
        ("yield: 3 plates", None, "yield: 3 plates"),
        ("next time: hotter", None, "next time: hotter"),
    ],
)
def test_a_note_among_the_acts_says_what_it_is_about(
    text: str, component: int | None, told: str
) -> None:
    hand = Hand(TRAY)
    assert hand.say(cm.Note(text=text, component=component)) is None
    assert hand.state.log[-1].words == told


def test_what_now_says_to_take_out_needs_no_name() -> None:
    hand = Hand(CHOPS)
    hand.cook_to(hand.state.schedule.ends[0][1])
    for place in ("1", "2"):
        hand.say(cm.Probe(component=0, place=place, shown=66.0, scale="C"))
    assert read_words("take out", hand.state) == cm.TakeOut(component=0)
    assert read_words("take out", hand.state, selected=1) == cm.TakeOut(component=1)
    hand.done("TAKE OUT pork")
    with pytest.raises(NotUnderstood, match="which component"):
        read_words("take out", hand.state)


def test_a_prep_is_begun_by_name_or_as_the_next() -> None:
    hand = Hand(TRAY)
    first = read_words("begin", hand.state)
    assert isinstance(first, cm.Done)
    assert first.cue == hand.find("PREPARE").key.id
    chicken = read_words("begin chicken", hand.state)
    assert chicken == read_words("begin", hand.state, selected=1)
    assert chicken == cm.Done(cue="prep.1.0.begin.0")
    assert hand.say(chicken) is None
    with pytest.raises(NotUnderstood, match="of chicken thighs can be begun now"):
        read_words("begin chicken", hand.state)
