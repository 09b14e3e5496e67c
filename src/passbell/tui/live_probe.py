"""The probe box of a real cook: lines typed, a row selected, a question answered by one key."""

from collections.abc import Callable

from passbell.cook.commands import Command, ExtendStage, ExtendStep, Probe, ServeAt
from passbell.cook.whose import NotUnderstood, could_be_probed
from passbell.cook.words import read_words
from passbell.session import CookSession
from passbell.tui.views.probe import ProbeBox
from passbell.units import clean_text


class ProbeDesk:
    """What the cook types and chooses.

    Args:
        session: the cook.
        pend: shows a change of time before it is taken.
    """

    def __init__(self, session: CookSession, pend: Callable[[Command], None]) -> None:
        self._session = session
        self._pend = pend
        self.selected: int | None = None
        self.refusal = ""
        self._shown: int | None = None
        self._asked: tuple[str, tuple[int, ...]] | None = None

    def select(self, row: int | None) -> None:
        """Select a component by its place in file order, or none."""
        count = len(self._session.state.steps)
        self.selected = row if row is not None and 0 <= row < count else None

    def drop(self) -> None:
        """Drop what is being asked, and what was refused."""
        self.refusal, self._asked = "", None

    def enter(self, text: str) -> bool:
        """Carry out a typed line; False: refused or asked back, the box says why."""
        self.drop()
        try:
            command = read_words(
                text,
                self._session.state,
                selected=self.selected,
                serve_in=self._session.serve_in,
            )
        except NotUnderstood as error:
            return self._ask_whose(text, error)
        if isinstance(command, ExtendStage | ExtendStep | ServeAt):
            return self._shown_first(command)
        refusal = self._session.tell(command)
        self.refusal = refusal or ""
        if isinstance(command, Probe) and refusal is None:
            self._shown = command.component
        return refusal is None

    def _shown_first(self, command: Command) -> bool:
        """A change of time, shown with what it does before it is taken; one refused never is."""
        self.refusal = self._session.foresee(command).refusal or ""
        if not self.refusal:
            self._pend(command)
        return not self.refusal

    def choose(self, digit: int) -> bool:
        """Answer the question by its number; False: nothing is asked."""
        if self._asked is None:
            return False
        text, candidates = self._asked
        if 1 <= digit <= len(candidates):
            name = self._session.state.component(candidates[digit - 1]).name
            self.enter(f"{name} {text}")
        return True

    def _ask_whose(self, text: str, error: NotUnderstood) -> bool:
        candidates = tuple(dict.fromkeys(could_be_probed(self._session.state)))
        if error.what == "whose reading?" and 2 <= len(candidates) <= 9:
            self._asked = (clean_text(text), candidates)
        else:
            self.refusal = str(error)
        return False

    def box(self) -> ProbeBox:
        """The box as the view needs it."""
        question = ""
        if self._asked is not None:
            names = [
                f"{number} {self._session.state.component(index).name}"
                for number, index in enumerate(self._asked[1], 1)
            ]
            question = f"{self._asked[0]}: whose? {'  '.join(names)}"
        return ProbeBox(
            scale=self._session.state.scale,
            selected=self.selected,
            shown=self._shown,
            question=question,
            refusal=self.refusal,
        )
