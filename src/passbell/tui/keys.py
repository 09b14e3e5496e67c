"""The keys of the cook screen: one table, remappable, each key alone and without modifiers."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from passbell.files import read_small
from passbell.units import clean_text

LARGEST = 20_000
"""The largest settings file that is read, in bytes."""


class Function(NamedTuple):
    """Something one key does.

    Attributes:
        name: what the settings file calls it.
        label: what the key line says.
        says: what the help says.
        keys: its keys, best first.
        adjusts: whether pressing it fast again means more of it.
    """

    name: str
    label: str
    says: str
    keys: tuple[str, ...]
    adjusts: bool = False


FUNCTIONS: tuple[Function, ...] = (
    Function("done", "done", "Now's first line: done", ("enter", "d", "space")),
    Function("earlier", "earlier", "done a minute earlier", ("e", ","), True),
    Function("put_off", "put off", "remind me in a minute", ("p", "f4", "*")),
    Function("longer", "longer", "a minute longer", ("+", "l", "=", "right"), True),
    Function("shorter", "shorter", "a minute shorter", ("-", "s", "left"), True),
    Function("take_out", "take out", "out now, or back in", ("t", "f7", "delete")),
    Function("probe", "probe", "open the probe box", ("i", "f2")),
    Function("take_back", "take back", "take back the last act", ("b", "f8", "backspace", "/")),
    Function("redo", "redo", "redo what was undone", ("f", ";")),
    Function("away", "away", "away, and back", ("a", "f9")),
    Function("heat_off", "heat off", "heat off, and on again", ("h", "f10")),
    Function("ready", "hot now", "preheated, or boiling", ("r", "f5")),
    Function("not_ready", "not hot yet", "not hot yet: +2 min", ("u", "f6")),
    Function("serve_at", "serve at", "serve at another time", ("v", "f12")),
    Function("display", "oven reads", "it shows, or is set to", ("o", "home")),
    Function("note", "note", "write a note", ("n", "f11")),
    Function("quiet", "quiet", "quiet for a film take", ("q", "'")),
    Function("mark", "mark", "mark for the camera", ("m", "insert")),
    Function("say_all", "say it all", "all that is going on", ("w", "f3")),
    Function("far", "far", "only Now, very large", ("z", "\\")),
    Function("volume", "volume", "softer, then loud", ("y", "["), True),
    Function("speak", "speak", "Now aloud, or not", ("g", ".")),
    Function("begin", "begin prep", "begin what HANDS says", ("j", "#")),
    Function("together", "together", "two acts, one opening", ("c", "!")),
    Function("colours", "light/dark", "light or dark", ("k", "]")),
    Function("help", "help", "these keys", ("f1", "?")),
    Function("leave", "leave", "leave; can be resumed", ("x", "end")),
)
"""All functions, in the order they are shown."""

FIXED = ("up", "down", "pageup", "pagedown", "escape", "tab", *"0123456789")
"""Keys that cannot be given away: choosing a row, scrolling, dropping, and the probe box."""

_SIGNS = {
    "+": "plus", "-": "minus", "=": "equals_sign", ",": "comma", ";": "semicolon",
    "'": "apostrophe", "/": "slash", "*": "asterisk", "?": "question_mark", "\\": "backslash",
    "]": "right_square_bracket", "[": "left_square_bracket", ".": "full_stop", "#": "number_sign",
    " ": "space", "!": "exclamation_mark",
}  # fmt: skip
_SHOWN = {v: k for k, v in _SIGNS.items()} | {
    "enter": "Enter", "space": "Space", "right": "→", "left": "←", "up": "↑", "down": "↓",
    "backspace": "Bksp", "delete": "Del", "insert": "Ins", "home": "Home", "end": "End",
    "escape": "Esc", "pageup": "PgUp", "pagedown": "PgDn", "tab": "Tab",
}  # fmt: skip
_NAMED = {"enter", "space", "right", "left", "backspace", "delete", "insert", "home", "end"}
_NAMED |= {f"f{n}" for n in range(1, 25)}


def key_name(text: str) -> str:
    """The terminal's name of a key written as a sign or a word: "+" is "plus".

    Raises:
        ValueError: when there is no such key, or it is not free to be given.
    """
    word = text if text == " " else text.strip()
    name = _SIGNS.get(word, word.lower())
    if name in FIXED:
        raise ValueError(f"{shown(name)} has its own meaning and cannot be given away")
    letter = len(name) == 1 and name.isalpha() and name.isascii()
    if not (letter or name in _NAMED or name in _SIGNS.values()):
        raise ValueError(f"there is no key {clean_text(text, 20)!r}")
    return name


def shown(key: str) -> str:
    """A key as the key line shows it: "Enter", "+", "F1", "d"."""
    return _SHOWN.get(key, key.upper() if key.startswith("f") and key[1:].isdigit() else key)


@dataclass(frozen=True)
class KeyMap:
    """Which key does what.

    Attributes:
        keys: for each function its keys, best first, by the terminal's names.
    """

    keys: Mapping[str, tuple[str, ...]]

    def function(self, key: str) -> str:
        """What a key does; empty: nothing."""
        return self._by_key.get(key, "")

    def best(self, function: str) -> str:
        """The key to show for a function; empty: it has none."""
        keys = self.keys.get(function, ())
        return shown(keys[0]) if keys else ""

    @property
    def _by_key(self) -> dict[str, str]:
        return {key: name for name, keys in self.keys.items() for key in keys}


def standard(letters: bool = True) -> KeyMap:
    """The keys as they come; `letters` off: only signs, arrows and function keys."""
    return KeyMap({f.name: _usable(map(key_name, f.keys), letters) for f in FUNCTIONS})


def _usable(keys: Iterable[str], letters: bool) -> tuple[str, ...]:
    return tuple(k for k in keys if letters or len(k) > 1)


def load_keys(path: Path) -> tuple[KeyMap, str]:
    """The keys as a settings file changes them, and what is wrong with it in one line.

    The file is TOML: `letters = false` switches the letters off; a table `[keys]` gives a
    function other keys, `put_off = ["p", "f4"]`. A file with a fault changes nothing.

    Args:
        path: the settings file; it need not exist.
    """
    import tomllib  # noqa: PLC0415 - most cooks have no such file

    try:
        data = read_small(path, LARGEST)
        if len(data) > LARGEST:
            return standard(), _complaint(path, "it is larger than any settings; cut it down")
        return _read(tomllib.loads(data.decode("utf-8"))), ""
    except FileNotFoundError:
        return standard(), ""
    except OSError as error:
        return standard(), _complaint(path, error.strerror or str(error))
    except ValueError as error:
        return standard(), _complaint(path, str(error))
    except RecursionError:
        return standard(), _complaint(path, "lists and tables are nested too deep")


def _complaint(path: Path, fault: str) -> str:
    return clean_text(f"{path.name}: {fault}; the keys are as they come.")


def _read(settings: Mapping[str, object]) -> KeyMap:
    unknown = set(settings) - {"letters", "keys"}
    if unknown:
        raise ValueError(f"there is no setting {sorted(unknown)[0]!r}")
    letters, table = settings.get("letters", True), settings.get("keys", {})
    if not isinstance(letters, bool):
        raise ValueError("letters is true or false")  # noqa: TRY004 - a fault of the file
    if not isinstance(table, Mapping):
        raise ValueError("keys is a table, headed [keys]")  # noqa: TRY004 - as above
    keys = _changed(standard(letters).keys, table, letters)
    _hold(keys)
    return KeyMap(keys)


def _changed(
    keys: Mapping[str, tuple[str, ...]], table: Mapping[str, object], letters: bool
) -> dict[str, tuple[str, ...]]:
    """The keys after the table; a key it gives leaves the function that had it before."""
    given: dict[str, tuple[str, ...]] = {}
    for name, value in table.items():
        if name not in keys:
            raise ValueError(f"there is no function {clean_text(name, 30)!r}")
        listed = [value] if isinstance(value, str) else value
        if not isinstance(listed, list) or not all(isinstance(k, str) for k in listed):
            raise ValueError(f'{name} is a key or a list of keys, such as ["p", "f4"]')
        given[name] = _usable(map(key_name, listed), letters)
    taken = {key for listed in given.values() for key in listed}
    kept = {n: tuple(k for k in ks if k not in taken) for n, ks in keys.items()}
    return {name: given.get(name, kept[name]) for name in keys}


def _hold(keys: Mapping[str, tuple[str, ...]]) -> None:
    """Refuse keys that would leave a function out of reach or a key with two meanings.

    Some terminals lose the space key, so none may hang on it alone.
    """
    owner: dict[str, str] = {}
    for name, listed in keys.items():
        if not set(listed) - {"space"}:
            raise ValueError(f"{name} needs a key besides Space")
        for key in listed:
            if owner.setdefault(key, name) != name:
                raise ValueError(f"{shown(key)} is given to both {owner[key]} and {name}")
