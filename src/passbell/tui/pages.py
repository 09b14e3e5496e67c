"""Every screen but that of the cook, loaded together and only when one of them is wanted."""

from passbell.tui.screens.after import AfterScreen
from passbell.tui.screens.before import BeforeScreen
from passbell.tui.screens.plans import PlansScreen
from passbell.tui.screens.revise import ReviseScreen
from passbell.tui.screens.runs import RunsScreen

__all__ = ["AfterScreen", "BeforeScreen", "PlansScreen", "ReviseScreen", "RunsScreen"]
