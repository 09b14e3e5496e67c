"""Cautions shown to the cook, and the words of the cues about clean hands and probes."""

REACHED = (
    "Chart minimum reached at the spots you probed. It says nothing about colder spots, storage "
    "or hands."
)
"""Shown before the first cook and in the help, and with a `met` of the probe command."""

VULNERABLE = (
    "Cooking for someone pregnant, very young, older or unwell? The strictest chart is only the "
    "highest number printed here; some foods (rare meat, runny egg, raw shellfish) are advised "
    "against for them at any number: follow their health service."
)

PUBLIC = (
    "Feeding the public? Your local food code and a licensed professional decide, not this screen."
)

PACKAGE = "Instructions on the package win where they are stricter."

SHARED_TRAY = (
    "Raw meat joins cooked vegetables on one tray: the vegetables stay in until the meat is done, "
    "nothing on the tray is tasted or served before, and tongs and plate for the raw meat are "
    "washed or changed."
)

CLEAN_TONGS = "wash or change the tongs and the plate that held raw meat"
"""A cue of its own when raw meat, now done, is taken out."""

WITH_CLEAN = "clean tongs and plate"
"""With what raw meat, now done, is taken out: said as it is, before the cue of its own."""

WASH_HANDS = "wash hands, then say done"
"""The end of a cue whose act is over with the key: raw meat is in, or prepared."""

THEN_WASH = "then wash hands"
"""The end of a cue whose act begins with the key: the prep of raw meat."""

WASH_FIRST = "Wash the probe before the first reading."
WASH_PROBE = "Wash the probe before it goes in again."
WASH_BETWEEN = "Wash the probe between one food and the next."

THAW = "Thaw and marinate in the fridge."
MARINADE = "A marinade that touched raw meat is boiled before it is eaten."

CARRY_OVER = (
    "Heat that goes on rising after the food is out passes nothing. A federal study of burgers "
    "taken out at 66 to 68 °C found that many never reached 71.1 °C."
)

ALL = (REACHED, VULNERABLE, PUBLIC, PACKAGE)
"""The cautions of the first run and of the help, in order."""


def probe_wash(last_component: str | None, last_word: str | None, component: str) -> str:
    """The line about washing the probe before a reading; empty: it need not be washed.

    Args:
        last_component: the component probed last; None: nothing was probed yet.
        last_word: the verdict after that reading.
        component: the component to be probed now.
    """
    if last_component is None:
        return WASH_FIRST
    if last_component != component:
        return WASH_BETWEEN
    return "" if last_word == "met" else WASH_PROBE
