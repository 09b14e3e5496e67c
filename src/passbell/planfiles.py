"""Plan files: those that ship, and the cook's own. The one door to them."""

import difflib
import os
from dataclasses import dataclass
from pathlib import Path

import platformdirs

from passbell.files import read_small
from passbell.plan.model import Plan
from passbell.plan.problem import PlanError
from passbell.plan.read import LARGEST, read_file
from passbell.units import MendableError, clean_text, quoted

_PACKAGE = Path(__file__).resolve().parent


class PlanFileError(MendableError):
    """A plan that is not there, or cannot be opened."""


@dataclass(frozen=True, slots=True)
class LoadedPlan:
    """A plan with its file.

    Attributes:
        plan: what the file says.
        file: its path, as the record names it.
        text: the whole file.
    """

    plan: Plan
    file: str
    text: str


@dataclass(frozen=True, slots=True)
class Listed:
    """A plan file in the list; one of `loaded` and `problems` is there.

    Attributes:
        path: the file.
        bundled: whether it ships with the program.
        loaded: the plan.
        problems: what is wrong with the file, a line each.
    """

    path: Path
    bundled: bool
    loaded: LoadedPlan | None
    problems: tuple[str, ...] = ()


def bundled_folder() -> Path:
    """The folder of the plans that ship: in the package, or in a checkout beside it."""
    packaged = _PACKAGE / "data" / "plans"
    return packaged if packaged.is_dir() else _PACKAGE.parents[1] / "plans"


def called(file: str) -> str:
    """What to call a plan by its file: one that ships by its short name, another by its path."""
    path = Path(file)
    return path.stem if path.parent == bundled_folder().resolve() else file


def own_folder() -> Path:
    """The folder of the cook's own plans; it need not exist.

    `plans` in PASSBELL_HOME, or `passbell` in the platform's folder for documents.
    """
    named = os.environ.get("PASSBELL_HOME")
    if named:
        return Path(named).expanduser() / "plans"
    return platformdirs.user_documents_path() / "passbell"


def list_plans() -> tuple[Listed, ...]:
    """Every plan there is, the cook's own first; never raises."""
    found = []
    for folder, bundled in ((own_folder(), False), (bundled_folder(), True)):
        found += [_listed(path, bundled=bundled) for path in _files(folder)]
    return tuple(found)


def find_plan(name: str) -> LoadedPlan:
    """The plan of a path, or of the name of a bundled or own plan.

    Raises:
        PlanFileError: when there is none, or it cannot be opened.
        PlanError: when it cannot be understood.
    """
    path = Path(name)
    if path.suffix == ".toml" or path.parent != Path() or _is_file(path):
        return load(path)
    every = {p.stem: p for f in (bundled_folder(), own_folder()) for p in _files(f)}
    if name in every:
        return load(every[name])
    near = difflib.get_close_matches(name[:60], every, 1, 0.5)
    mend = f"did you mean {near[0]}?" if near else f"there are {', '.join(sorted(every))}"
    raise PlanFileError(f"there is no plan {quoted(name)}", mend)


def load(path: Path) -> LoadedPlan:
    """The plan in a file.

    Raises:
        PlanFileError: when it cannot be opened.
        PlanError: when it cannot be understood.
    """
    try:
        file = str(path.resolve())
        data = read_small(path, LARGEST)
    except (OSError, ValueError, RuntimeError) as error:
        what = f"{clean_text(str(path), 1000)} cannot be opened: {_reason(error)}"
        raise PlanFileError(what, "look at its name, or give a plan's name") from None
    plan, text = read_file(data, clean_text(str(path), 1000))
    return LoadedPlan(plan, file, text)


def _reason(error: Exception) -> str:
    """Why a file cannot be opened; a name with a NUL or a ring of links says so in its own way."""
    if isinstance(error, OSError) and error.strerror:
        return error.strerror.casefold()
    return "a ring of links" if isinstance(error, RuntimeError) else "no file has such a name"


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


def _files(folder: Path) -> list[Path]:
    """The plan files of a folder; those that begin with a point are other programs' leavings."""
    try:
        return sorted(path for path in folder.glob("*.toml") if not path.name.startswith("."))
    except OSError:
        return []


def _listed(path: Path, *, bundled: bool) -> Listed:
    try:
        return Listed(path, bundled, load(path))
    except PlanError as error:
        return Listed(path, bundled, None, tuple(str(problem) for problem in error.problems))
    except PlanFileError as error:
        return Listed(path, bundled, None, (str(error),))
