"""When a cue rings: repetition, urgency, quiet times, and many alarms at once."""

import math
import random
from itertools import pairwise

import pytest

from passbell.sound.pattern import (
    KINDS,
    SHORTEST_GAP,
    Alarm,
    Kind,
    Ring,
    next_ring,
    ring_due,
)
from passbell.sound.ringer import Ringer
from passbell.sound.wavfile import NAMES

DAY = 86_400.0


def rings(kind: Kind, at: float, count: int) -> list[Ring]:
    """The first rings of an alarm nobody acknowledges."""
    alarm, found, after = Alarm("a", kind, at), [], None
    for _ in range(count):
        ring = next_ring(alarm, after)
        if ring is None:
            break
        found.append(ring)
        after = ring.at
    return found


@pytest.mark.parametrize("at", [0.0, 1234.567, 10 * DAY + 0.1])
def test_a_cue_rings_every_25_s_and_from_a_minute_late_quicker(at: float) -> None:
    found = rings("do_it", at, 7)
    assert [ring.at - at for ring in found] == pytest.approx([0, 25, 50, 60, 72.5, 85, 97.5])
    assert [ring.wav for ring in found] == [
        "do_it_1",
        "do_it_2",
        "do_it_3",
        *["late_3"] * 4,
    ]


def test_a_probe_keeps_its_rhythm_until_it_is_late() -> None:
    assert [ring.wav for ring in rings("probe", 5, 4)] == [
        "probe_1",
        "probe_2",
        "probe_3",
        "late_3",
    ]


def test_what_is_given_as_late_rings_as_late() -> None:
    assert [ring.wav for ring in rings("late", 5, 3)] == ["late_1", "late_2", "late_3"]


def test_soon_rings_once_softly() -> None:
    assert rings("soon", 100, 5) == [Ring(100, "soon", 1)]


def test_urgency_never_drops_and_every_sound_exists() -> None:
    for kind in KINDS:
        found = rings(kind, 77.7, 40)
        speeds = [ring.speed for ring in found]
        assert speeds == sorted(speeds)
        assert {ring.wav for ring in found} <= set(NAMES)


def test_missed_rings_are_one_ring_with_the_urgency_of_now() -> None:
    alarm = Alarm("a", "do_it", 100)
    assert ring_due(alarm, None, 99.9) is None
    assert ring_due(alarm, None, 100) == Ring(100, "do_it", 1)
    assert ring_due(alarm, None, 100 + 3600) == Ring(3700, "late", 3)
    assert ring_due(alarm, 100, 124.9) is None
    assert ring_due(alarm, 100, 130) == Ring(130, "do_it", 2)


def test_a_soon_that_moves_on_is_not_told_every_few_seconds() -> None:
    """As a cue does whose time rests on something overdue; put off a minute it is told again."""
    rung, told = None, []
    for now in range(100, 400):
        moving = Alarm("a", "soon", now - now % 5)
        if ring_due(moving, rung, now):
            rung = float(now)
            told.append(now)
    assert all(later - sooner >= 59 for sooner, later in pairwise(told))
    assert ring_due(Alarm("a", "soon", 160), 100.0, 160) == Ring(160, "soon", 1)


def test_a_soon_missed_by_a_minute_is_dropped() -> None:
    alarm = Alarm("a", "soon", 100)
    assert ring_due(alarm, None, 159) == Ring(159, "soon", 1)
    assert ring_due(alarm, None, 160) is None


def test_two_rings_of_one_cue_are_never_close() -> None:
    alarm = Alarm("a", "do_it", 0)
    for tenths in range(2000):
        after = tenths / 10
        ring = next_ring(alarm, after)
        assert ring
        assert ring.at >= after + SHORTEST_GAP - 0.01


def test_a_ring_is_never_waited_for_longer_than_25_s() -> None:
    pick = random.Random(3)
    for _ in range(500):
        at, age = pick.uniform(0, 30 * DAY), pick.uniform(0, 4000)
        ring = next_ring(Alarm("a", "probe", at), at + age)
        assert ring
        assert ring.at - (at + age) <= (12.5 if age >= 60 else 25) + SHORTEST_GAP


class TestRinger:
    def test_alarms_of_one_kind_share_a_sound_and_the_most_pressing_kind_is_first(self) -> None:
        ringer = Ringer()
        for key, kind in (("a", "soon"), ("b", "do_it"), ("c", "probe"), ("d", "do_it")):
            ringer.arm(Alarm(key, kind, 100))  # type: ignore[arg-type]
        turns = [ringer.take(100), ringer.take(100), ringer.take(100)]
        assert [(turn.ring.wav, turn.ids) for turn in turns if turn] == [
            ("probe_1", ("c",)),
            ("do_it_1", ("b", "d")),
            ("soon_1", ("a",)),
        ]
        assert ringer.take(100) is None

    def test_the_quickest_of_one_kind_is_taken(self) -> None:
        ringer = Ringer()
        ringer.arm(Alarm("new", "do_it", 100))
        ringer.arm(Alarm("old", "do_it", 70))
        turn = ringer.take(100)
        assert turn
        assert turn.ring.wav == "do_it_2"

    def test_after_a_sleep_everything_overdue_is_one_sound(self) -> None:
        ringer = Ringer()
        kinds: tuple[Kind, ...] = ("do_it", "probe", "soon", "do_it")
        for number, kind in enumerate(kinds):
            ringer.arm(Alarm(str(number), kind, 100.0 + number))
        turn = ringer.take(3700)
        assert turn
        assert (turn.ring.wav, turn.ids) == ("late_3", ("0", "1", "3"))
        assert ringer.take(3700) is None

    def test_acknowledging_one_silences_that_one(self) -> None:
        ringer = Ringer()
        ringer.arm(Alarm("a", "do_it", 0))
        ringer.arm(Alarm("b", "do_it", 0))
        ringer.take(0)
        ringer.cancel("a")
        ringer.cancel("never there")
        turn = ringer.take(30)
        assert turn
        assert turn.ids == ("b",)

    def test_a_moved_alarm_rings_anew_and_one_armed_as_rung_does_not(self) -> None:
        ringer = Ringer()
        ringer.arm(Alarm("a", "do_it", 0))
        ringer.take(0)
        ringer.arm(Alarm("a", "do_it", 3))
        assert ringer.take(3)
        ringer.arm(Alarm("b", "do_it", 3), rung=3)
        assert ringer.take(3) is None
        assert ringer.wake() == 28

    def test_muted_rings_nothing_and_what_was_missed_afterwards(self) -> None:
        ringer = Ringer()
        ringer.arm(Alarm("a", "do_it", 10))
        ringer.muted = True
        assert ringer.take(20) is None
        assert ringer.wake() is None
        ringer.muted = False
        assert ringer.take(20)

    def test_quiet_holds_ordinary_cues_back_but_no_probe_and_nothing_late(self) -> None:
        ringer = Ringer()
        ringer.quiet_until = 90
        for kind in KINDS:
            ringer.arm(Alarm(kind, kind, 10))
        heard = {}
        for now in range(100):
            while turn := ringer.take(now):
                heard.update({key: now for key in turn.ids if key not in heard})
        assert heard == {"probe": 10, "late": 10, "do_it": 70}  # 60 s past due it is late

    def test_what_quiet_held_back_rings_when_it_ends(self) -> None:
        ringer = Ringer()
        ringer.quiet_until = 40
        ringer.arm(Alarm("a", "do_it", 10))
        assert ringer.wake() == 40
        assert ringer.take(39.9) is None
        assert ringer.take(40)

    def test_wake_is_never_later_than_the_next_sound(self) -> None:
        """Against brute force: stepping a tenth at a time finds nothing before `wake`."""
        pick = random.Random(11)
        for _ in range(15):
            ringer, now = Ringer(), 0.0
            ringer.quiet_until = pick.uniform(0, 90)
            for key in range(3):
                ringer.arm(Alarm(str(key), pick.choice(KINDS), pick.uniform(0, 60)))
            for _ in range(1000):
                wake = ringer.wake()
                found = ringer.take(now)
                if found:
                    assert wake is not None
                    assert wake <= now
                elif wake is not None:
                    assert wake > now
                now += 0.1

    def test_a_pointless_soon_wakes_nobody(self) -> None:
        ringer = Ringer()
        ringer.arm(Alarm("a", "soon", 0))
        assert ringer.take(1000) is None
        assert ringer.wake() is None

    def test_a_ring_elsewhere_is_noted_for_what_is_armed_only(self) -> None:
        ringer = Ringer()
        ringer.arm(Alarm("a", "do_it", 0))
        ringer.note("a", 0)
        ringer.note("gone", 0)
        assert ringer.rung("a") == 0
        assert ringer.rung("gone") is None
        assert math.isclose(ringer.wake() or 0, 25)
