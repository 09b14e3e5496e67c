"""From one place of the search to the next."""

from passbell.schedule.moves import Finder, Last, Move, Order, Run
from passbell.schedule.net import Task
from passbell.schedule.reach import Reach
from passbell.schedule.state import Gauge, State
from passbell.schedule.tables import Job, Tables

Tracks = tuple[Job | None, ...]


class Brancher:
    """Opens the places of one search."""

    def __init__(self, tables: Tables, gauge: Gauge) -> None:
        self.tables = tables
        self.net = tables.net
        self.gauge = gauge
        self.finder = Finder(tables)
        self.bits = {
            (line, job.node, job.plus): job.bit
            for line, row in enumerate(tables.lines)
            for job in row.jobs
        }

    def root(self, reach: Reach) -> State:
        """The place where nothing is decided."""
        lines, every = self.tables.lines, self.tables.every
        tracks = tuple((None,) * line.places if line.places > 1 else () for line in lines)
        figures = self.gauge.figures(reach, every)
        return State(figures, reach, every, (0,) * len(lines), frozenset(), tracks)

    def moves(self, state: State) -> tuple[Move, ...]:
        """What can be decided next; nothing where nothing clashes."""
        return self.finder.moves(state, self.gauge.instants(state.reach))

    def children(self, state: State, barred: int = 0) -> list[State] | None:
        """The places one decision further on, best first; None when nothing clashes.

        Args:
            state: the place.
            barred: the bits of jobs that cannot be the last of their pool.
        """
        moves = self.moves(state)
        if not moves:
            return None
        found = [child for move in moves if (child := self._child(state, move, barred)) is not None]
        measured = [self.measured(child) for child in found]
        return sorted(measured, key=lambda child: child.figures)

    def _child(self, state: State, move: Move, barred: int) -> State | None:
        if isinstance(move, Last) and move.job.bit & barred:
            return None
        return self.apply(state, move)

    def measured(self, state: State) -> State:
        """The same place with its own figures."""
        return state._replace(figures=self.gauge.figures(state.reach, state.left, state.figures))

    def apply(self, state: State, move: Move) -> State | None:
        """The place after a decision, with the figures of the one before; None if it cannot be."""
        if isinstance(move, Last):
            return self._last(state, move)
        if isinstance(move, Order):
            return self._order(state, move)
        return self._run(state, move)

    def _last(self, state: State, move: Last) -> State | None:
        line, job, _, place = move
        left = state.left & ~job.bit
        others = [other for other in self.tables.lines[line].jobs if other.bit & left]
        if place is None:
            reach = state.reach.after(job.node, _before(others, job))
            return None if reach is None else self._decided(state, reach, move, state.tracks)
        ends = tuple((o.node, o.plus + o.length - job.plus - job.length) for o in others)
        reach = state.reach.after(job.node, ends)
        after, tracks = state.tracks[line][place], state.tracks[line]
        if after is not None and reach is not None:
            reach = reach.after(after.node, _before([job], after))
        now = (*tracks[:place], job, *tracks[place + 1 :])
        if reach is not None and not self.finder.leans(state, line, job) & left:
            reach = self._floored(reach, now, others)
        every = (*state.tracks[:line], now, *state.tracks[line + 1 :])
        return None if reach is None else self._decided(state, reach, move, every)

    def _decided(self, state: State, reach: Reach, move: Last, tracks: tuple[Tracks, ...]) -> State:
        line, job = move.line, move.job
        left = state.left & ~job.bit
        lean = state.leans[line] | self.tables.needs[job.node]
        leans = (*state.leans[:line], lean, *state.leans[line + 1 :])
        ties = state.ties
        if ties:
            ties = frozenset(tie for tie in ties if tie[1] & left or tie[0] < 0)
        return State(state.figures, reach, left, leans, ties, tracks)

    def _floored(self, reach: Reach, tracks: Tracks, others: list[Job]) -> Reach | None:
        """Keep the open jobs of a pool before the first of its places that is free."""
        at = self.gauge.instants(reach)
        jobs = [job for job in tracks if job is not None]
        if len(jobs) < len(tracks):
            return reach
        first = max(jobs, key=lambda job: at[job.node] + job.plus)
        return reach.after(first.node, _before(others, first))

    def _order(self, state: State, move: Order) -> State | None:
        after = move.after
        arcs = tuple((t.node, t.plus + t.length - after.plus) for t in move.before)
        reach = state.reach.after(after.node, arcs)
        if reach is None:
            return None
        bit = self._bit(move.line, after)
        ties = state.ties | {(self._bit(move.line, task), bit) for task in move.before}
        return state._replace(reach=reach, ties=ties)

    def _bit(self, line: int, task: Task) -> int:
        return self.bits.get((line, task.node, task.plus), 0)

    def _run(self, state: State, move: Run) -> State | None:
        choice, bit = self.net.choices[move.choice], self.tables.choices[move.choice]
        (a, b), bounds = choice.runs[move.run], self.net.bounds[choice.machine]
        first, last = bounds[a], bounds[b + 1]
        arcs = ((first.node, first.plus - choice.start.plus),)
        reach = state.reach.after(choice.start.node, arcs)
        if reach is not None:
            reach = reach.after(last.node, ((choice.end.node, choice.end.plus - last.plus),))
        if reach is None:
            return None
        return state._replace(
            reach=reach, left=state.left & ~bit, ties=state.ties | {(-bit, move.run)}
        )


def _before(jobs: list[Job], after: Job) -> tuple[tuple[int, int], ...]:
    """Arcs into the node of a job that let others take its place before it."""
    return tuple((job.node, job.plus + job.length - after.plus) for job in jobs)
