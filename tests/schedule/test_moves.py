"""What counts as certain when the last job of a pool is looked for."""

from passbell.plan.model import Plan
from passbell.schedule import problem_of
from passbell.schedule.branch import Brancher
from passbell.schedule.moves import Order
from passbell.schedule.net import Task, net_of
from passbell.schedule.reach import reach_of
from passbell.schedule.state import Gauge, State
from passbell.schedule.tables import tables_of


def test_a_job_that_must_come_before_an_open_one_is_not_certain() -> None:
    """Where the other is pushed earlier it is pushed too: it rules nothing out."""
    dishes = [
        {"name": f"dish {n}", "steps": [{"finish": "plate", "time": "5 min"}]} for n in range(3)
    ]
    plan = Plan.of({"title": "invented", "serves": 2, "hands": 2, "component": dishes})
    net = net_of(problem_of(plan), {})
    reach = reach_of(net)
    assert reach is not None
    tables = tables_of(net, reach)
    brancher = Brancher(tables, Gauge(tables, None, table_first=False))
    root, jobs = brancher.root(reach), tables.lines[0].jobs
    first, second, _ = (Task(job.node, job.plus, job.length) for job in jobs)
    tied = brancher.apply(root, Order(0, (first,), second))
    assert tied is not None

    def firm(state: State) -> list[bool]:
        return [brancher.finder._firm(state, 0, job, state.tied) for job in jobs]

    assert firm(root) == [True, True, True]
    assert firm(tied) == [False, True, True]
