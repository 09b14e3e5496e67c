"""Words that make a dish look like meat, poultry, fish or egg when its plan names no food."""

import re
from collections.abc import Iterable

from passbell.safety.shipped import meat_word_lists

_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")


def names_meat(texts: Iterable[str]) -> str | None:
    """The first word of meat, poultry, fish or egg in a name or in ingredient lines.

    Whole words only, singular or plural ("eggs" counts, "eggplant" does not); phrases such as
    "kidney beans" or "fish sauce" do not count.

    Args:
        texts: the name of a component and its ingredient lines.

    Returns:
        The word as it stands in the text, or None.
    """
    for text in texts:
        found = _first_word(_without_phrases(text))
        if found is not None:
            return found
    return None


def _without_phrases(text: str) -> str:
    _, phrases = meat_word_lists()
    line = " ".join(text.split())
    for phrase in phrases:
        line = re.sub(rf"(?<!\w){re.escape(phrase)}(?:e?s)?(?!\w)", "·", line, flags=re.IGNORECASE)
    return line


def _first_word(line: str) -> str | None:
    words, _ = meat_word_lists()
    tokens: list[str] = _WORD.findall(line)
    for index, token in enumerate(tokens):
        couple = " ".join(tokens[index : index + 2])
        for candidate in (couple, token, *token.split("-")):
            if not words.isdisjoint(_singulars(candidate.casefold())):
                return candidate
    return None


def _singulars(word: str) -> tuple[str, ...]:
    return (word, word.removesuffix("s"), word.removesuffix("es"))
