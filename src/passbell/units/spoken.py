"""Lengths of time as they are said to a cook."""


def spoken(seconds: int) -> str:
    """A length in words: "3 min", "1 h 20 min", "40 s"; rounded to the minute from two minutes."""
    seconds = abs(seconds)
    if seconds < 120 and seconds % 60:
        return f"1 min {seconds - 60} s" if seconds > 90 else f"{seconds} s"
    hours, rest = divmod(round(seconds / 60), 60)
    return f"{hours} h {rest} min" if hours and rest else f"{hours} h" if hours else f"{rest} min"
