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
        self._found: dict[int, Outlook | NoForecast] = {}
        self._state: CookState | None = None

    def look(self, state: CookState) -> Found:
        """The forecasts by component, as far as they are worked out."""
        if state is self._state and not self._running:
            return self._found
        self._state = state
        before, self._found = self._found, {}
        waiting: dict[Inquiry, Future[Forecast | NoForecast]] = {}
        for component in range(len(state.steps)):
            self._ask(state, component, before, waiting)
        self._running = waiting
        return self._found

    def _ask(
        self,
        state: CookState,
        component: int,
        before: Mapping[int, Outlook | NoForecast],
        waiting: dict[Inquiry, Future[Forecast | NoForecast]],
    ) -> None:
        question = question_now(state, component)
        if question is None:
            return
        if isinstance(question, NoForecast):
            self._found[component] = question
            return
        future = self._running.get(question) or self._submitted(question)
        if future is None or future.done():
            found = future.result() if future is not None else answer(question)
            self._found[component] = told(state, component, question, found)
            return
        waiting[question] = future
        if component in before:
            self._found[component] = before[component]

    def _submitted(self, question: Inquiry) -> "Future[Forecast | NoForecast] | None":
        return None if self._pool is None else self._pool.submit(answer, question)

    def close(self) -> None:
        """Stop working; what is being worked out is dropped."""
        if self._pool is not None:
            self._pool.shutdown(wait=False, cancel_futures=True)
