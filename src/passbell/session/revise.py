"""A plan changed by what its runs ask for: proposed, and written when the cook says so."""

from dataclasses import dataclass
from pathlib import Path

from passbell.cook.engine import begin
from passbell.cook.kept import Kept
from passbell.cook.kitchen import Habit
from passbell.cook.prepare import prepared
from passbell.cook.ready import Ready, ready
from passbell.cook.revise import Proposal, proposals, unheard
from passbell.journal import Journal, RunRow
from passbell.kitchen import KitchenError, read_kitchen
from passbell.pen import PenError, rewrite, write_new
from passbell.plan.model import Plan
from passbell.plan.problem import PlanError
from passbell.plan.read import read_plan
from passbell.plan.write import add_comment, set_value
from passbell.planfiles import (
    LoadedPlan,
    PlanFileError,
    bundled_folder,
    find_plan,
    load,
    own_folder,
)
from passbell.schedule.model import Contradiction
from passbell.session.runs import finished_runs
from passbell.units import Duration


@dataclass(frozen=True, slots=True)
class Revision:
    """A plan and what its runs ask for.

    Attributes:
        loaded: the plan and its file as they are now.
        runs: its finished runs, the oldest first.
        proposals: what they ask for.
        unheard: what was said of them that asks for nothing, and why.
        ready: whether it is ready to be published.
    """

    loaded: LoadedPlan
    runs: tuple[Kept, ...]
    proposals: tuple[Proposal, ...]
    unheard: tuple[str, ...]
    ready: Ready


@dataclass(frozen=True, slots=True)
class Taken:
    """Changes that were written.

    Attributes:
        path: the file that was written.
        kept: where the old text is kept; the bundled plan itself when it was copied.
        changes: how many changes were written.
    """

    path: Path
    kept: Path
    changes: int

    @property
    def words(self) -> str:
        """What was done, for the cook."""
        text = f"written to {self.path}; the plan as it was: {self.kept}"
        if self.changes > 1:
            text += (
                f". That is {self.changes} changes: with one change a cook you know which "
                "one did it"
            )
        return text


def revision(journal: Journal, loaded: LoadedPlan) -> Revision:
    """What the runs of a plan ask for.

    Raises:
        JournalError: when the record cannot be read.
    """
    runs = runs_of(journal, loaded)
    found = proposals(loaded.plan, runs, _habits())
    return Revision(
        loaded, runs, found, unheard(loaded.plan, runs), ready(runs, prepared(loaded.plan))
    )


def _habits() -> tuple[Habit, ...]:
    try:
        kitchen = read_kitchen().kitchen
    except KitchenError:
        return ()
    return kitchen.habits() if kitchen.use else ()


def runs_of(journal: Journal, loaded: LoadedPlan) -> tuple[Kept, ...]:
    """The finished runs of a plan, the oldest first.

    A plan that was moved, or copied from those that ship, still has its runs: they are known by
    their file, or by the file's name and the title together.

    Raises:
        JournalError: when the record cannot be read.
    """
    return finished_runs(journal, lambda row: is_of(row, loaded.file, loaded.plan.title))


def is_of(row: RunRow, file: str, title: str) -> bool:
    """Whether a run is one of a plan, by its file, or by the file's name and the title."""
    same_name = Path(row.meta.plan_file).name == Path(file).name
    return row.meta.plan_file == file or (same_name and row.meta.title == title)


def readiness(journal: Journal, kept: Kept) -> tuple[Ready, LoadedPlan | None]:
    """Whether the plan of a run is ready to be published, and that plan; None: it is gone.

    Raises:
        JournalError: when the record cannot be read.
    """
    loaded = plan_now(kept)
    if loaded is None:
        file, title = kept.source.plan_file, kept.account.title
        runs = finished_runs(journal, lambda row: is_of(row, file, title))
        return ready(runs, None), None
    return ready(runs_of(journal, loaded), prepared(loaded.plan)), loaded


def plan_now(kept: Kept) -> LoadedPlan | None:
    """The plan of a run as it is now; None: it is gone, or can no longer be read.

    The cook's own copy of a plan that ships goes before it; one that was moved into the folder of
    her own plans is found there by its name and title.
    """
    path = Path(kept.source.plan_file)
    own = own_folder() / path.name
    for place in (own, path) if is_bundled(path) else (path, own):
        try:
            loaded = load(place)
        except (PlanFileError, PlanError):
            continue
        if place == path or loaded.plan.title == kept.account.title:
            return loaded
    return None


def revised(text: str, taken: tuple[Proposal, ...], day: str) -> str:
    """The text of a plan with changes made, each with a comment that says why.

    Args:
        text: the text of the plan.
        taken: the changes.
        day: the date, for the comments.
    """
    longest: dict[tuple[str | int, ...], int] = {}
    for proposal in taken:
        for edit in proposal.edits:
            longest[edit.path] = max(edit.value, longest.get(edit.path, edit.value))
            text = set_value(text, edit.path, Duration(longest[edit.path]))
        text = add_comment(text, proposal.edits[0].path, f"{day} {proposal.comment}")
    return text


def take(loaded: LoadedPlan, taken: tuple[Proposal, ...], day: str) -> Taken:
    """Write changes into the plan's file; one that ships is copied to the cook's own first.

    Args:
        loaded: the plan as it was read when the changes were proposed.
        taken: at least one change.
        day: the date, for the comments.

    Raises:
        PenError: when the file was changed meanwhile, cannot be written, or the plan could not be
            read or cooked afterwards; nothing is written then.
    """
    text = revised(loaded.text, taken, day)
    _still_cooks(text, loaded)
    path = Path(loaded.file)
    if not is_bundled(path):
        return Taken(path, rewrite(path, loaded.text, text), len(taken))
    own = own_folder() / path.name
    write_new(own, text)
    return Taken(own, path, len(taken))


def is_bundled(path: Path) -> bool:
    """Whether a plan is one of those that ship with the program."""
    return path.resolve().parent == bundled_folder().resolve()


def to_edit(path: Path) -> tuple[Path, str]:
    """The file that a cook changes when she edits a plan, and what there is to say of it.

    Of a plan that ships that is a copy among her own, made where there is none.

    Raises:
        PenError: when no copy can be written.
        PlanFileError: when the plan that ships cannot be read.
    """
    if not is_bundled(path):
        return path, ""
    own = own_folder() / path.name
    if own.is_file():
        return own, f"your own copy of it was opened: {own}"
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise PlanFileError(f"{path} cannot be read: {error}", "choose another plan") from None
    write_new(own, text)
    return own, f"copied to your own plans: {own}"


def _still_cooks(text: str, loaded: LoadedPlan) -> Plan:
    try:
        plan = read_plan(text, loaded.file)
        begin(plan)
    except PlanError as error:
        raise PenError(f"the plan could not be read afterwards: {error}", _NOTHING) from None
    except Contradiction as error:
        raise PenError(
            f"the plan would contradict itself: {error.text} {error.mend}", _NOTHING
        ) from None
    return plan


_NOTHING = "nothing was written; take another change, or write it by hand"


def own_first(name: str) -> LoadedPlan:
    """The plan that is revised: the cook's own copy where there is one of a bundled plan.

    Raises:
        PlanFileError: when there is none, or it cannot be opened.
        PlanError: when it cannot be understood.
    """
    loaded = find_plan(name)
    own = own_folder() / Path(loaded.file).name
    return load(own) if is_bundled(Path(loaded.file)) and own.is_file() else loaded
