"""A screen of one page with keys and a line to type in: before and after the cook."""

from functools import partial
from typing import ClassVar, NamedTuple

from textual.app import ComposeResult
from textual.events import Key, Paste, Resize

from passbell.tui.guard import KeyGuard
from passbell.tui.keys import key_name, shown
from passbell.tui.listen import SETTLE
from passbell.tui.paint import Line, Run, fill, wrap
from passbell.tui.screens.held import HeldScreen
from passbell.tui.typed import Typed
from passbell.tui.widgets.page import AskLine, Drawn, Page
from passbell.tui.widgets.painted import Canvas

_PAGES = {"pageup": -8, "pagedown": 8}
"""How many lines these keys read on, also while a question is asked."""
_ENDS = {"home": -100_000, "end": 100_000}
"""The same for those that go to the beginning and the end; in a question they move in its line."""


_HELP_KEYS = ("f1", "question_mark")
_FEW = 9
"""Lines of a terminal beneath which every line counts."""
_FIRST = 2
"""Screens on the stack when the first page is shown: nothing is beneath it."""
_MORE_KEYS = (("↑ ↓", "choose"), ("PgUp PgDn Home End", "read on, and back"))


class PageKey(NamedTuple):
    """A key of a page: what it does, its label, and its keys, best first."""

    name: str
    label: str
    keys: tuple[str, ...]


class PageScreen(HeldScreen, inherit_bindings=False):
    """Up and down choose, other keys do; a question takes the line at the foot.

    Args:
        interval: seconds between two looks.
        letters: whether letters are keys; function keys and arrows always are.
    """

    KEYS: ClassVar[tuple[PageKey, ...]] = ()
    QUESTIONS: ClassVar[dict[str, tuple[str, str]]] = {}
    """For each question its prompt and its hint."""
    HINT: ClassVar[str] = ""
    """What to say while there is nothing else to say."""

    def __init__(self, interval: float = 1.0, letters: bool = True) -> None:
        super().__init__()
        self._interval = interval
        self._letters = letters
        self._chosen = 0
        self._asking = ""
        self._typed = Typed()
        self._told = ""
        self._guard = KeyGuard()
        self._helping = False
        self._page = Page(self._read)
        self._ask_line = AskLine()
        self._keyline.set_entries(self._entries(), self._help_entry())

    def compose(self) -> ComposeResult:
        """Page, question, keys."""
        yield from (self._page, self._ask_line, self._keyline)

    def on_mount(self) -> None:
        """Look at once, then again and again."""
        self._look()
        self.set_interval(self._interval, self._look)

    def on_resize(self, event: Resize) -> None:
        """In very few lines, question and keys have one each."""
        rows = 1 if event.size.height < _FEW else 2
        for widget in (self._ask_line, self._keyline):
            widget.styles.height = rows

    def _entries(self) -> list[tuple[Run, ...]]:
        return [
            (Run(shown(key_name(key)), "key", f"key:{k.name}"),
             Run(f" {k.label}  ", "key.name", f"key:{k.name}"))
            for k in self.KEYS for key in self._usable(k)[:1]
        ]  # fmt: skip

    @staticmethod
    def _help_entry() -> tuple[Run, ...]:
        return Run("F1", "key", "key:help"), Run(" help  ", "key.name", "key:help")

    def _usable(self, key: PageKey) -> list[str]:
        return [k for k in key.keys if self._letters or len(key_name(k)) > 1]

    def draw(self, width: int) -> Drawn:
        """The page for so many cells."""
        raise NotImplementedError

    def refresh_view(self) -> str:
        """Ask for the view again; what there is to say, which then stands until the next key."""
        raise NotImplementedError

    def choices(self) -> int:
        """How many things up and down go through."""
        return 0

    def do(self, name: str) -> None:
        """Do what a key stands for."""
        raise NotImplementedError

    def answer(self, kind: str, text: str) -> bool:
        """Take the answer to a question; False: refused."""
        raise NotImplementedError

    def _drawn(self, width: int, height: int) -> Drawn:
        return self.draw(width)

    def _read(self, width: int, height: int) -> Drawn:
        """The page, or all its keys."""
        if not self._helping:
            return self._drawn(width, height)
        keys = [(" ".join(map(_key_shown, self._usable(k))), k.label) for k in self.KEYS]
        back = "back" if self.GOES_BACK else "closes what is open"
        return draw_page_help([*keys, *_MORE_KEYS, ("Esc", back), ("F1 ?", "this help")], width)

    def _look(self) -> None:
        with self._held("this page"):
            self._told = self.refresh_view() or self._told
            self._chosen = max(0, min(self._chosen, self.choices() - 1))
            self._page.look_again()
            prompt, hint = self.QUESTIONS.get(self._asking, ("", ""))
            self._ask_line.show(prompt, self._typed, self._told or hint or self.HINT)

    def on_key(self, event: Key) -> None:
        """Every key comes here."""
        event.stop()
        event.prevent_default()
        with self._held("a key"):
            self._told = ""
            self._answers_end()
            if self._asking:
                self._type(event)
            elif event.key == "escape":
                self._back()
            else:
                self._press(event)
        self._look()

    def _press(self, event: Key) -> None:
        steps = {"up": -1, "down": 1}
        if event.key in steps and self.choices():
            self._chosen = (self._chosen + steps[event.key]) % self.choices()
            self._page.follow()
        elif event.key in _PAGES or event.key in _ENDS:
            self._page.scroll_by((_PAGES | _ENDS)[event.key])
        elif event.key in steps:
            self._page.scroll_by(steps[event.key])
        else:
            self._later(event)

    def _back(self) -> None:
        """Esc: close the help, else back to the screen before; nothing is left by it."""
        if self._helping:
            self._help()
        elif self.GOES_BACK and len(self.app.screen_stack) > _FIRST:
            self.ask_to_leave()
        else:
            leave = next((_key_shown(k.keys[0]) for k in self.KEYS if k.name == "leave"), "Ctrl+Q")
            self._told = f"{leave} leaves"

    def _help(self) -> None:
        self._helping = not self._helping
        self._page.to_top()

    def _later(self, event: Key) -> None:
        if self._guard.press(event.key, event.time):
            self.set_timer(SETTLE, partial(self._settle, event.time + SETTLE))

    def _settle(self, now: float) -> None:
        with self._held("a key"):
            for key in self._guard.settle(now):
                if self._asking:
                    self._enter()
                else:
                    self._do_key(key)
        self._look()

    def _do_key(self, key: str) -> None:
        if key in _HELP_KEYS:
            self._help()
            return
        for function in self.KEYS:
            if key in {key_name(k) for k in self._usable(function)}:
                self._do(function.name)
                return

    def _do(self, name: str) -> None:
        if self._helping or name == "help":
            self._help()
        if name == "help":
            return
        if name in self.QUESTIONS:
            self._asking, self._typed = name, Typed()
        elif name == "leave":
            self.ask_to_leave()
        elif name == "colours":
            self.post_message(self.Coloured())
        else:
            self.do(name)

    def _type(self, event: Key) -> None:
        if event.key == "escape" or (event.key == "backspace" and not self._typed.text):
            self._asking = ""
        elif event.key in _PAGES:
            self._page.scroll_by(_PAGES[event.key])
        elif event.key == "enter":
            self._later(event)
        else:
            self._guard.note(event.key, event.time)
            self._typed = self._typed.key(event.key, event.character)

    def _enter(self) -> None:
        text = self._typed.text.strip()
        if not text or self.answer(self._asking, text):
            self._asking = ""

    def on_paste(self, event: Paste) -> None:
        """Pasted text goes into the line being typed."""
        event.stop()
        with self._held("pasted text"):
            if self._asking:
                self._typed = self._typed.insert(event.text[:1000])
        self._look()

    def on_canvas_picked(self, event: Canvas.Picked) -> None:
        """A click is the key or the choice it stands for."""
        event.stop()
        kind, _, name = event.tag.partition(":")
        with self._held("a click"):
            if kind == "key":
                self._asking = ""
                self._do(name)
            elif kind == "choice":
                self._chosen = int(name)
                self.clicked(int(name))
        self._look()

    def clicked(self, choice: int) -> None:
        """A choice was clicked; it is chosen already."""


def _key_shown(key: str) -> str:
    return shown(key_name(key))


def draw_page_help(keys: list[tuple[str, str]], width: int) -> Drawn:
    """All keys of a page with what each does, and that a key does it from here too."""
    column = min(24, max(8, width // 2))
    lines: list[Line] = [(), (Run("   KEYS", "strong"),), ()]
    lines += [
        (Run("   "), Run(fill(named, column), "strong"), Run(does, "plain")) for named, does in keys
    ]
    told = wrap("The keys work while this is shown.", max(8, width - 6), 3)
    return Drawn([*lines, (), *[(Run(f"   {text}", "soft"),) for text in told]], fixed=3)
