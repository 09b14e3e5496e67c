"""Plan files: those that ship, and the cook's own. The one door to them."""

import difflib
from dataclasses import dataclass
from pathlib import Path

import platformdirs

from passbell.plan.model import Plan
from passbell.plan.problem import PlanError, Problem
from passbell.plan.read import LARGEST, read_plan

_PACKAGE = Path(__file__).resolve().parent


class LibraryError(ValueError):
    """A plan that is not there, or cannot be opened.

    Args:
        what: what is wrong.
        mend: what to do.
    """

    def __init__(self, what: str, mend: str) -> None:
        super().__init__(f"{what}; {mend}")
        self.what = what
        self.mend = mend


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


def own_folder() -> Path:
    """The folder of the cook's own plans; it need not exist."""
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
        LibraryError: when there is none, or it cannot be opened.
        PlanError: when it cannot be understood.
    """
    path = Path(name)
    if path.suffix == ".toml" or path.parent != Path() or path.is_file():
        return load(path)
    every = {p.stem: p for f in (bundled_folder(), own_folder()) for p in _files(f)}
    if name in every:
        return load(every[name])
    near = difflib.get_close_matches(name, every, 1, 0.5)
    mend = f"did you mean {near[0]}?" if near else f"there are {', '.join(sorted(every))}"
    raise LibraryError(f"there is no plan “{name}”", mend)


def load(path: Path) -> LoadedPlan:
    """The plan in a file.

    Raises:
        LibraryError: when it cannot be opened.
        PlanError: when it cannot be understood.
    """
    file = str(path.resolve())
    try:
        with path.open("rb") as handle:
            data = handle.read(LARGEST + 1)
    except OSError as error:
        reason = (error.strerror or type(error).__name__).casefold()
        mend = "look at its name, or give a plan's name"
        raise LibraryError(f"{path} cannot be opened: {reason}", mend) from None
    if len(data) > LARGEST:
        what, mend = "it is larger than 1 MB", "a plan is one meal: cut it down"
        raise PlanError((Problem(str(path), 1, "", what, mend),))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        what = "it is not written in UTF-8"
        raise PlanError((Problem(str(path), line, "", what, "save it as UTF-8"),)) from None
    return LoadedPlan(read_plan(text, str(path)), file, text)


def _files(folder: Path) -> list[Path]:
    try:
        return sorted(folder.glob("*.toml"))
    except OSError:
        return []


def _listed(path: Path, *, bundled: bool) -> Listed:
    try:
        return Listed(path, bundled, load(path))
    except PlanError as error:
        return Listed(path, bundled, None, tuple(str(problem) for problem in error.problems))
    except LibraryError as error:
        return Listed(path, bundled, None, (str(error),))
