"""Where more jobs want a place than there are."""

from passbell.schedule.net import Choice, Net, Pool, Task
from passbell.schedule.tables import Job

Row = tuple[int, int, Job]
"""How long before the dish-up a job starts at the latest, and ends, and the job."""


def rows_of(jobs: tuple[Job, ...], left: int, at: list[int]) -> list[Row]:
    """The open jobs of a pool, from the latest start back; times count back from instant 0."""
    rows = []
    for job in jobs:
        if job.bit & left:
            far = -at[job.node] - job.plus
            rows.append((far, far - job.length, job))
    rows.sort(key=lambda row: (row[0], row[1], -row[2].bit))
    return rows


def overlap(rows: list[Row]) -> list[Row]:
    """The open jobs that want one place at the latest moment at which more than one does."""
    for place in range(1, len(rows)):
        before = rows[place - 1][0]
        if rows[place][1] < before:
            return [rows[place - 1], *(row for row in rows[place:] if row[1] < before)]
    return []


def latest_clash(pool: Pool, at: list[int]) -> tuple[int, list[Task]] | None:
    """The latest moment at which more tasks want a place than there are, and which they are."""
    placed = sorted([(at[node] + plus, node, plus, n) for node, plus, n in pool.tasks])
    for place in range(len(placed) - 1, pool.places - 1, -1):
        start = placed[place][0]
        there = [row for row in placed[:place] if row[0] + row[3] > start]
        if len(there) >= pool.places:
            chosen = [placed[place], *there[-pool.places :]]
            return start, [Task(*row[1:]) for row in chosen]
    return None


def inside(net: Net, choice: Choice, at: list[int]) -> bool:
    """Whether a step with several runs of stages lies within one of them."""
    bounds = net.bounds[choice.machine]
    start, end = at[choice.start.node] + choice.start.plus, at[choice.end.node] + choice.end.plus
    return any(
        at[bounds[a].node] + bounds[a].plus <= start
        and end <= at[bounds[b + 1].node] + bounds[b + 1].plus
        for a, b in choice.runs
    )
