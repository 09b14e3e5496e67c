"""Where everything stands: worked out from the size of the terminal and the size of the plan.

Nothing here looks at what is going on, so nothing moves when a cue comes.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Place:
    """A rectangle of the terminal, in cells."""

    x: int
    y: int
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Places:
    """The rectangles of the cook screen; None: not shown at this size.

    Attributes:
        head: title, clock and dish-up time.
        now: what to do next.
        appliances, rows: the appliances, the components.
        row_lines: lines to a component.
        scale: whether the rows have a scale of time above them.
        hands: what the hands have to do.
        side: dish-up time and the last acts, in a large terminal.
        foot: the probe box, and whatever question stands in its place.
        keys: the key lines.
        open_foot: where the foot stands while something is typed or asked.
        told_foot: where it stands while it tells a verdict: a line of keys stays in sight.
        last_keys: that line of keys; None: there is no room for both.
        cover: where help and the like stand; never over Now unless there is nothing else.
    """

    head: Place | None
    now: Place
    appliances: Place | None
    rows: Place | None
    row_lines: int
    scale: bool
    hands: Place | None
    side: Place | None
    foot: Place | None
    keys: Place | None
    open_foot: Place
    told_foot: Place
    last_keys: Place | None
    cover: Place

    def all_rows(self, count: int) -> bool:
        """Whether so many components all have a row in sight."""
        return self.rows is not None and count * self.row_lines <= self.rows.height - self.scale


def arrange(width: int, height: int, appliances: int, rows: int, far: bool = False) -> Places:
    """The places for a terminal of `width` by `height` cells.

    Args:
        width: columns of the terminal.
        height: lines of the terminal.
        appliances: how many the plan has.
        rows: how many components the plan has.
        far: the whole screen for Now.
    """
    width, height = max(1, width), max(1, height)
    if far or height < 11 or width < 38:
        return _now_alone(width, height, far)
    if width >= 110 and height >= 32:
        return _large(width, height, appliances, rows)
    return _stack(width, height, appliances, rows)


def _now_alone(width: int, height: int, far: bool) -> Places:
    foot = 0 if far or height < 3 else 3 if height >= 10 else 1
    keys = 1 if height >= 8 else 0
    now = Place(0, 0, width, max(1, height - foot - keys))
    opened = min(max(1, height - 1), 5 if height > 12 else max(foot, 3))
    return Places(
        head=None,
        now=now,
        appliances=None,
        rows=None,
        row_lines=1,
        scale=False,
        hands=None,
        side=None,
        foot=Place(0, now.height, width, foot) if foot else None,
        keys=Place(0, height - 1, width, 1) if keys else None,
        open_foot=Place(0, height - opened, width, opened),
        told_foot=Place(0, height - opened, width, opened),
        last_keys=None,
        cover=_cover(width, height, min(2, height - 1)),
    )


def _cover(width: int, height: int, top: int) -> Place:
    return Place(0, top, width, max(1, height - top))


def _stack(width: int, height: int, appliances: int, rows: int) -> Places:
    """One beneath the other: what must be seen first has its lines first."""
    keys = 2 if height >= 22 else 1
    head = 1 if height >= 14 else 0
    hands = 2 if height >= 22 else 1
    foot = 3 if height < 30 else 4
    room = height - keys - head - hands - foot
    least = 7 if height < 30 else 8
    for_appliances = max(0, min(appliances, room - least, 4))
    for_rows = max(0, min(rows, room - least - for_appliances))
    now = room - for_appliances - for_rows
    heights = [head, now, for_appliances, for_rows, hands, foot, keys]
    stands = _pile(width, heights)
    assert stands[1] is not None
    top = now + head if height - now - head >= 13 else min(2, height - 1)
    return Places(
        head=stands[0],
        now=stands[1],
        appliances=stands[2],
        rows=stands[3],
        row_lines=1,
        scale=False,
        hands=stands[4],
        side=None,
        foot=stands[5],
        keys=stands[6],
        open_foot=Place(0, height - foot - keys, width, foot + keys),
        told_foot=Place(0, height - foot - keys, width, foot + keys - (keys > 1)),
        last_keys=Place(0, height - 1, width, 1) if keys > 1 else None,
        cover=_cover(width, height, top),
    )


def _pile(width: int, heights: list[int]) -> list[Place | None]:
    """Places one beneath the other; None for those without a height."""
    places: list[Place | None] = []
    y = 0
    for height in heights:
        places.append(Place(0, y, width, height) if height > 0 else None)
        y += height
    return places


def _large(width: int, height: int, appliances: int, rows: int) -> Places:
    """Now across the top, then everything else; the foot shares its lines with hands and time."""
    foot, keys, gaps = (9 if height >= 38 else 7), 2, 2
    least = 9 if height < 50 else 18
    room = height - 1 - keys - foot - gaps
    for_appliances = max(0, min(appliances, room - least, 5))
    free = room - least - for_appliances - 1
    row_lines = 2 if rows and free >= 2 * rows + 4 and height >= 44 else 1
    for_rows = max(0, min(rows * row_lines, free)) + 1
    now = room - for_appliances - for_rows
    y = 1 + now
    appliances_at = Place(0, y, width, for_appliances) if for_appliances else None
    rows_at = Place(0, y + for_appliances + 1, width, for_rows)
    bottom = rows_at.y + for_rows + 1
    left = width * 11 // 20
    right = width - left - 1
    return Places(
        head=Place(0, 0, width, 1),
        now=Place(0, 1, width, now),
        appliances=appliances_at,
        rows=rows_at,
        row_lines=row_lines,
        scale=True,
        hands=Place(left + 1, bottom, right, 4),
        side=Place(left + 1, bottom + 4, right, foot - 4),
        foot=Place(0, bottom, left, foot),
        keys=Place(0, height - keys, width, keys),
        open_foot=Place(0, bottom, left, foot),
        told_foot=Place(0, bottom, left, foot),
        last_keys=Place(0, height - keys, width, keys),
        cover=_cover(width, height, 1 + now),
    )
