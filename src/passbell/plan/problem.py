"""What can be wrong with a plan file: one problem is one line a cook can act on."""

from dataclasses import dataclass

Path = tuple[str | int, ...]
"""Where in the file: keys and places in lists, such as ("component", 0, "steps", 2, "time")."""


@dataclass(frozen=True, slots=True)
class Fault:
    """A problem that does not know its file and line yet.

    Attributes:
        path: the value, or the table that lacks one.
        what: what is wrong, without a full stop.
        mend: how to write it, without a full stop.
    """

    path: Path
    what: str
    mend: str


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem of a plan file.

    Attributes:
        file: the file as the cook named it.
        line: counted from 1.
        where: the place in words, such as 'component "carrots", step 2'; empty: the whole file.
        what: what is wrong.
        mend: how to write it.
    """

    file: str
    line: int
    where: str
    what: str
    mend: str

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        return f"{self.file}:{self.line}: {place}{self.what}; {self.mend}"


class PlanError(ValueError):
    """A plan file that could not be read, with everything that is wrong with it.

    Args:
        problems: at least one, in the order of their lines.
    """

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = problems
