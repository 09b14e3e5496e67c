"""Times that a plan written from a recipe holds only because every step has one."""

from collections.abc import Iterator

from passbell.plan.findings import Finding

PLACE_ONLY = "# how long? the time below is only a place to write it"
"""The remark above a step whose time nobody said."""


def unfilled(text: str) -> Iterator[Finding]:
    """What is found while such a remark still stands in a plan's text; it goes with the remark."""
    lines = [str(n) for n, line in enumerate(text.splitlines(), 2) if line.strip() == PLACE_ONLY]
    if lines:
        several = len(lines) > 1
        where = f"line{'s' if several else ''} {', '.join(lines)}"
        yield Finding(
            "warning",
            None,
            f"nobody said how long the step{'s' if several else ''} in {where} take"
            f"{'' if several else 's'}",
            "write the time, and take out the remark above it",
        )
