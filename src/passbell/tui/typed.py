"""A line being typed: pure text with a place in it."""

from dataclasses import dataclass
from typing import Self

from passbell.units import clean_text

LONGEST = 200
"""How many characters a line may have."""


@dataclass(frozen=True, slots=True)
class Typed:
    """A line and the place of the next character.

    Attributes:
        text: what has been typed.
        at: how many characters stand before the place.
    """

    text: str = ""
    at: int = 0

    def insert(self, text: str) -> Self:
        """With the text put in at the place, made harmless and at most LONGEST in all."""
        new = clean_text(text, LONGEST) if text.strip() else " " if text else ""
        new = new[: LONGEST - len(self.text)]
        return type(self)(self.text[: self.at] + new + self.text[self.at :], self.at + len(new))

    def key(self, key: str, character: str | None) -> Self:
        """After a key: typed in, deleted, or moved; any other key changes nothing."""
        if key == "backspace" and self.at:
            return type(self)(self.text[: self.at - 1] + self.text[self.at :], self.at - 1)
        if key == "delete":
            return type(self)(self.text[: self.at] + self.text[self.at + 1 :], self.at)
        moves = {"left": self.at - 1, "right": self.at + 1, "home": 0, "end": len(self.text)}
        if key in moves:
            return type(self)(self.text, max(0, min(len(self.text), moves[key])))
        return self.insert(character) if character and character.isprintable() else self
