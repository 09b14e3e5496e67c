"""The forecasts of a cook, worked out beside it so that no refit ever holds up the screen."""

from collections.abc import Mapping
from concurrent.futures import Future, ThreadPoolExecutor

from passbell.cook.outlook import Inquiry, Outlook, answer, question_now, told
from passbell.cook.state import CookState
from passbell.heat import Forecast, NoForecast

Found = Mapping[int, Outlook | NoForecast]


class Outlooks:
    """What is expected of each component that waits for a temperature.

    An answer depends on the question alone, and the question on the state alone: a replay finds
    the same. While a new one is worked out the one before stands.

    Args:
        beside: whether to work in a thread of its own; else every answer is waited for.
    """

    def __init__(self, *, beside: bool = True) -> None:
        self._pool = ThreadPoolExecutor(1, "forecast") if beside else None
        self._running: dict[Inquiry, Future[Forecast | NoForecast]] = {}
        self._answers: dict[Inquiry, Forecast | NoForecast] = {}
        self._found: dict[int, Outlook | NoForecast] = {}
        self._state: CookState | None = None

    def look(self, state: CookState) -> Found:
        """The forecasts by component, as far as they are worked out."""
        if state is self._state and not self._running:
            return self._found
        self._state = state
        asked = {c: q for c in range(len(state.steps)) if (q := question_now(state, c)) is not None}
        questions = {q for q in asked.values() if not isinstance(q, NoForecast)}
        self._answers = {q: a for q, a in self._answers.items() if q in questions}
        self._running = {q: f for q, f in self._running.items() if q in questions}
        found = {c: self._told(state, c, question) for c, question in asked.items()}
        before = self._found
        self._found = {c: one or before[c] for c, one in found.items() if one or c in before}
        return self._found

    def _told(
        self, state: CookState, component: int, question: Inquiry | NoForecast
    ) -> Outlook | NoForecast | None:
        """The answer, or None while it is worked out."""
        if isinstance(question, NoForecast):
            return question
        found = self._answers.get(question) or self._worked_out(question)
        return None if found is None else told(state, component, question, found)

    def _worked_out(self, question: Inquiry) -> Forecast | NoForecast | None:
        if self._pool is None:
            self._answers[question] = answer(question)
        elif question not in self._running:
            self._running[question] = self._pool.submit(answer, question)
        elif self._running[question].done():
            self._answers[question] = self._running.pop(question).result()
        return self._answers.get(question)

    def close(self) -> None:
        """Stop working; what is being worked out is dropped."""
        if self._pool is not None:
            self._pool.shutdown(wait=False, cancel_futures=True)
