"""The rules of the house, held by a test: where things lie, how long they are, what they say."""

import ast
import re
import statistics
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "passbell"
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "src", "tests", "plans", "sounds"}
FILES = sorted(SOURCE.rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("*.py"))
NETWORK = {"socket", "ssl", "http", "urllib", "ftplib", "smtplib", "poplib", "imaplib", "telnetlib"}
NETWORK |= {"socketserver", "xmlrpc", "webbrowser", "requests", "httpx", "aiohttp", "urllib3"}
LONGEST_FILE, LONGEST_FUNCTION = 400, 40
MEDIAN_FILE, MEDIAN_FUNCTION = 120, 6

Function = ast.FunctionDef | ast.AsyncFunctionDef


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def tracked() -> list[str]:
    """Every file that belongs to the project: what git knows, or what was unpacked."""
    listed = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    names = [name for name in listed.stdout.split("\0") if name and (ROOT / name).exists()]
    inside = (str(path.relative_to(ROOT)) for path in ROOT.rglob("*") if path.is_file())
    return names or [name for name in inside if not re.search(r"(^|/)(\.|__pycache__/)", name)]


def name(path: Path) -> str:
    return str(path.relative_to(SOURCE))


def functions() -> Iterator[tuple[str, Function]]:
    for path in FILES:
        for node in ast.walk(tree(path)):
            if isinstance(node, Function):
                yield f"{name(path)}:{node.lineno} {node.name}", node


def lines(node: Function) -> int:
    """Lines of a function without its docstring."""
    first = node.body[0]
    told = isinstance(first, ast.Expr) and ast.get_docstring(node) is not None
    docstring = (first.end_lineno or 0) - first.lineno + 1 if told else 0
    return (node.end_lineno or 0) - node.lineno + 1 - docstring


def imported(path: Path) -> Iterator[str]:
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def public(node: ast.AST, path: str) -> Iterator[tuple[str, ast.AST]]:
    """The public classes, functions and methods below a module or class."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.ClassDef | Function) and not child.name.startswith("_"):
            yield f"{path}:{child.lineno} {child.name}", child
            if isinstance(child, ast.ClassDef):
                yield from public(child, path)


def documented(node: ast.AST) -> bool:
    if any("overload" in ast.unparse(d) for d in getattr(node, "decorator_list", ())):
        return True
    assert isinstance(node, ast.Module | ast.ClassDef | Function)
    return bool(ast.get_docstring(node))


def test_the_top_level_is_exactly_what_it_should_be() -> None:
    names = {file.split("/")[0] for file in tracked()}
    assert {name for name in names if not name.startswith(".")} == TOP


def test_no_source_file_is_too_long() -> None:
    lengths = {name(path): len(path.read_text().splitlines()) for path in FILES}
    assert {file: length for file, length in lengths.items() if length > LONGEST_FILE} == {}
    assert statistics.median(lengths.values()) <= MEDIAN_FILE


def test_no_file_of_tests_is_too_long() -> None:
    lengths = {
        str(path.relative_to(ROOT)): len(path.read_text(encoding="utf-8").splitlines())
        for path in TESTS
    }
    assert "tests/test_house.py" in lengths
    assert {file: length for file, length in lengths.items() if length > LONGEST_FILE} == {}


def test_no_function_is_too_long() -> None:
    lengths = {place: lines(node) for place, node in functions()}
    assert {place: length for place, length in lengths.items() if length > LONGEST_FUNCTION} == {}
    assert statistics.median(lengths.values()) <= MEDIAN_FUNCTION


def test_every_public_name_says_what_it_is() -> None:
    modules = [(name(path), tree(path)) for path in FILES]
    names = [found for path, module in modules for found in public(module, path)]
    assert len(names) > 100
    assert [place for place, node in [*modules, *names] if not documented(node)] == []


def test_a_forecast_can_never_become_a_verdict() -> None:
    safety = [path for path in FILES if path.is_relative_to(SOURCE / "safety")]
    assert safety
    found = [(name(path), used) for path in safety for used in imported(path)]
    assert [use for use in found if use[1].startswith("passbell.heat")] == []


def test_nothing_reaches_the_network() -> None:
    found = [(name(path), used) for path in FILES for used in imported(path)]
    harmless = ("urllib.parse", "urllib.error")  # text and its errors, no network
    assert [
        use for use in found if use[1].split(".")[0] in NETWORK and not use[1].startswith(harmless)
    ] == []


def test_nothing_is_left_undone_and_no_test_is_skipped() -> None:
    # The brackets keep this file from finding itself.
    undone = re.compile("TOD[O]|FIXM[E]|XX[X]:")
    skipped = re.compile("pytest[.](mark[.])?(ski[p]|xfai[l]|importorski[p])|unittest[.]ski[p]")
    texts = {
        file: (ROOT / file).read_text(encoding="utf-8")
        for file in tracked()
        if file.endswith((".py", ".md", ".toml", ".tcss"))
    }
    assert [f for f, text in texts.items() if undone.search(text)] == []
    assert [f for f, text in texts.items() if skipped.search(text)] == []


def test_no_path_of_one_machine_is_written_down() -> None:
    private = re.compile("/(root|work|home/[a-z]+|Users/[a-z]+)/")
    texts = [file for file in tracked() if file.endswith((".py", ".md", ".toml", ".tcss", "run"))]
    assert [f for f in texts if private.search((ROOT / f).read_text(encoding="utf-8"))] == []


def test_every_source_file_is_utf8_and_ends_with_one_line_end() -> None:
    contents = {name(path): path.read_bytes() for path in FILES}
    assert [file for file, text in contents.items() if b"\r" in text or text[-2:] == b"\n\n"] == []
    assert all(text.decode("utf-8") for text in contents.values())
