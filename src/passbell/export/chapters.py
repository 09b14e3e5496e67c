"""A cook as chapters of its film: WebVTT, and the same as lines of times and titles.

WebVTT: The Web Video Text Tracks Format, W3C. Chapters stand back to back, their titles are plain
text; 0 is the moment the camera rolled (the mark), or the first act where nothing was marked.
"""

import html
from dataclasses import dataclass

from passbell.export.meal import Meal
from passbell.export.method import method
from passbell.units import MendableError

SHORTEST = 10
"""Acts closer together than this are one chapter, in seconds of film."""

LAST = 60
"""How long the last chapter lasts, in seconds of film."""


class NoChapters(MendableError):
    """A film that has no chapter."""


@dataclass(frozen=True, slots=True)
class Chapter:
    """One chapter: from and to in seconds of film, and its title."""

    start: float
    end: float
    title: str


def chapters(meal: Meal, mark: int = 1) -> tuple[Chapter, ...]:
    """The chapters of a cook, back to back from 0.

    What happened before the camera rolled is left out; the last act before it names the first
    chapter.

    Args:
        meal: the cook.
        mark: which mark is 0, counted from 1.

    Raises:
        NoChapters: when there is no such mark, or nothing happens after it.
    """
    acts = [(line.at, line.short[:1].upper() + line.short[1:]) for line in method(meal)]
    zero = _zero(meal, mark, acts[0][0])
    before = [short for at, short in acts if at < zero]
    found: list[tuple[float, list[str]]] = [(0.0, before[-1:])] if before else []
    for at, short in acts:
        seconds = (at - zero) / meal.speed
        if seconds < 0:
            continue
        if found and seconds - found[-1][0] < SHORTEST:
            found[-1][1].append(short)
        else:
            found.append((seconds, [short]))
    if not found or zero > acts[-1][0]:
        raise NoChapters("nothing happens after that mark", "choose an earlier one")
    found[0] = (0.0, found[0][1])
    ends = [*(start for start, _ in found[1:]), found[-1][0] + LAST]
    return tuple(
        Chapter(start, end, "; ".join(dict.fromkeys(titles)))
        for (start, titles), end in zip(found, ends, strict=True)
    )


def _zero(meal: Meal, mark: int, first: int) -> int:
    marks = meal.account.marks
    if not marks and mark == 1:
        return first
    if not 1 <= mark <= len(marks):
        there = f"there are {len(marks)}" if marks else "this cook has none"
        raise NoChapters(f"there is no mark {mark}", there)
    return marks[mark - 1]


def webvtt(meal: Meal, mark: int = 1) -> str:
    """The chapters as a WebVTT file.

    Args:
        meal: the cook.
        mark: which mark is 0, counted from 1.

    Raises:
        NoChapters: as for `chapters`.
    """
    blocks = ["WEBVTT\n"]
    for number, chapter in enumerate(chapters(meal, mark), 1):
        times = f"{_stamp(chapter.start)} --> {_stamp(chapter.end)}"
        blocks.append(f"{number}\n{times}\n{html.escape(chapter.title, quote=False)}\n")
    return "\n".join(blocks)


def chapter_lines(meal: Meal, mark: int = 1) -> str:
    """The chapters as lines "MM:SS title", with hours where there are any.

    Args:
        meal: the cook.
        mark: which mark is 0, counted from 1.

    Raises:
        NoChapters: as for `chapters`.
    """
    found = chapters(meal, mark)
    hours = found[-1].start >= 3600
    return "".join(f"{_short(chapter.start, hours)} {chapter.title}\n" for chapter in found)


def _stamp(seconds: float) -> str:
    thousandths = round(seconds * 1000)
    rest, thousandth = divmod(thousandths, 1000)
    return f"{rest // 3600:02}:{rest // 60 % 60:02}:{rest % 60:02}.{thousandth:03}"


def _short(seconds: float, hours: bool) -> str:
    whole = int(seconds)
    tail = f"{whole // 60 % 60:02}:{whole % 60:02}"
    return f"{whole // 3600}:{tail}" if hours else tail
