import re
from pathlib import Path

import pytest

SCREENS = sorted(Path("src/passbell/tui/screens").resolve().glob("*.tcss"))


@pytest.mark.parametrize("path", SCREENS, ids=lambda path: path.stem)
def test_every_rule_is_scoped_to_its_screen(path: Path) -> None:
    screen = f"{path.stem.capitalize()}Screen"
    assert f"class {screen}(" in path.with_suffix(".py").read_text(encoding="utf-8")
    text = re.sub(r"/\*.*?\*/", "", path.read_text(encoding="utf-8"), flags=re.S)
    rules = re.findall(r"([^{}]+)\{[^{}]*\}", text)
    assert rules
    for selectors in rules:
        for selector in selectors.split(","):
            assert selector.strip().split()[0].split(":")[0] == screen


def test_every_screen_of_its_own_has_its_styles() -> None:
    screens = {"plans", "before", "cook", "after", "runs", "revise"}
    assert {path.stem for path in SCREENS} == screens
