"""What the only pair of hands, and all that is under way, cost the rest of a meal at least.

Food on the heat, appliances that warm up and slack are kept as the earliest start, and as the
least time to the dish-up, of the work by hand that belongs to them; that work is then done one
piece at a time, but may be broken off and gone on with at will. Whatever can be done in the real
cook can be done here, so no schedule serves sooner, and none lets its food wait less.
"""

from heapq import heappop, heappush
from typing import NamedTuple

from passbell.schedule.bounds import one_machine
from passbell.schedule.model import Problem, Work

ORDERS = 40
"""So many places are looked at for one answer: about what a search costs that is saved."""
MANY = 6
"""With more first pieces than this their orders are too many."""

Chain = tuple[Work, ...]
Piece = tuple[int, int, int]
"""Work by hand: its earliest start, its length, and from its end to the dish-up at least."""


class Claim(NamedTuple):
    """The first work by hand after the last time on the heat of food that has yet to go on it.

    Attributes:
        length: how long it takes, in seconds.
        tail: from its end to the dish-up, at least, in seconds.
        after: from its start to the dish-up where its food does not wait, in seconds.
    """

    length: int
    tail: int
    after: int


class Hands(NamedTuple):
    """What is left of a meal, as the only pair of hands sees it.

    Attributes:
        path: when all could be finished, were there hands for everything.
        others: the work by hand that lets no food wait that is yet to go on the heat.
        claimed: the work of `claims`.
        claims: the work by hand whose delay lets food wait.
        chains: all of it by component, the first piece first.
    """

    path: int
    others: list[Piece]
    claimed: list[Piece]
    claims: list[Claim]
    chains: list[list[Piece]]


def hands_of(problem: Problem) -> Hands:
    """The work by hand that is left of a meal; where there are more hands, none.

    Args:
        problem: what is left; in each component, what has begun comes first.
    """
    alone = problem.hands == 1
    busy = max(problem.now, busy_until(problem)) if alone else problem.now
    ready = [_ready(problem, index) for index in range(len(problem.machines))]
    found = Hands(problem.now, [], [], [], [])
    path = problem.now
    for chain in problem.works:
        first = next((i for i, w in enumerate(chain) if w.began is None), len(chain))
        at = end_of(chain[first - 1]) if first else 0
        path = max(path, at)
        if first == len(chain):
            continue
        at += chain[first - 1].gap_min if first else 0
        heads = []
        for work in chain[first:]:
            at = max(at, work.release, busy if work.hands else problem.now)
            if work.machine is not None:
                at = max(at, ready[work.machine])
            heads.append(at)
            at += work.time + work.gap_min
        path = max(path, heads[-1] + chain[-1].time)
        if alone:
            _put_in(chain[first:], heads, found)
    return found._replace(path=path)


def _put_in(rest: Chain, heads: list[int], found: Hands) -> None:
    """Put in the work by hand of what is left of one component, the last piece first."""
    tail = after = 0
    pieces: list[Piece] = []
    last: Claim | None = None
    on_heat = False
    for place in range(len(rest) - 1, -1, -1):
        work = rest[place]
        if work.kind == "cook" and not on_heat:
            on_heat = True
            if last is not None:
                found.claimed.append(found.others.pop())
                found.claims.append(last)
        after += work.time
        if work.hands:
            rest_of = tail + work.time - work.hands
            pieces.append((heads[place], work.hands, rest_of))
            found.others.append(pieces[-1])
            last = Claim(work.hands, rest_of, after)
        tail += work.time + (rest[place - 1].gap_min if place else 0)
    if pieces:
        found.chains.append(pieces[::-1])


def busy_until(problem: Problem) -> int:
    """Until when hands are busy with what has begun."""
    ends = [
        min(w.began + w.hands, end_of(w))
        for chain in problem.works
        for w in chain
        if w.began is not None
    ]
    return max(ends, default=0)


def end_of(work: Work) -> int:
    """When a step that has begun ends."""
    assert work.began is not None
    return work.began + work.time if work.ended is None else work.ended


def _ready(problem: Problem, index: int) -> int:
    """When an appliance can take food, whatever the stage."""
    machine, now = problem.machines[index], problem.now
    if machine.bounds or any(
        w.machine == index and w.began is not None for chain in problem.works for w in chain
    ):
        return now
    on = now if machine.on is None else machine.on
    return max(on + machine.preheat, machine.release, now)


def soonest(problem: Problem, hands: Hands) -> int:
    """The dish-up that no schedule betters."""
    found = max(hands.path, problem.serve or 0)
    tasks = [*hands.others, *hands.claimed]
    return max(found, one_machine(tasks)) if tasks else found


def none_sooner(problem: Problem, hands: Hands, table: int) -> bool:
    """Whether no schedule serves before `table`, whichever first piece of work comes first.

    The first pieces of the components that have several left come in some order, and each holds
    the later ones up, with all that follows in their components. So every order is gone through,
    as far as its bound leaves open and `ORDERS` allows.
    """
    if soonest(problem, hands) >= table:
        return True
    several = [chain for chain in hands.chains if len(chain) > 1]
    if not 1 < len(several) <= MANY:
        return False
    alone = [chain[0] for chain in hands.chains if len(chain) == 1]
    return _each_order(several, alone, (table, [ORDERS]))


def _each_order(coming: list[list[Piece]], others: list[Piece], aim: tuple[int, list[int]]) -> bool:
    """Whether every order of the first pieces of what is coming leads to the table's instant.

    Args:
        coming: the components whose first pieces have no order yet.
        others: all other pieces.
        aim: that instant, and how many places may be looked at yet.
    """
    table, budget = aim
    budget[0] -= 1
    if one_machine([*others, *(piece for chain in coming for piece in chain)]) >= table:
        return True
    if len(coming) < 2 or budget[0] <= 0:
        return False
    for place, chain in enumerate(coming):
        end = chain[0][0] + chain[0][1]
        later = [_held_up(other, end) for k, other in enumerate(coming) if k != place]
        if not _each_order(later, [*others, *chain], aim):
            return False
    return True


def _held_up(chain: list[Piece], until: int) -> list[Piece]:
    """The pieces of a component whose first begins no earlier than an instant."""
    head, length, tail = chain[0]
    if head >= until:
        return chain
    whole = length + tail
    return [(max(h, until + whole - n - q), n, q) for h, n, q in chain]


def least_wait(hands: Hands, table: int) -> int:
    """How long food that is yet to go on the heat waits in all, at least, served at `table`.

    Looking back from the table, all other work leaves it the most room when it is done as soon as
    it can be; and in that room going on with what is nearest its end has, at every instant, the
    most pieces done (Schrage 1968, from memory).
    """
    if not hands.claims:
        return 0
    taken = [(table - end, table - begin) for begin, end in _as_soon_as_can_be(hands.others)]
    done = _nearest_first(hands.claims, taken[::-1])
    return max(0, sum(done) - sum(claim.after for claim in hands.claims))


def _as_soon_as_can_be(pieces: list[Piece]) -> list[tuple[int, int]]:
    """When hands that never rest while there is work are busy with it: (from, to)."""
    spans: list[tuple[int, int]] = []
    at = 0
    for head, length, _ in sorted(pieces):
        if head > at or not spans:
            spans.append((head, head + length))
        else:
            spans[-1] = spans[-1][0], at + length
        at = spans[-1][1]
    return spans


def _nearest_first(claims: list[Claim], taken: list[tuple[int, int]]) -> list[int]:
    """When each is done, counted back from the table, going on with what is nearest its end."""
    coming = sorted((claim.tail, claim.length) for claim in claims)[::-1]
    taken = [span for span in taken if span[1] > 0][::-1]
    heap: list[int] = []
    done: list[int] = []
    at = 0
    while coming or heap:
        if not heap:
            at = max(at, coming[-1][0])
        while taken and taken[-1][0] <= at:
            at = max(at, taken.pop()[1])
        while coming and coming[-1][0] <= at:
            heappush(heap, coming.pop()[1])
        until = at + heap[0]
        until = min(until, coming[-1][0]) if coming else until
        until = min(until, taken[-1][0]) if taken else until
        left = heappop(heap) - (until - at)
        at = until
        if left:
            heappush(heap, left)
        else:
            done.append(at)
    return done
