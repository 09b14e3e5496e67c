"""Names of a package that are loaded when they are first used (PEP 562)."""

from collections.abc import Callable, Mapping
from importlib import import_module
from sys import modules


def later(package: str, homes: Mapping[str, str]) -> Callable[[str], object]:
    """A `__getattr__` for a package whose modules are not loaded with it.

    Args:
        package: its name.
        homes: the module of the package in which each name lives.

    Returns:
        The function; it raises AttributeError for a name that has no home.
    """

    def load(name: str) -> object:
        home = homes.get(name)
        if home is None:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        found: object = getattr(import_module(f"{package}.{home}"), name)
        setattr(modules[package], name, found)
        return found

    return load
