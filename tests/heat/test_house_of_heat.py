"""What this room may not do."""

import ast
from pathlib import Path

import passbell.heat

ROOM = Path(passbell.heat.__file__).parent
FORBIDDEN = {"numpy", "scipy", "random", "time", "datetime", "os", "io", "logging", "threading"}


def imports(path: Path) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module.split(".")[0])
            if node.module.startswith("passbell."):
                found.add(node.module.split(".")[1])
    return found


def test_it_is_pure_and_knows_nothing_of_verdicts() -> None:
    files = sorted(ROOM.glob("*.py"))
    assert len(files) > 15
    for path in files:
        assert not imports(path) & (FORBIDDEN | {"safety", "cook", "schedule"}), path.name
