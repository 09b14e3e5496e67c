"""Finding a recipe in JSON-LD, whichever of its spellings, and reading plain values out of it."""

import html
import json
import re
from collections import deque
from dataclasses import dataclass
from typing import Any

from passbell.units import MendableError, clean_text

LARGEST = 2_000_000
"""The largest recipe file that is read, in bytes."""

DEEPEST = 12
"""How deep lists and sections may lie in each other; no recipe comes near it."""

MOST = 2000
"""The most things that are read from one recipe."""

_PREFIX = re.compile(r"(?:schema:|https?://(?:www\.)?schema\.org/)", re.IGNORECASE)
_TAG = re.compile(r"<(br|/p|/li|/div|/h[1-6])\b[^<>]*>|<[^<>]*>", re.IGNORECASE)

Node = dict[str, Any]


class RecipeError(MendableError):
    """A file that holds no recipe that can be read."""


@dataclass(frozen=True, slots=True)
class Graph:
    """The nodes of a file, so that a mention of one by its `@id` can be followed.

    Attributes:
        nodes: the nodes that have an `@id`, by it.
    """

    nodes: dict[str, Node]

    def items(self, value: object, depth: int = 0) -> list[Any]:
        """The members of a value as a list: lists opened, mentions followed, at most so many."""
        if depth > DEEPEST:
            raise RecipeError(
                "its lists lie in each other without end", "look whether it is a recipe at all"
            )
        if isinstance(value, dict) and "@list" in value:
            value = value["@list"]
        if isinstance(value, list):
            found: list[Any] = []
            for one in value[:MOST]:
                found += self.items(one, depth + 1)
            return found[:MOST]
        return [] if value is None else [self.followed(value)]

    def followed(self, value: object) -> object:
        """The node that is only mentioned by its `@id`; anything else as it is."""
        if isinstance(value, dict) and set(value) <= {"@id", "@type"}:
            return self.nodes.get(str(value.get("@id")), value)
        return value


def found_recipe(data: bytes) -> tuple[Node, Graph]:
    """The recipe in the bytes of a JSON-LD file, its keys in their short spelling.

    Raises:
        RecipeError: when it is no JSON, holds no recipe, or more than one.
    """
    root = _parsed(data)
    nodes = list(_nodes(root))
    graph = Graph({n["@id"]: n for n in nodes if isinstance(n.get("@id"), str) and len(n) > 1})
    recipes = [node for node in nodes if "Recipe" in types(node)]
    if not recipes:
        what = "it holds no Recipe of schema.org"
        raise RecipeError(what, 'look for "@type": "Recipe" in it, or begin with an empty plan')
    full = [node for node in recipes if len(node) > 2] or recipes
    if len(full) > 1:
        what = f"it holds {len(full)} recipes"
        raise RecipeError(what, "keep the one you mean in a file of its own")
    return full[0], graph


def _parsed(data: bytes) -> object:
    if len(data) > LARGEST:
        raise RecipeError("it is larger than 2 MB", "keep the recipe alone in a file of its own")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise RecipeError("it is not written in UTF-8", "save it as UTF-8") from None
    if text.lstrip()[:1] == "<":
        mend = 'save what stands between <script type="application/ld+json"> and </script>'
        raise RecipeError("it is a web page, not JSON", mend)
    try:
        return json.loads(text, parse_constant=lambda _: None)
    except RecursionError:
        what = "its lists lie in each other without end"
    except ValueError as error:
        where = f" at line {error.lineno}" if isinstance(error, json.JSONDecodeError) else ""
        what = f"it is no JSON that can be read{where}"
    raise RecipeError(what, "save the recipe's JSON-LD anew")


def _nodes(root: object) -> list[Node]:
    """Every object of the file, its keys in their short spelling; without recursion."""
    found: list[Node] = []
    waiting: deque[object] = deque([_short(root)])
    while waiting:
        value = waiting.popleft()
        if isinstance(value, dict):
            found.append(value)
            waiting += value.values()
        elif isinstance(value, list):
            waiting += value
    return found


def _short(value: object, depth: int = 0) -> object:
    """The same data with "https://schema.org/name" and "schema:name" spelled "name"."""
    if depth > 200:
        raise RecipeError(
            "its lists lie in each other without end", "look whether it is a recipe at all"
        )
    if isinstance(value, dict):
        return {_PREFIX.sub("", str(k), 1): _short(v, depth + 1) for k, v in value.items()}
    if isinstance(value, list):
        return [_short(one, depth + 1) for one in value]
    return value


def types(node: object) -> tuple[str, ...]:
    """The types of a node, without prefix."""
    value = node.get("@type") if isinstance(node, dict) else None
    listed = value if isinstance(value, list) else [value]
    return tuple(_PREFIX.sub("", one, 1) for one in listed if isinstance(one, str))


def texts(value: object, depth: int = 0) -> list[str]:
    """The lines of text in a value: tags and character names of a web page are taken out.

    Args:
        value: text, a number, a value object, a node with a text or a name, or a list of them.
        depth: how deep it lies.
    """
    if isinstance(value, bool) or value is None or depth > DEEPEST:
        return []
    if isinstance(value, int | float):
        return [f"{value:g}"]
    if isinstance(value, str):
        plain = html.unescape(_TAG.sub(lambda m: "\n" if m[1] else "", value))
        lines = (clean_text(line) for line in plain.splitlines())
        return [line for line in lines if line]
    if isinstance(value, list):
        return [line for one in value[:MOST] for line in texts(one, depth + 1)]
    if isinstance(value, dict):
        for key in ("@value", "text", "name", "@list"):
            found = texts(value.get(key), depth + 1)
            if found:
                return found
    return []


def first_text(value: object) -> str:
    """The first line of text in a value; empty: there is none."""
    return next(iter(texts(value)), "")
