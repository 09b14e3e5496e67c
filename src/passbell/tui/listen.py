"""What the cook screen makes of keys, typing and clicks: no Textual, no clock of its own."""

from dataclasses import dataclass, field
from typing import Literal, cast, get_args

from passbell.tui.desk import Action, Desk
from passbell.tui.guard import CHORD, KeyGuard
from passbell.tui.keys import FUNCTIONS, KeyMap
from passbell.tui.typed import Typed
from passbell.tui.views.model import CookView
from passbell.tui.widgets.probe import Typing

AskKind = Literal["serve_at", "note", "display"]
Mode = Literal["keys", "probe", "serve_at", "note", "display", "leave"]
Wish = Literal["", "far", "colours", "gone", "down", "up", "page down", "page up", "together"]
"""What only the screen can do: change its size, colours, end, scroll, or say "together"."""

FootRoom = Literal["", "told", "open"]
"""The foot's usual room; a larger one for a verdict, with keys in sight; all of it, to type."""

_ACTIONS: tuple[Action, ...] = get_args(Action)
_FAST = frozenset(function.name for function in FUNCTIONS if function.adjusts)
_PROMPTS: dict[str, tuple[str, str]] = {
    "serve_at": ("serve at", "a clock time, or +15 for minutes later; Enter shows what it means"),
    "display": ("oven", "the time it shows, 9:30, or what you set it to, 190 C or air fry 190 C"),
    "note": ("note", "kept with this cook at this moment; Enter keeps it, Esc drops it"),
    "probe": ("", ""),
}
_SCROLLS: dict[str, Wish] = {
    "down": "down", "up": "up", "pagedown": "page down", "pageup": "page up",
}  # fmt: skip


@dataclass
class Listener:
    """The state of the keyboard: what is being typed or asked, and what covers the foot.

    Attributes:
        desk: whom to tell.
        keys: which key does what.
        view: the view the cook is looking at; the screen sets it.
        mode: what keys go to: functions, a line being typed, or the question before leaving.
        typed: the line being typed.
        question: the question before leaving.
        acts: whether the last acts stand in the foot.
        wide: whether the foot keeps its larger room, after a verdict.
        cover: what covers the lower part of the screen.
    """

    desk: Desk
    keys: KeyMap
    view: CookView | None = None
    mode: Mode = "keys"
    typed: Typed = field(default_factory=Typed)
    question: str = ""
    acts: bool = False
    wide: bool = False
    cover: Literal["", "help", "all", "cautions"] = ""
    _guard: KeyGuard = field(default_factory=KeyGuard)

    @property
    def typing(self) -> Typing | None:
        """The line being typed, with its prompt; None: none is."""
        if self.mode in ("keys", "leave"):
            return None
        return Typing(self.typed, *_PROMPTS[self.mode])

    @property
    def foot_room(self) -> FootRoom:
        """Which room the foot needs."""
        ways = self.view is not None and self.view.pending is not None and self.view.pending.ways
        if self.mode != "keys" or self.acts or ways:
            return "open"
        return "told" if self.wide else ""

    def key(self, key: str, character: str | None, now: float) -> Wish:
        """Take a key; what it does at once. Guarded keys wait for `settle`.

        Args:
            key: the terminal's name of the key.
            character: what it types, if anything.
            now: seconds on a clock that runs forward.
        """
        if key == "escape":
            self.drop()
            return ""
        if self.mode == "leave":
            return self._answered(key, now)
        if self.mode != "keys":
            return self._type(key, character, now)
        if self.cover and key in _SCROLLS:
            return _SCROLLS[key]
        if key in ("up", "down"):
            self._choose_row(1 if key == "down" else -1)
            return ""
        if key in _SCROLLS:
            return _SCROLLS[key]
        if character is not None and character.isdecimal() and not self._may_choose:
            self._guard.note(key, now)
            self.open_box(character)
            return ""
        return self._guarded(key, now)

    @property
    def waiting(self) -> bool:
        """Whether a key waits for `settle`."""
        return self._guard.waiting

    def settle(self, now: float) -> Wish:
        """Do what the keys pressed a moment ago stand for, now that nothing speaks against it."""
        wish: Wish = ""
        for key in self._guard.settle(now):
            wish = self._act(key) or wish
        return wish

    def _guarded(self, key: str, now: float) -> Wish:
        chords = self._guard.chords
        self._guard.press(key, now, fast=self.keys.function(key) in _FAST)
        return "together" if self._guard.chords > chords else ""

    @property
    def _may_choose(self) -> bool:
        """Whether a digit may answer something instead of opening the box."""
        if self.view is None:
            return False
        pending = self.view.pending
        return bool(self.view.probe.question) or (pending is not None and bool(pending.ways))

    def _act(self, key: str) -> Wish:
        if self.mode in ("leave", *_PROMPTS):
            return self._answer(key) if self.mode == "leave" else self._enter()
        if key.isdecimal():
            if not self.desk.choose(int(key)):
                self.open_box(key)
            return ""
        return self.do(self.keys.function(key))

    def do(self, function: str) -> Wish:
        """Do what a function stands for; an unknown one only says that the cue was seen."""
        self.acts = self.wide = False
        closed, self.cover = self.cover, ""
        if function in _ACTIONS:
            self.desk.press(function)
            self.acts = function in ("take_back", "redo")
            self.cover = "all" if function == "say_all" and closed != "all" else ""
            return ""
        self.desk.press("silence")
        if function in _PROMPTS:
            self.mode, self.typed = cast(Mode, function), Typed()
        elif function == "help":
            self.cover = "help" if closed != "help" else ""
        elif function == "leave":
            return self.leave()
        elif function in ("far", "colours"):
            return cast(Wish, function)
        return ""

    def open_box(self, text: str = "") -> None:
        """Open the probe box, with its first character."""
        self.desk.press("silence")
        self.acts, self.cover = False, ""
        self.mode, self.typed = "probe", Typed().insert(text)

    def drop(self) -> None:
        """Esc: close what is open, one thing at a press; then what is pending; then the row."""
        if self.mode != "keys":
            self.mode, self.question = "keys", ""
        elif self.cover:
            self.cover = ""
        elif self.view is not None and (self.view.pending or self.view.probe.question):
            self.desk.press("drop")
        elif self.acts or self.wide:
            self.acts = self.wide = False
        else:
            self.desk.select(None)

    def leave(self) -> Wish:
        """Ask before leaving while anything is on the heat; go at once when nothing is."""
        self.question = self.desk.leave()
        if not self.question:
            return "gone"
        self.mode, self.cover, self.acts = "leave", "", False
        return ""

    def _answered(self, key: str, now: float) -> Wish:
        return self._guarded(key, now) if key in ("1", "2", "y", "n", "enter") else ""

    def _answer(self, key: str) -> Wish:
        if key in ("1", "y"):
            return "gone"
        if key in ("2", "n"):
            self.drop()
        return ""

    def _type(self, key: str, character: str | None, now: float) -> Wish:
        if key == "enter":
            return self._guarded(key, now)
        self._guard.note(key, now)
        if key == "backspace" and not self.typed.text:
            self.drop()
        else:
            self.typed = self.typed.key(key, character)
        return ""

    def paste(self, text: str) -> None:
        """Text that was pasted: into the line being typed, else nowhere."""
        if self.mode not in ("keys", "leave"):
            self.typed = self.typed.insert(text[:1000])

    def _enter(self) -> Wish:
        """Give the line to the desk; refused, it stays to be mended."""
        text = self.typed.text.strip()
        if not text:
            self.drop()
            return ""
        if self.mode == "probe":
            taken = self.desk.enter(text)
        else:
            taken = self.desk.ask(cast(AskKind, self.mode), text)
        if taken:
            self.wide = self.mode == "probe"
            self.mode, self.typed = "keys", Typed()
        return ""

    def _choose_row(self, step: int) -> None:
        rows = self.view.rows if self.view is not None else ()
        chosen = next((i for i, row in enumerate(rows) if row.selected), None)
        if not rows:
            return
        if chosen is None:
            self.desk.select(0 if step > 0 else len(rows) - 1)
        else:
            after = chosen + step
            self.desk.select(after if 0 <= after < len(rows) else None)

    def clicked(self, tag: str) -> Wish:
        """Take a click on something with a tag."""
        kind, _, name = tag.partition(":")
        if kind == "key":
            return self._clicked_key(name)
        if kind == "row" and self.view is not None:
            place = int(name)
            self.desk.select(None if self.view.rows[place].selected else place)
        elif kind == "way":
            self.desk.choose(int(name))
        elif kind == "answer":
            return self._answer(name)
        elif kind == "probe" and self.mode == "keys":
            self.open_box()
        elif kind == "cover":
            self.cover = ""
        return ""

    def _clicked_key(self, name: str) -> Wish:
        if name == "done" and self.mode in _PROMPTS:
            return self._enter()
        if name == "drop":
            self.drop()
            return ""
        if self.mode != "keys":
            self.drop()
        return self.do(name)


SETTLE = CHORD + 0.001
"""Seconds after a key when `settle` is due."""

_AT_LEAST = 0.01
"""Seconds that `settle` is away even for a key that comes late: one that was pressed with it, and
was held up as long, comes first."""


def settles_in(pressed: float, now: float) -> float:
    """In how many seconds `settle` is due: a busy computer brings a key late, and that counts.

    Args:
        pressed: when the key was read, in seconds.
        now: the same clock now.
    """
    return min(SETTLE, max(_AT_LEAST, pressed + SETTLE - now))
