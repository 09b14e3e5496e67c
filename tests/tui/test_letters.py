import pytest
from rich.cells import cell_len

from passbell.tui.letters import HEIGHTS, spelled, spelled_act
from tests.tui.sample import HOSTILE_NAMES

ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@pytest.mark.parametrize("rows", HEIGHTS)
def test_all_letters_differ_and_fill_their_rows(rows: int) -> None:
    drawn = [spelled(letter, 40, rows) for letter in ALPHABET]
    assert len(set(drawn)) == 26
    assert all(len(lines) == rows for lines in drawn)
    assert all(set("".join(lines)) <= set(" ▀▄█") for lines in drawn)


def test_a_word_as_drawn() -> None:
    assert spelled("ADD", 40, 4) == (
        "▄▀▀▀▄ █▀▀▀▄ █▀▀▀▄",
        "█▄▄▄█ █   █ █   █",
        "█   █ █   █ █   █",
        "▀   ▀ ▀▀▀▀  ▀▀▀▀",
    )


def test_accents_are_left_out_and_other_signs_cannot_be_spelled() -> None:
    assert spelled("crème", 90, 4) == spelled("CREME", 90, 4)
    assert spelled("", 90, 4) == ()
    for name in HOSTILE_NAMES:
        lines = spelled(name, 60, 4)
        assert all(cell_len(line) <= 60 for line in lines)
    assert spelled(HOSTILE_NAMES[0], 900, 4) == ()
    assert spelled("面条", 90, 4) == ()


def test_it_is_as_large_as_it_fits() -> None:
    assert len(spelled("TURN", 200, 8)) == 8
    assert len(spelled("TURN", 34, 8)) == 6
    assert spelled("TURN", 10, 8) == ()
    for width in range(1, 90):
        assert all(cell_len(line) <= width for line in spelled("TAKE OUT", width, 8))


def test_an_act_stands_in_one_line_or_two_whichever_is_larger() -> None:
    assert len(spelled_act("ADD", "peas", 90, 4)) == 4
    two = spelled_act("ADD", "green beans", 60, 9)
    assert len(two) == 7
    assert two[3] == ""
    assert spelled_act("ADD", "面条", 60, 4) == spelled("ADD", 60, 4)
    assert spelled_act("ADD", "x" * 90, 60, 3) == spelled("ADD", 60, 3)
