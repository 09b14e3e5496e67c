"""Text from files and keys, made harmless: it is data, never a code for the terminal."""

import re
import unicodedata

_BLANKS = re.compile(r"\s+")
_ZWJ = "\u200d"
_DROPPED = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


def clean_text(text: str, longest: int = 400) -> str:
    """One line of text without control, format or surrogate characters, in NFC.

    Tabs and line ends become blanks and blanks collapse. A zero-width joiner stays only between
    two symbols (an emoji family); overrides of writing direction go, so a name cannot reorder
    the screen.

    Args:
        text: anything a file or a keyboard gave.
        longest: how many characters are kept.
    """
    line = _BLANKS.sub(" ", unicodedata.normalize("NFC", text)).strip()
    kept = (c for i, c in enumerate(line) if _harmless(line, i, c))
    return "".join(kept)[:longest].strip()


def _harmless(line: str, index: int, char: str) -> bool:
    if char == _ZWJ:
        around = line[index - 1 : index] + line[index + 1 : index + 2]
        return len(around) == 2 and all(unicodedata.category(c)[0] in "SM" for c in around)
    return unicodedata.category(char) not in _DROPPED
