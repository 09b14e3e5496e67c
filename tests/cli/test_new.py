"""`passbell new`: from answers, from a file, from a recipe, on a terminal, into an editor."""

import json
import sys
from pathlib import Path

import pytest

from passbell.cli.main import main
from passbell.planfiles import load
from tests.terminal import Terminal

Capture = pytest.CaptureFixture[str]
THIGHS = "chicken thighs (poultry_pieces): prep 4 min, oven 35 min until 75 °C, rest 5 min"
MEAL = ("--title", "Thighs", "--serves", "2", "--dish", THIGHS)


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("PASSBELL_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("VISUAL", raising=False)
    monkeypatch.delenv("EDITOR", raising=False)
    return tmp_path / "home"


def said(capsys: Capture, *argv: str) -> tuple[int, str, str]:
    code = main(argv)
    out, err = capsys.readouterr()
    return code, out, err


def test_from_options_it_is_written_once_and_passes_check(home: Path, capsys: Capture) -> None:
    code, out, err = said(capsys, "new", *MEAL)
    path = home / "plans" / "thighs.toml"
    assert (code, err) == (0, "")
    assert str(path) in out
    assert said(capsys, "check", "thighs")[0] == 0
    before = path.read_text(encoding="utf-8")
    code, _, err = said(capsys, "new", *MEAL)
    assert code == 2
    assert "already" in err
    assert path.read_text(encoding="utf-8") == before
    assert said(capsys, "new", *MEAL, "--to", str(home / "other.toml"))[0] == 0


def test_answers_may_come_as_a_file(home: Path, tmp_path: Path, capsys: Capture) -> None:
    answers = tmp_path / "answers.toml"
    answers.write_text(
        f'title = "Filed"\nserves = 3\nappliance = ["oven: preheat 9 min"]\ndish = ["{THIGHS}"]\n',
        encoding="utf-8",
    )
    assert said(capsys, "new", "--answers", str(answers), "--serves", "5")[0] == 0
    plan = load(home / "plans" / "filed.toml").plan
    assert (plan.serves, plan.appliances[0].preheat) == (5, 540)


def test_meat_without_its_food_is_written_and_said(capsys: Capture) -> None:
    code, out, err = said(capsys, "new", "--title", "x", "--serves", "1", "--dish",
                          "chicken: oven 30 min")  # fmt: skip
    assert code == 1
    assert "written" in out
    assert "no food is named" in err


@pytest.mark.parametrize(
    ("argv", "says"),
    [
        ([], "a new plan needs --title and --serves and --dish"),
        (["--title", "x", "--serves", "two", "--dish", THIGHS], "no number of people"),
        (["--title", "x", "--serves", "2", "--dish", "peas"], "no dish"),
        (["--title", "x", "--serves", "2", "--dish", THIGHS, "--dish", THIGHS], "two dishes"),
        (["--title", "x", "--serves", "2", "--dish", "a (poultry): oven 3 min"], "did you mean"),
        (["--title", "x", "--serves", "2", "--dish", THIGHS, "--serve-at", "7"], "time of day"),
        (["--from", "/nonexistent.json"], "nonexistent"),
        (["--answers", "/nonexistent.toml"], "nonexistent"),
    ],
)
def test_what_is_missing_or_not_understood_is_one_line_and_nothing_is_written(
    home: Path, argv: list[str], says: str, capsys: Capture
) -> None:
    code, _, err = said(capsys, "new", *argv)
    assert (code, len(err.splitlines())) == (2, 1)
    assert says in err
    assert not (home / "plans").exists()


@pytest.mark.parametrize("text", ["title = [", "colour = 3", "dish = 3", 'title = ["a"]'])
def test_answers_that_are_none(text: str, tmp_path: Path, capsys: Capture) -> None:
    answers = tmp_path / "answers.toml"
    answers.write_text(text)
    code, _, err = said(capsys, "new", "--answers", str(answers))
    assert (code, len(err.splitlines())) == (2, 1)


def recipe(**more: object) -> dict[str, object]:
    steps = ["Season the cod with a pinch of salt.", "Bake for 20 to 25 minutes.", "Serve."]
    return {
        "@context": "https://schema.org", "@type": "Recipe", "name": "Cod",
        "recipeYield": "4 people",
        "recipeIngredient": ["500 g cod", "a pinch salt"], "recipeInstructions": steps, **more,
    }  # fmt: skip


def test_a_recipe_begins_a_plan_and_what_it_lacks_stands_in_the_file(
    home: Path, tmp_path: Path, capsys: Capture
) -> None:
    file = tmp_path / "cod.json"
    file.write_text(
        json.dumps(recipe(prepTime="PT", cookTime="PT25M", tool=["baking dish"])), encoding="utf-8"
    )
    code, out, err = said(capsys, "new", "--from", str(file), "--appliance", "oven: preheat 9 min")
    assert code == 1, "cod has a minimum, and its food is still to be named"
    assert "Cod" in err
    assert "“PT”, which is no time" in out
    text = (home / "plans" / "cod.toml").read_text(encoding="utf-8")
    plan = load(home / "plans" / "cod.toml").plan
    assert (plan.serves, plan.ingredients) == (4, ("500 g cod", "a pinch salt"))
    assert plan.notes == "Equipment: baking dish."
    assert plan.appliances[0].preheat == 540
    assert [(s.kind, int(s.time)) for s in plan.components[0].steps] == [
        ("prep", 300), ("cook", 1500), ("finish", 300),
    ]  # fmt: skip
    assert text.count("how long? the time below is only a place") == 2
    lines = [n for n, line in enumerate(text.splitlines(), 1) if '"5 min"' in line]
    told = f"nobody said how long the steps in lines {lines[0]}, {lines[1]} take"
    assert told in err
    assert main(["check", str(home / "plans" / "cod.toml")]) == 1
    assert told in capsys.readouterr().out
    mended = "\n".join(line for line in text.splitlines() if "how long?" not in line)
    (home / "plans" / "cod.toml").write_text(mended, encoding="utf-8")
    main(["check", str(home / "plans" / "cod.toml")])
    assert "nobody said" not in capsys.readouterr().out
    assert "# - `prepTime` says" in text


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("{", "JSON"),
        ("[]", "Recipe"),
        ('{"@type": "Thing"}', "Recipe"),
        ("[" * 100_000, "deep|nested|JSON"),
        (" " * 4_000_001, "million|longer|large"),
    ],
)
def test_a_file_that_is_no_recipe_is_said_in_a_line(
    text: str, says: str, home: Path, tmp_path: Path, capsys: Capture
) -> None:
    file = tmp_path / "odd.json"
    file.write_text(text, encoding="utf-8")
    code, _, err = said(capsys, "new", "--from", str(file))
    assert (code, len(err.splitlines())) == (2, 1)
    assert any(word in err for word in says.split("|")), err
    assert not (home / "plans").exists()


def test_a_recipe_that_holds_itself_and_one_out_of_order_read_back(
    home: Path, tmp_path: Path, capsys: Capture
) -> None:
    inner: dict[str, object] = {"@id": "#a", "@type": "HowToStep", "itemListElement": {"@id": "#a"}}
    steps = [
        "Fry 5 minutes.",
        "Chop the chives for 2 minutes.",
        "Simmer 10 minutes.",
        "Peel.",
        inner,
    ]
    file = tmp_path / "ring.json"
    file.write_text(json.dumps(recipe(name="Ring", recipeInstructions=steps)), encoding="utf-8")
    assert said(capsys, "new", "--from", str(file))[0] in (0, 1)
    plan = load(home / "plans" / "ring.toml").plan
    kinds = [step.kind for step in plan.components[0].steps]
    assert kinds[:4] == ["cook", "cook", "cook", "finish"]
    assert plan.components[0].steps[0].on == "burner"


def test_the_editor_gets_the_file_as_an_argument_without_a_shell(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = tmp_path / "seen"
    script = tmp_path / "my editor.py"
    script.write_text(f"import sys; open({str(seen)!r}, 'w').write(repr(sys.argv[1:]))")
    monkeypatch.setenv("VISUAL", f"{sys.executable} '{script}' --wait")
    target = tmp_path / "a; touch gone.toml"
    assert said(capsys, "new", *MEAL, "--to", str(target), "--edit")[0] == 0
    assert seen.read_text() == repr(["--wait", str(target)])
    assert not (tmp_path / "gone.toml").exists()
    monkeypatch.setenv("VISUAL", "/no/such/editor")
    code, _, err = said(capsys, "new", *MEAL, "--to", str(tmp_path / "b.toml"), "--edit")
    assert code == 0
    assert "cannot be started" in err
    monkeypatch.delenv("VISUAL")
    assert (
        "no editor is named"
        in said(capsys, "new", *MEAL, "--to", str(tmp_path / "c.toml"), "--edit")[2]
    )


def test_a_plan_broken_in_the_editor_is_told_with_its_place(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    script = tmp_path / "spoil.py"
    script.write_text("import sys; open(sys.argv[1], 'a').write('serves = = 3')")
    monkeypatch.setenv("VISUAL", f"{sys.executable} {script}")
    target = tmp_path / "spoiled.toml"
    code, _, err = said(capsys, "new", *MEAL, "--to", str(target), "--edit")
    line = len(target.read_text().splitlines())
    assert code == 2
    assert f"spoiled.toml:{line}:" in err
    assert "fault of the program" not in err
    assert target.exists()


def test_on_a_terminal_it_asks_until_it_understands(tmp_path: Path) -> None:
    with Terminal(["new", "--title", "Asked"], tmp_path) as terminal:
        for prompt, answer in (
            ("For how many people?", "a few"),
            ("no number of people", "3"),
            ("dish:", "chicken: oven 30 min"),
            ("food:", "poultry_peces"),
            ("did you mean poultry_pieces", "poultry_pieces"),
            ("dish:", ""),
            ("oven, such as", "preheat 10 min, 200 °C"),
            ("it can be cooked", ""),
        ):
            terminal.wait_for(prompt)
            terminal.type(answer + "\r")
        assert terminal.end() == 0
    plan = load(tmp_path / "plans" / "asked.toml").plan
    assert (plan.serves, plan.components[0].food) == (3, ("poultry_pieces",))
    assert plan.appliances[0].preheat == 600
