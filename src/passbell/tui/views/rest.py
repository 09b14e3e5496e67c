"""A rest that is running, in words."""

from passbell.cook.expect import safety_rest_end
from passbell.cook.state import CookState
from passbell.cook.wording import minutes


def rest_words(state: CookState, index: int, now: int) -> str:
    """How long a component still rests, the chart's rest and the cook's own told apart.

    What of her own rest is left after the chart's stands behind it, so that the two can be added.
    Empty: it does not rest.
    """
    words = []
    safety = max(now, safety_rest_end(state, index) or now)
    if safety > now:
        words.append(f"safety rest {minutes(safety - now)} more")
    for place, real in enumerate(state.steps[index]):
        plan = state.component(index).steps[place]
        if plan.kind == "rest" and real.running and real.began is not None:
            left = real.began + plan.time + real.extra - safety
            if left > 0:
                words.append(f"rest {minutes(left)} more")
    return ", then ".join(words)
