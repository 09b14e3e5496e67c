import pytest
from rich.cells import cell_len

from passbell.tui.digits import HEIGHTS, block, largest, size_for


@pytest.mark.parametrize("rows", HEIGHTS)
@pytest.mark.parametrize("narrow", [False, True])
def test_every_sign_fills_its_box(rows: int, narrow: bool) -> None:
    for sign in "0123456789:-+ ":
        lines = block(sign, rows, narrow)
        assert len(lines) == rows
        assert len({cell_len(line) for line in lines}) == 1
        assert set("".join(lines)) <= set(" ▀▄█")


@pytest.mark.parametrize("rows", HEIGHTS)
def test_digits_have_one_width_and_differ(rows: int) -> None:
    drawn = [block(digit, rows) for digit in "0123456789"]
    assert len({cell_len(lines[0]) for lines in drawn}) == 1
    assert len(set(drawn)) == 10


def test_narrow_digits_differ_too() -> None:
    for rows in HEIGHTS:
        assert len({block(digit, rows, narrow=True) for digit in "0123456789"}) == 10


def test_four_rows_as_drawn() -> None:
    assert block("4:05", 4) == (
        "██ ██  ▄▄ ▄█▀▀█▄ ██▀▀▀▀",
        "██ ██     ██  ██ ██▄▄▄▄",
        "▀▀▀██▀ ▄▄ ██  ██     ██",
        "   ▀▀      ▀▀▀▀   ▀▀▀▀ ",
    )


def test_a_half_block_is_left_beneath_so_that_two_do_not_touch() -> None:
    for rows in HEIGHTS:
        assert "█" not in block("8888", rows)[-1]
        assert "▄" not in block("8888", rows)[-1]


def test_largest_fits_and_fills_the_room() -> None:
    for width in range(1, 120):
        lines = largest("+88:88", width, 12)
        assert all(cell_len(line) <= width for line in lines)
    assert len(largest("+88:88", 120, 12)) == 12
    assert largest("4:10", 5, 12) == ()
    assert size_for("88:88", 200, 2) is None


def test_thick_digits_go_before_tall_ones() -> None:
    assert size_for("+88:88", 36, 5) == (4, False)
    assert size_for("+88:88", 36, 3) == (3, False)


def test_an_unknown_sign_is_refused() -> None:
    with pytest.raises(KeyError):
        block("x", 4)
