"""Now: the next thing to do, at the top and as large as it goes."""

from dataclasses import replace

from passbell.tui.digits import block, largest, size_for
from passbell.tui.letters import spelled
from passbell.tui.paint import Line, Run, cells_in, crop, packed, spread, width_of, wrap
from passbell.tui.views.model import Card, CueLine, CueTone
from passbell.tui.widgets.act import (
    LEAST_LETTERS,
    Widths,
    act_letters,
    countdown,
    label_run,
    short_label,
    spelled_cue,
    title,
)
from passbell.tui.widgets.beneath import NARROW, also_due, beneath, room_for_more
from passbell.tui.widgets.now_part import NowPart
from passbell.tui.widgets.painted import Painted
from passbell.tui.widgets.pending import draw_pending

_EDGE = {"coming": "▏  ", "due": "▌  ", "late": "█  "}
_EDGE_ROLE = {"coming": "now.edge", "due": "due.digits", "late": "late.digits"}
_DIGIT_ROLE = {"coming": "now.digits", "due": "due.digits", "late": "late.digits"}


_SMALL = 8
"""Lines beneath which act and state share one."""


class NowPanel(Painted):
    """The cards, the countdown, what follows, and a change not yet taken."""

    GROUND = "now"

    def __init__(self) -> None:
        super().__init__("now", tailed=True)
        self._part: NowPart | None = None
        self._lit = False
        self.far = False
        self.in_rows = False

    def show(self, part: NowPart) -> None:
        """Show this part of the view."""
        if part != self._part:
            self._part = part
            self.look_again()

    def blink(self, lit: bool) -> None:
        """Light or dim the symbol that stands for a sound nobody can hear."""
        if lit != self._lit:
            self._lit = lit
            self.look_again()

    def cut(self, width: int, height: int) -> int:
        """The digits and times at the right change every second."""
        if height < 6 or width < 60 or self.far:
            return width
        return width - _field(width, digit_rows(height)) - 1

    def lines(self, width: int, height: int) -> list[Line]:
        """The lines for this room."""
        if self._part is None:
            return []
        lit = self._lit if self._part.flash else None
        part = self._part._replace(in_rows=self.in_rows)
        return draw_now(part, width, height, lit, self.far)


def draw_now(
    part: NowPart, width: int, height: int, lit: bool | None, far: bool = False
) -> list[Line]:
    """Now in so many cells.

    Args:
        part: what to show.
        width: cells to draw in.
        height: lines to draw in.
        lit: the flashing symbol lit or dim; None: there is none.
        far: read from far away: digits as large as the room.
    """
    if not part.cards:
        lines = _nothing(part, width, height)
    elif height < 6 or width < 30:
        return _in_words(part, width, height, lit)
    elif width < NARROW or far:
        lines = _cards_stacked(part, width, height, lit)
    else:
        lines = _cards_beside(part, width, height, lit)
    return _with_rest(part, lines, width, height)


def _nothing(part: NowPart, width: int, height: int) -> list[Line]:
    words = "The meal is on the table." if part.over else "Nothing to do."
    told: list[Line] = [(Run("   ", "now"), Run(words, "now.strong"))]
    told += [(Run("   ", "now"), Run(text, "now", "key:leave")) for text in part.after]
    letters = spelled("ON THE TABLE", width - 4, height - len(told) - 2) if part.over else ()
    if letters:
        told += [(), *[(Run("   ", "now"), Run(row, "now.letters")) for row in letters]]
    return ([(), *told] if len(told) < height else told)[:height]


def _with_rest(part: NowPart, lines: list[Line], width: int, height: int) -> list[Line]:
    """The lines of the cards, and at the foot what follows or what is being changed."""
    if part.pending is not None:
        room = _pending_room(width, height)
        wanted = draw_pending(part.pending, width - 3, room, part.in_rows)
        lines = lines[: height - len(wanted)]
    else:
        wanted = beneath(part, width - 3, height - _used(lines), room_for_more(width, height))
    if not wanted:
        return lines
    blank = [()] * (height - len(lines) - len(wanted))
    kept = lines[: height - len(wanted)]
    rest: list[Line] = [(Run("   ", "now"), *line) for line in wanted]
    return [*kept, *blank, *rest][:height]


def _pending_room(width: int, height: int) -> int:
    """Lines a pending change may take: in a small room all but the first, else not the digits."""
    return height - 1 if width < 60 and height < 12 else max(height - digit_rows(height), 3)


def _used(lines: list[Line]) -> int:
    used = len(lines)
    while used and not any(run.text.strip() for run in lines[used - 1]):
        used -= 1
    return used


def digit_rows(height: int) -> int:
    """Rows of the block digits: such that two cards have the same size."""
    return max(3, (height + 1) // 2)


def _in_words(part: NowPart, width: int, height: int, lit: bool | None) -> list[Line]:
    """Where there is no room for digits: verb and component, countdown, how."""
    cue = part.cards[0].lines[0]
    symbol = Run("■ " if lit else "□ ", "now") if lit is not None else Run("", "now")
    lines: list[Line] = [
        (Run(part_text, "now.strong"),)
        for part_text in wrap(f"{cue.verb} {cue.what}", width, 2 if height > 3 else 1)
    ]
    lines.append((symbol, label_run(cue)))
    lines += [(Run(text, "now.soft"),) for text in wrap(cue.how, width, 1)]
    if part.paused:
        lines[min(len(lines) - 1, height - 1)] = (Run(part.paused[0].words, "due"),)
    if part.pending is not None:
        lines[-1] = (Run(part.pending.words, "now.change"),)
    for other in part.cards[1:]:
        lines.insert(2, (*title(other.lines[0]), Run(" ", "now"), label_run(other.lines[0])))
    return lines[:height]


def _edge(tone: CueTone, lit: bool | None) -> Run:
    """The mark at the left of a card; the flashing symbol takes its place."""
    if lit is not None:
        return Run("██ " if lit else "▌▐ ", "due.digits")
    return Run(_EDGE[tone], _EDGE_ROLE[tone])


def _cards_stacked(part: NowPart, width: int, height: int, lit: bool | None) -> list[Line]:
    """One card above the other, the digits of each beneath its words."""
    cards = _cards_of(part)
    if len(cards) == 1 and cards[0].opening and height < 12:
        return _opening_small(cards[0], width, height, lit)
    if len(cards) == 1:
        rest = 1 if height < _SMALL else _kept_for_rest(part, width, height)
        return _card_stacked(cards[0], width, height - rest, lit)
    height -= _line_for_more(part, width, height)
    first = min(max(6, height // 2), height - 1)
    return [
        *_card_stacked(cards[0], width, min(first, height - 1), lit),
        *_card_stacked(cards[1], width, max(1, height - first), lit),
    ]


def _line_for_more(part: NowPart, width: int, height: int) -> int:
    """The line that names what else is due beneath two cards; a pending change stands there."""
    if part.pending is not None or not room_for_more(width, height):
        return 0
    return int(bool(also_due(len(part.cards), part.following)))


def _cards_of(part: NowPart) -> tuple[Card, ...]:
    """The cards to draw; of two it is said which is done first."""
    if part.pending is not None or len(part.cards) == 1:
        return part.cards[:1]
    told = (": do this first", ": then this")
    return tuple(
        card if card.opening else replace(card, place=card.place + words)
        for card, words in zip(part.cards, told, strict=False)
    )


def _opening_small(card: Card, width: int, height: int, lit: bool | None) -> list[Line]:
    """Several acts in few lines: the first with the digits beneath, the others run together."""
    first, *others = card.lines
    act = crop((Run(f"1 of {len(card.lines)}  ", "now"), *title(first)), width - 3)
    digits = _digits(first, width - 4, max(3, height - 3))
    acts = (f"{n} {cue.verb} {cue.what}" for n, cue in enumerate(others, start=2))
    rest = packed(acts, width - 3, max(0, height - 2 - len(digits)))
    body = [spread((), (Run(row, _DIGIT_ROLE[first.tone]), Run(" ", "now")), width - 3, "now")
            for row in digits]  # fmt: skip
    lines = [act, (label_run(first),), *body, *[(Run(text, "now"),) for text in rest]]
    return [(_edge(first.tone, lit), *line) for line in lines][:height]


def _card_stacked(card: Card, width: int, height: int, lit: bool | None) -> list[Line]:
    """What to do above, the digits beneath over the whole width."""
    state: list[Line]
    cue = card.lines[0]
    room = width - 3
    if width < NARROW and LEAST_LETTERS < height < _SMALL:
        head, state = _title_small(card, room), []
        head += [(Run(text, "now"),) for text in wrap(cue.how, room, 1 if height > 5 else 0)]
    elif card.opening and len(card.lines) > 1:
        head = [_opening_head(card), *_opening(card, room, max(2, height // 3))]
        state = []
    else:
        state = [(label_run(cue), _place(card))]
        most = 1 if height < 10 else 3
        head = [title(cue), *[(Run(text, "now"),) for text in wrap(cue.how, room, most)]]
    if height < 6:
        head, state = [(*title(cue), Run(" ", "now"), label_run(cue))], []
    spells = bool(state)
    if cue.banner:
        head, state = [*head, *state], []
    digits = _digits(cue, room - 1, height - len(head) - len(state))
    free = height - len(head) - len(state) - len(digits)
    if spells and free >= 5:
        head += spelled_cue(cue, room, min(free, 1 + height // 3))
    body = [spread((), (Run(row, _DIGIT_ROLE[cue.tone]), Run(" ", "now")), room, "now")
            for row in digits]  # fmt: skip
    lines: list[Line] = [(_edge(cue.tone, lit), *line) for line in [*head, *state, *body]]
    return [*lines, *[()] * (height - len(lines))][:height]


def _place(card: Card) -> Run:
    """Where, unless the state of the act names it already."""
    return Run("" if card.lines[0].waits else f"  {card.place}", "now.soft")


def _title_small(card: Card, width: int) -> list[Line]:
    """The act with its state at the right, in one line; of several acts the first."""
    cue = card.lines[0]
    count = (Run(f"1 of {len(card.lines)}  ", "now"),) if len(card.lines) > 1 else ()
    act = (*count, *title(cue))
    return [spread(act, (short_label(cue, width - width_of(act) - 1),), width, "now")]


def _digits(cue: CueLine, width: int, rows: int) -> tuple[str, ...]:
    """The countdown as large as "+88:88" may be: the size never jumps; hours as they fit."""
    size = size_for("+88:88", width, rows)
    text = countdown(cue)
    if not text:
        return ()
    if size is not None:
        drawn = block(text, *size)
        if cells_in(drawn[0]) <= width:
            return drawn
    return largest(text, width, rows)


def _cards_beside(part: NowPart, width: int, height: int, lit: bool | None) -> list[Line]:
    """What to do at the left, the digits at the right in a field that never moves."""
    field = _field(width, digit_rows(height))
    height -= _line_for_more(part, width, height)
    rows = digit_rows(height)
    cards = _cards_of(part)
    lines: list[Line] = []
    for place, card in enumerate(cards):
        room = rows if len(cards) > 1 else max(rows, height - _kept_for_rest(part, width, height))
        if place:
            room = height - rows
        lines += _card_beside(card, width, (field, min(rows, room)), room, lit)
    return lines


def _kept_for_rest(part: NowPart, width: int, height: int) -> int:
    """Lines for what stands beneath a single card."""
    if part.pending is not None:
        room = _pending_room(width, height)
        return len(draw_pending(part.pending, width - 3, room, part.in_rows))
    return len(part.paused) + min(2, len(part.following) + bool(part.together))


def _field(width: int, rows: int) -> int:
    """Cells for the digits: enough for "+88:88", at most 45 in a hundred of the width."""
    most = width * 45 // 100
    return max((cells_in(line) for line in largest("+88:88", most, rows)[:1]), default=most)


def _card_beside(
    card: Card, width: int, digits_in: tuple[int, int], room: int, lit: bool | None
) -> list[Line]:
    cue = card.lines[0]
    field, rows = digits_in
    digits = _digits(cue, field, rows)
    many = card.opening and len(card.lines) >= len(digits) > 0
    beneath_digits = len(digits), width - 6
    words = _words(card, (width - field - 6, *beneath_digits), min(room, rows + 4), room, cut=many)
    if many:  # what stands beneath the digits has the whole width
        told = _opening(card, width - 4, room - 1, cut=True)
        places = range(len(digits), min(len(words), len(told) + 1))
        words = [told[y - 1] if y in places else line for y, line in enumerate(words)]
    edge, ground = _edge(cue.tone, lit), _DIGIT_ROLE[cue.tone]
    lines: list[Line] = []
    for y in range(min(max(len(digits), len(words)), room)):
        text = words[y] if y < len(words) else ()
        row = (Run(digits[y], ground), Run(" ", "now")) if y < len(digits) else ()
        lines.append(spread((edge, *text), row, width, "now"))
    return lines + [()] * (rows - len(lines))


def _words(card: Card, widths: Widths, rows: int, room: int, cut: bool) -> list[Line]:
    """The act, how, and its state; or the numbered acts of one opening."""
    cue, width = card.lines[0], widths[0]
    if card.opening and len(card.lines) > 1:
        most, spare = min(rows, room) - 1, LEAST_LETTERS + 1
        most = most if not cut else room - 1
        listed = [_opening_head(card), *_opening(card, width, most, spare, cut)]
        return [*listed, *act_letters(cue, widths, len(listed), min(rows, room) - len(listed))]
    state = (label_run(cue), _place(card))
    how: list[Line] = [(Run(text, "now"),) for text in wrap(cue.how, width, max(1, rows - 2))]
    free = rows - 2 - len(how)
    if cue.banner:  # which is no act: the act's own time stands with the act
        return [title(cue), *how, state, *act_letters(cue, widths, 2 + len(how), free)]
    return [title(cue), *how, *act_letters(cue, widths, 1 + len(how), free), state]


def _opening_head(card: Card) -> Line:
    head = (Run("ONE OPENING ", "now.strong"), Run(card.place, "now"), Run("  ", "now"))
    return (*head, label_run(card.lines[0]))


def _opening(card: Card, width: int, most: int, spare: int = 0, cut: bool = False) -> list[Line]:
    """The acts of one opening, numbered; the first open one is what Done does, and stays whole.

    Args:
        card: the opening.
        width: cells to draw in.
        most: lines to draw in.
        spare: lines wished for beneath, for the sake of which the other acts are cut.
        cut: whether the first is cut too, so that each act has one line.
    """
    numbered = [_numbered(card, number, width) for number in range(1, len(card.lines) + 1)]
    short = [[crop(_joined(act), width)] for act in numbered]
    kept = numbered if _count(numbered) + spare <= most else [numbered[0], *short[1:]]
    kept = short if cut or _count(kept) > most else kept
    lines = [line for act in kept for line in act]
    if len(lines) > most > 0:
        left = len(lines) - most + 1
        lines = [*lines[: most - 1], (Run(f"  and {left} more", "now"),)]
    return lines[:most]


def _count(acts: list[list[Line]]) -> int:
    return sum(map(len, acts))


def _numbered(card: Card, number: int, width: int) -> list[Line]:
    """One act of an opening in one line or two; a click on the first does it."""
    cue, first = card.lines[number - 1], number == 1
    mark = ("▸" if cue.ready else "·") if first else " "
    role, tag = ("now.strong", "key:done") if first else ("now", "")
    parts = wrap(_act_there(cue, card.place), width - 3, 2)
    marks = (f"{mark}{number} ", "   ")
    return [
        (Run(m, role, tag), Run(text, role, tag)) for m, text in zip(marks, parts, strict=False)
    ]


def _joined(act: list[Line]) -> Line:
    """An act of several lines in one, to be cut."""
    words = " ".join(line[1].text for line in act)
    return act[0][0], act[0][1]._replace(text=words)


def _act_there(cue: CueLine, place: str) -> str:
    """An act in words; of the appliance itself, whose name stands above: what it is set to."""
    if cue.how and cue.what == place:
        return f"{cue.verb} {cue.how}"
    return f"{cue.verb} {cue.what}" + (f", {cue.how}" if cue.how else "")
