from dataclasses import replace

import pytest

from passbell.tui.guard import CHORD
from passbell.tui.keys import FUNCTIONS, standard
from passbell.tui.listen import SETTLE, Listener
from tests.tui.sample import COMING, PENDING, PROBE, FakeDesk


class Board:
    """A keyboard with a clock of its own: each key is pressed a second after the last."""

    def __init__(self, desk: FakeDesk | None = None) -> None:
        self.desk = desk or FakeDesk()
        self.listener = Listener(self.desk, standard(), self.desk.view)
        self.now = 100.0
        self.wishes: list[str] = []

    def type(self, *keys: str) -> "Board":
        for key in keys:
            self.now += 1.0
            character = key if len(key) == 1 else None
            self.wishes.append(self.listener.key(key, character, self.now))
            self.wishes.append(self.listener.settle(self.now + SETTLE))
            self.listener.view = self.desk.view
        return self

    @property
    def mode(self) -> str:
        return self.listener.mode

    @property
    def cover(self) -> str:
        return self.listener.cover

    @property
    def pressed(self) -> list[object]:
        return [asked[1] for asked in self.desk.asked if asked[0] == "press"]


ACTION_KEYS = {
    "enter": "done", "d": "done", "e": "earlier", "p": "put_off", "plus": "longer",
    "minus": "shorter", "a": "away", "h": "heat_off", "r": "ready", "u": "not_ready",
    "t": "take_out", "b": "take_back", "f": "redo", "q": "quiet", "m": "mark", "w": "say_all",
    "c": "together",
}  # fmt: skip


@pytest.mark.parametrize(("key", "action"), ACTION_KEYS.items())
def test_a_key_is_an_action(key: str, action: str) -> None:
    assert Board().type(key).pressed == [action]


def test_every_function_does_something() -> None:
    for function in FUNCTIONS:
        board = Board()
        wish = board.listener.do(function.name)
        assert board.desk.asked or wish or board.listener.cover, function.name


def test_any_other_key_says_that_the_cue_was_seen() -> None:
    assert Board().type("$").pressed == ["silence"]
    assert Board().type("f1").pressed == ["silence"]


def test_a_digit_opens_the_box_and_enter_gives_the_line() -> None:
    board = Board().type("1", "5", "2")
    assert board.mode == "probe"
    assert board.listener.typing is not None
    assert board.listener.typing.typed.text == "152"
    board.type("enter")
    assert board.desk.asked[-1] == ("enter", "152")
    assert board.mode == "keys"
    assert board.listener.foot_room == "told"


def test_letters_go_into_the_open_box_not_to_their_functions() -> None:
    board = Board().type("i", "d", "x", "space")
    assert board.pressed == ["silence"]
    assert board.listener.typed.text == "dx"


def test_a_refused_line_stays_to_be_mended() -> None:
    board = Board(FakeDesk(takes=False)).type("9", "9", "9", "enter")
    assert board.mode == "probe"
    assert board.listener.typed.text == "999"


def test_an_empty_line_closes_the_box_and_asks_nothing() -> None:
    board = Board().type("i", "enter")
    assert board.mode == "keys"
    assert board.pressed == ["silence"]
    assert Board().type("i", "backspace").listener.mode == "keys"


@pytest.mark.parametrize(("key", "kind"), [("v", "serve_at"), ("n", "note"), ("o", "display")])
def test_one_line_questions(key: str, kind: str) -> None:
    board = Board().type(key, "plus", "1", "5")
    assert board.mode == kind
    board.listener.paste(" later\n")
    board.type("enter")
    assert board.desk.asked[-1] == (kind, "15later")
    assert board.mode == "keys"


def test_escape_closes_one_thing_at_a_press() -> None:
    board = Board(FakeDesk(PENDING))
    board.type("i", "escape")
    assert board.mode == "keys"
    assert "drop" not in board.pressed
    board.type("f1", "escape")
    assert board.cover == ""
    assert "drop" not in board.pressed
    board.type("escape")
    assert board.pressed[-1] == "drop"


def test_escape_with_nothing_open_lets_go_of_the_row() -> None:
    board = Board().type("down", "escape")
    assert board.desk.asked == [("select", 0), ("select", None)]


def test_a_digit_takes_a_way_out_while_there_are_any() -> None:
    board = Board(FakeDesk(PENDING)).type("2")
    assert board.desk.asked == [("choose", 2)]
    assert board.mode == "keys"


def test_a_digit_answers_a_question_of_the_box() -> None:
    view = replace(COMING, probe=replace(PROBE, question="1 chicken  2 pork?"))
    assert Board(FakeDesk(view)).type("1").desk.asked == [("choose", 1)]


def test_a_digit_that_chooses_nothing_opens_the_box() -> None:
    board = Board(FakeDesk(PENDING, chooses=False)).type("7")
    assert board.mode == "probe"
    assert board.listener.typed.text == "7"


def test_up_and_down_go_through_the_rows_and_past_the_end_to_none() -> None:
    board = Board()
    rows = len(board.desk.view.rows)
    board.type(*["down"] * (rows + 1), "up")
    chosen = [asked[1] for asked in board.desk.asked]
    assert chosen == [*range(rows), None, rows - 1]


def test_leaving_asks_while_something_is_on_the_heat() -> None:
    board = Board().type("x")
    assert board.mode == "leave"
    assert "oven is on" in board.listener.question
    board.type("d", "enter")
    assert board.mode == "leave"
    assert "gone" not in board.wishes
    board.type("2")
    assert board.mode == "keys"
    assert "gone" in board.type("x", "1").wishes


def test_leaving_goes_at_once_when_nothing_is_on() -> None:
    assert "gone" in Board(FakeDesk(on_heat="")).type("x").wishes


def test_the_last_acts_stand_until_another_key() -> None:
    board = Board().type("b")
    assert board.listener.acts
    assert board.listener.foot_room == "open"
    board.type("p")
    assert not board.listener.acts


def test_help_and_say_it_all_close_by_any_key_that_still_does_its_work() -> None:
    board = Board().type("f1")
    assert board.cover == "help"
    board.type("enter")
    assert board.cover == ""
    assert board.pressed[-1] == "done"
    board.type("w")
    assert board.cover == "all"
    board.type("w")
    assert board.cover == ""
    board.type("f1")
    assert board.type("pagedown").wishes[-2] == "page down"


def test_a_cloth_does_nothing_and_is_told() -> None:
    board = Board()
    for n, key in enumerate(("d", "enter", "t", "x")):
        board.wishes.append(board.listener.key(key, None, 200 + n * 0.01))
    board.listener.settle(201.0)
    assert board.desk.asked == []
    assert board.wishes.count("together") == 1


def test_a_held_done_is_done_once() -> None:
    board = Board()
    for n in range(40):
        now = 200 + (0.5 + n / 30 if n else 0)
        board.listener.key("enter", "\r", now)
        board.listener.settle(now + CHORD + 0.001)
    assert board.pressed == ["done"]


def test_clicks_are_the_keys_they_stand_for() -> None:
    board = Board(FakeDesk(PENDING))
    for tag in ("key:done", "row:2", "row:2", "way:3", "key:drop", "probe"):
        board.listener.clicked(tag)
        board.listener.view = board.desk.view
    assert board.desk.asked == [
        ("press", "done"), ("select", 2), ("select", None), ("choose", 3), ("press", "drop"),
        ("press", "silence"),
    ]  # fmt: skip
    assert board.mode == "probe"
    board.type("6")
    board.listener.clicked("key:done")
    assert board.desk.asked[-1] == ("enter", "6")
    board.listener.leave()
    board.listener.clicked("answer:2")
    assert board.mode == "keys"
    board.listener.leave()
    assert board.listener.clicked("answer:1") == "gone"


def test_a_click_on_a_function_closes_what_was_being_typed() -> None:
    board = Board().type("1")
    board.listener.clicked("key:put_off")
    assert board.mode == "keys"
    assert board.pressed[-1] == "put_off"
    board.type("f1")
    board.listener.clicked("cover:close")
    assert board.cover == ""
