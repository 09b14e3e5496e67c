"""How lengths of time are said."""


def minutes(seconds: int) -> str:
    """A countdown: "9:41", "1:05:00"; negative with a minus sign."""
    sign, seconds = ("-" if seconds < 0 else ""), abs(seconds)
    hours, rest = divmod(seconds, 3600)
    if hours:
        return f"{sign}{hours}:{rest // 60:02}:{rest % 60:02}"
    return f"{sign}{rest // 60}:{rest % 60:02}"


def spoken(seconds: int) -> str:
    """A length in words: "3 min", "1 h 20 min", "40 s"; rounded to the minute from two minutes."""
    seconds = abs(seconds)
    if seconds < 120:
        return f"{seconds} s" if seconds % 60 else f"{seconds // 60} min"
    hours, rest = divmod(round(seconds / 60), 60)
    return f"{hours} h {rest} min" if hours and rest else f"{hours} h" if hours else f"{rest} min"


def later(seconds: int) -> str:
    """A change of time in words: "3 min later", "40 s earlier", "unchanged"."""
    if not seconds:
        return "unchanged"
    return f"{spoken(seconds)} {'later' if seconds > 0 else 'earlier'}"
