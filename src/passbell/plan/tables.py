"""The tables of a TOML text while it is read: which may be opened, and which is there twice."""

from typing import Any

from passbell.plan.problem import Path

Table = dict[str, Any]


class Taken(Exception):
    """A key that is there already.

    Args:
        line: where it was first; None: not known.
        path: where to go on reading what follows.
        table: into what.
    """

    def __init__(self, line: int | None, path: Path, table: Table) -> None:
        super().__init__()
        self.line = line
        self.path = path
        self.table = table


class Tables:
    """The data of a text, and how each table of it came to be.

    Attributes:
        root: the data.
    """

    def __init__(self) -> None:
        self.root: Table = {}
        self._lines: dict[tuple[int, str], int] = {}
        self._opened: dict[int, int | None] = {}
        self._dotted: set[int] = set()
        self._many: set[int] = set()
        # Every table that was ever asked about lives as long as this, so that no id comes again.
        self._alive: list[object] = []

    def note(self, table: Table, line: int) -> None:
        """Remember on which line a table's header stands."""
        self._opened[id(table)] = line

    def put(self, table: Table, keys: list[str], value: object, line: int) -> None:
        """Set a value.

        Raises:
            Taken: when the key, or one before its last dot, holds something else already.
        """
        here = table
        for key in keys[:-1]:
            if key not in here:
                here[key] = self._new({})
                self._dotted.add(id(here[key]))
                self._lines[id(here), key] = line
            elif id(here[key]) not in self._dotted:
                raise Taken(self._lines.get((id(here), key)), (), {})
            here = here[key]
        if keys[-1] in here:
            raise Taken(self._first(here, keys[-1]), (), {})
        here[keys[-1]] = self._new(value)
        self._lines[id(here), keys[-1]] = line

    def enter(self, keys: list[str], *, many: bool) -> tuple[Path, Table]:
        """Open the table of a header: [keys], or with `many` a new one of [[keys]].

        Returns:
            its path, and the table.

        Raises:
            Taken: when it is there already, or something else is.
        """
        path, here = self._walk(keys)
        last = keys[-1]
        if many:
            return self._another(path, here, last)
        found = here.get(last)
        if found is None:
            here[last] = found = self._new({})
        elif isinstance(found, list) and id(found) in self._many:
            entry = self._new({})
            found.append(entry)
            raise Taken(self._first(here, last), (*path, last, len(found) - 1), entry)
        elif not self._is_open(here, last):
            raise Taken(self._first(here, last), (*path, last), self._new({}))
        self._opened[id(found)] = None
        return (*path, last), found

    def _walk(self, keys: list[str]) -> tuple[Path, Table]:
        """Down to the table that the last key stands in."""
        path: Path = ()
        here = self.root
        for key in keys[:-1]:
            path = (*path, key)
            found = here.setdefault(key, self._new({}))
            if isinstance(found, list) and id(found) in self._many:
                path = (*path, len(found) - 1)
                found = found[-1]
            elif not isinstance(found, dict) or self._is_value(here, key):
                raise Taken(self._first(here, key), (*path, *keys[1:]), self._new({}))
            here = found
        return path, here

    def _another(self, path: Path, here: Table, last: str) -> tuple[Path, Table]:
        entry = self._new({})
        if last not in here:
            here[last] = self._new([])
            self._many.add(id(here[last]))
        found = here[last]
        if id(found) not in self._many:
            raise Taken(self._first(here, last), (*path, last, 0), entry)
        found.append(entry)
        self._opened[id(entry)] = None
        return (*path, last, len(found) - 1), entry

    def _is_open(self, here: Table, key: str) -> bool:
        """Whether a table is there only because a table within it was opened before."""
        found = here[key]
        used = id(found) in self._opened or id(found) in self._dotted
        return isinstance(found, dict) and not used and not self._is_value(here, key)

    def _is_value(self, here: Table, key: str) -> bool:
        """Whether a table was written in braces, and so is closed."""
        return (id(here), key) in self._lines and id(here[key]) not in self._dotted

    def _first(self, here: Table, key: str) -> int | None:
        found = here.get(key)
        if isinstance(found, list) and id(found) in self._many:
            found = found[0]
        return self._lines.get((id(here), key)) or self._opened.get(id(found))

    def _new(self, value: Any) -> Any:
        self._alive.append(value)
        return value
