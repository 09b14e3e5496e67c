"""Words of a step that say its food is in the fridge meanwhile."""

import re

_COLD = (
    r"(?:fridges?\b|refrigerat\w*|chill(?:ed|ing|s)?\b|freezers?\b|"
    r"cold\b(?=\s*(?:$|[^\w\s-]|place|store|storage|for|overnight)))"
)
_LITTLE = (
    r"(?:(?:the|a|an|its|their|your|my|our|it|them|is|are|be|been|in|into|to|put|goes|go)\W+){0,5}"
)
_AWAY = re.compile(
    r"\b(?:out of|from|off|no|not|never|no longer|without|instead of|rather than|before|after|"
    rf"outside|beside|near|on|until|till|los\w+|don['’]t)\W+{_LITTLE}\b{_COLD}|"
    rf"\b(?:goes|go|gone|gets?|turns?|serv\w+|eaten)\W+cold\b|"
    r"\bchill\W+(?:is\W+)?(?:off|out|gone)\b"
)
_OUTSIDE = re.compile(
    r"\b(?:room|counter|worktop|countertop|windowsill|sun|temper)\b|\bwarm|\bkitchen\b(?! fridge)|"
    r"\b(?:take|taken|bring|brought|come|leave|left|set|stand|sit)\b.*\bout\b|"
    r"\b(?:h|hours?|min|minutes)\W+out\b|"
    r"\bthen\W+(?:let\W+(?:it|them)\W+)?(?:stand|sit)\b(?!\W+in\b)"
)
_INSIDE = re.compile(rf"\b{_COLD}")


def keeps_cold(text: str) -> bool:
    """Whether the words of a step say that its food is in the fridge, or as cold, all the while.

    "thaw in the fridge" and "chill overnight" do, "out of the fridge", "take the chill off", "in
    cold water" and "chilli oil" do not. Words that say both count as outside.

    Args:
        text: the instruction of the step.
    """
    line = " ".join(text.casefold().split())
    rest = _AWAY.sub(" ", line)
    return bool(_INSIDE.search(rest)) and not _OUTSIDE.search(rest)
