"""Acts that could share one opening, as the screen proposes them."""

from passbell.clock import local_time
from passbell.cook.commands import Command
from passbell.cook.state import CookState
from passbell.cook.together import Joint, joint_openings
from passbell.cook.whose import NotUnderstood
from passbell.cook.wording import later
from passbell.session import CookSession

LOOKED_AT_AGAIN = 5
"""For how many engine seconds a proposal is good enough to be shown again."""


class Openings:
    """What is proposed, worked out anew when the cook has moved on.

    Args:
        session: the cook.
    """

    def __init__(self, session: CookSession) -> None:
        self._session = session
        self._seen: tuple[CookState, int, Joint | None] | None = None

    def joint(self) -> Joint | None:
        """The next opening that two could be; None: none."""
        state, moment = self._session.state, self._session.now() // LOOKED_AT_AGAIN
        if self._seen is None or self._seen[0] is not state or self._seen[1] != moment:
            found = joint_openings(state, self._session.now())
            self._seen = (state, moment, found[0] if found else None)
        return self._seen[2]

    def shown(self) -> Command:
        """What takes the proposal that is shown.

        Raises:
            NotUnderstood: when none is: nothing is joined that the cook has not read.
        """
        joint = self.joint()
        if joint is None:
            raise NotUnderstood("no two openings are near each other", "go on as shown")
        return joint.command

    def words(self) -> str:
        """The same in a line; empty: none."""
        joint = self.joint()
        if joint is None:
            return ""
        at = local_time(self._session.utc_at(joint.at))
        moved = "; ".join(joint.losses)
        return f"together at {at} with {joint.kept}? dish-up {later(joint.delay)}; {moved}"
