"""Text from files and keys, made harmless: it is data, never a code for the terminal."""

import re
import unicodedata

_BLANKS = re.compile(r"\s+")
_BREAKS = re.compile(r"\r\n|[\n\r\x0b\x0c\x85\u2028\u2029]")
_JOINER, _NON_JOINER = "\u200d", "\u200c"
_JOINERS = re.compile(f"[{_JOINER}{_NON_JOINER}]+")
_DROPPED = {"Cc", "Cf", "Cs", "Zl", "Zp"}


def clean_text(text: str, longest: int = 400) -> str:
    """One line of text without control, format or surrogate characters, in NFC.

    Tabs and line ends become blanks and blanks collapse. A zero-width joiner stays only between
    two symbols (an emoji family) or two letters (it is part of the spelling in some scripts);
    overrides of writing direction go, so a name cannot reorder the screen. Cleaning what is clean
    changes nothing.

    Args:
        text: anything a file or a keyboard gave.
        longest: how many characters are kept.
    """
    line = _BLANKS.sub(" ", text)
    if line.isascii() and line.isprintable():
        return line.strip()[:longest].strip()
    # Composed after the drop: what goes may have stood between a letter and its accent.
    dropped = {c for c in set(line) - {_JOINER, _NON_JOINER} if _is_dropped(c)}
    kept = line.translate(dict.fromkeys(map(ord, dropped)))
    composed = unicodedata.normalize("NFC", _joined(_BLANKS.sub(" ", kept)))
    return _joined(_BLANKS.sub(" ", composed).strip()[:longest]).strip()


def clean_paragraphs(text: str, longest: int = 4000) -> str:
    """Several lines of text, each cleaned; one empty line parts paragraphs.

    Args:
        text: anything a file gave.
        longest: how many characters are kept.
    """
    lines = (clean_text(line, longest) for line in _BREAKS.split(text))
    return re.sub(r"\n{3,}", "\n\n", "\n".join(lines)).strip()[:longest].strip()


def quoted(text: str, longest: int = 60) -> str:
    """A text in quotes for a message, clean and cut to so many characters."""
    cut = clean_text(text, longest + 1)
    return f"“{cut[:longest]}…”" if len(cut) > longest else f"“{cut}”"


def shown(value: object) -> str:
    """A value of a plan file as a message shows it, in the words of the file.

    Args:
        value: text, a number, true or false, a date or time, a list or a table.
    """
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and abs(value) >= 10**15:
        return "that number"
    if isinstance(value, list | tuple):
        return "a list"
    if isinstance(value, dict):
        return "a table"
    return clean_text(value.isoformat() if hasattr(value, "isoformat") else str(value), 60)


def _is_dropped(char: str) -> bool:
    """Whether a character goes; code points that are no characters go with the controls."""
    code = ord(char)
    nothing = code & 0xFFFE == 0xFFFE or 0xFDD0 <= code <= 0xFDEF
    return nothing or unicodedata.category(char) in _DROPPED


def _joined(line: str) -> str:
    """The line without the joiners that join nothing."""
    return _JOINERS.sub(_that_join, line)


def _that_join(run: re.Match[str]) -> str:
    """Of joiners in a row, those that join what stands before and after them."""
    before, kept = run.string[run.start() - 1 : run.start()], ""
    for place, char in enumerate(run[0], run.start() + 1):
        if _joins(char, before, run.string[place : place + 1]):
            before = char
            kept += char
    return kept


def _joins(char: str, before: str, after: str) -> bool:
    sides = {_side(c) for c in (before, after)}
    if char == _JOINER and sides <= {"symbol", "mark"}:
        return True
    return sides <= {"letter", "mark"}


def _side(char: str) -> str:
    """What stands beside a joiner; a newer code point than Python's tables may be an emoji."""
    category = unicodedata.category(char) if char else "none"
    if category in ("So", "Sk", "Cn"):
        return "symbol"
    if category[0] == "M":
        return "mark"
    return "letter" if category[0] == "L" and not char.isascii() else "none"
