"""What `reading` reads off a screen that the program drew."""

from dataclasses import replace

from passbell.tui.paint import span
from tests.faults.reading import read_screen
from tests.tui.drawn import row_lines, texts
from tests.tui.sample import COMING


def test_a_row_without_time_left_may_end_in_a_time_of_day() -> None:
    waits = replace(COMING.rows[0], alert="into the fridge until 07:57", left=None, share=None)
    rows = (waits, *COMING.rows[1:])
    drawn = "\n".join(texts(row_lines(row, 140)) for row in rows)
    assert "until 07:57" in drawn
    shown = read_screen(f"   18:12:05\n{drawn}", [row.name for row in rows])
    assert shown.clock == (18 * 60 + 12) * 60 + 5
    assert shown.rows == tuple(
        (row.name, "" if row.left is None else ("+" if row.left < 0 else "") + span(row.left))
        for row in rows
    )
