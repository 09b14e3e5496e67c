"""Whether a plan is ready to be published, as lines and as data."""

from collections.abc import Iterator
from dataclasses import asdict

from passbell.cook.ready import Ready

SIGNS = {True: "✓", False: "✗"}
"""A shape for what holds and what does not."""


def ready_object(ready: Ready) -> dict[str, object]:
    """The test of readiness for other programs."""
    return {"ready": ready.ready} | asdict(ready)


def ready_lines(ready: Ready) -> Iterator[str]:
    """The test of readiness in lines."""
    yield "READY TO PUBLISH" if ready.ready else "not ready to publish yet"
    for point in ready.points:
        yield f"  {SIGNS[point.holds]} {point.text}"
    for remark in ready.remarks:
        yield f"  · {remark}"
