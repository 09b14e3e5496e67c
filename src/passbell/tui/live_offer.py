"""What a forecast suggests for the stagger: said with its effects, opened by a key, not taken."""

from collections.abc import Mapping

from passbell.cook.commands import ExtendStep
from passbell.cook.outlook import Outlook, moved_end
from passbell.cook.preview import effects
from passbell.cook.wording import later
from passbell.heat import NoForecast
from passbell.session import CookSession


class Offers:
    """The changes of the stagger that forecasts suggest.

    Args:
        session: the cook.
    """

    def __init__(self, session: CookSession) -> None:
        self._session = session
        self._open: dict[int, int] = {}
        self._dropped: dict[int, int] = {}
        self._said: tuple[tuple[int, int], str] = ((-1, 0), "")

    def look(
        self, outlooks: Mapping[int, Outlook | NoForecast], shown: int | None
    ) -> tuple[int, str] | None:
        """The component with a change to offer, the one in the probe box first, and its words."""
        state = self._session.state
        moved = {c: moved_end(state, c, found) for c, found in outlooks.items()}
        self._open = {c: by for c, by in moved.items() if by and self._dropped.get(c) != by}
        if not self._open:
            return None
        component = shown if shown in self._open else min(self._open)
        assert component is not None
        return component, self._words(component, self._open[component])

    def taken_up(self, press: int, selected: int | None, shown: int | None) -> ExtendStep | None:
        """What a press of longer or shorter opens instead of one minute; None: nothing offered.

        Args:
            press: seconds of the press; its sign must be that of the offer.
            selected: the row selected; another one than the offer's is meant for itself.
            shown: the component in the probe box.
        """
        if not self._open:
            return None
        component = shown if shown in self._open else min(self._open)
        assert component is not None
        by = self._open[component]
        if (press > 0) != (by > 0) or selected not in (None, component):
            return None
        return ExtendStep(component=component, by=by)

    def drop(self) -> None:
        """Say no more about what is offered now."""
        self._dropped |= self._open

    def _words(self, component: int, by: int) -> str:
        """What it would do, worked out once."""
        if self._said[0] != (component, by):
            self._said = ((component, by), self._worked_out(component, by))
        return self._said[1]

    def _worked_out(self, component: int, by: int) -> str:
        before = self._session.state
        outcome = self._session.foresee(ExtendStep(component=component, by=by))
        if outcome.refusal is not None:
            return ""
        dish_up = next(e for e in effects(before, outcome.state) if e.thing == "dish_up")
        key = "longer" if by > 0 else "shorter"
        return f"It ends {later(by)}, dish-up {dish_up.words}: {key} shows all."
