"""Runs read back from the journal: as planned and as cooked, to the second."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from passbell.cook.state import CookState
from passbell.journal import Entry, Journal
from passbell.session.runs import UnreadableRun, finished_runs, load_run
from tests.session.kitchen import TEXT, cook_it


@pytest.fixture(scope="module")
def cooked(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Journal, int, CookState]]:
    """One cook with readings, its plan file gone since, and what was said about it."""
    home = tmp_path_factory.mktemp("home")
    file = home / "thighs.toml"
    file.write_text(TEXT, encoding="utf-8")
    said: tuple[tuple[str, int | None], ...]
    said = (("turned out: over", 1), ("a little salty", 1), ("next time: less", None))
    said += (("yield: 4 plates", None), ("leftovers: none", None), ("windy", None))
    with Journal.open(home) as journal:
        session = cook_it(journal, file, "2300 thighs 70C\n2400 thighs 76C\n", said)
        file.unlink()
        assert session.record is not None
        yield journal, session.record.run, session.state


Cooked = tuple[Journal, int, CookState]


def test_a_run_keeps_in_out_readings_openings_and_words_without_anything_written(
    cooked: Cooked,
) -> None:
    kept = load_run(cooked[0], cooked[1])
    thighs, beans = kept.account.components
    assert (thighs.planned_in, thighs.planned_out) == (600, 2400)
    assert (thighs.went_in, thighs.came_out) == (600, 2400)
    assert (thighs.heat_time, thighs.planned_heat_time) == (1800, 1800)
    assert [(r.at, r.shown, r.scale) for r in thighs.readings] == [(2300, 70, "C"), (2400, 76, "C")]
    assert thighs.verdict == "met"
    assert thighs.doneness == "juices run clear"
    assert thighs.opened == (600, 1500, 1980, 2300, 2400)
    assert (beans.score, beans.notes) == ("over", ("a little salty",))
    assert kept.account.change == "less"
    assert kept.account.made == "4 plates"
    assert kept.account.leftovers == "none"
    assert kept.account.notes == ("windy",)
    oven = kept.account.appliances[0]
    assert (oven.planned_on, oven.planned_ready, oven.on, oven.ready) == (0, 600, 0, 600)
    assert kept.source.plan_text == TEXT
    assert kept.plan.components[0].name == "thighs"
    assert not kept.source.rehearsal


def test_acts_within_a_minute_at_one_appliance_are_one_opening(cooked: Cooked) -> None:
    found = load_run(cooked[0], cooked[1]).account.openings
    assert [(o.at, o.acts) for o in found] == [
        (600, ("thighs in",)),
        (1500, ("thighs: turn",)),
        (1980, ("green beans in",)),
        (2300, ("thighs: probed",)),
        (2400, ("thighs: probed", "thighs out")),
        (2700, ("green beans out",)),
    ]


def test_the_recorded_instants_are_the_sessions_own(cooked: Cooked) -> None:
    kept, state = load_run(cooked[0], cooked[1]), cooked[2]
    assert kept.account.served == state.served
    assert [[(s.start, s.end) for s in c.steps] for c in kept.account.components] == [
        [(s.began, s.ended) for s in row] for row in state.steps
    ]


def test_what_cannot_be_told_says_so_and_stays(cooked: Cooked) -> None:
    journal = cooked[0]
    meta = journal.run(cooked[1]).meta
    odd = journal.new_run(replace(meta, plan_text="title = 3"))
    strange = journal.new_run(meta)
    journal.append(strange, Entry(0, 0, 0.0, "x", "", ('{"type": "flew"}',)))
    nothing = journal.new_run(meta)
    says = {odd: "the plan kept with run", strange: "Another version", nothing: "start"}
    for run, words in says.items():
        journal.finish(run, 0, "finished")
        with pytest.raises(UnreadableRun, match=words):
            load_run(journal, run)
    assert [k.source.run for k in finished_runs(journal)] == [cooked[1]]
    assert len(journal.runs()) == 4
