"""What a key says of the cue shown and of what was told: seen, done, taken back, still unread."""

from tests.tui.live_kitchen import Kitchen


def test_any_key_stops_the_sound_of_the_cue_shown(kitchen: Kitchen) -> None:
    kitchen.press("silence")
    assert kitchen.view.cards[0].lines[0].standing == "seen"


def silent(kitchen: Kitchen) -> list[bool]:
    """Whether the cues that are due have been seen."""
    return [known.seen for _, known in kitchen.session.state.cues]


def commands(kitchen: Kitchen) -> list[str]:
    return [line.words.split()[0] for line in kitchen.session.state.log]


def test_a_cue_that_done_performs_needs_no_word_that_it_was_seen(kitchen: Kitchen) -> None:
    assert kitchen.press("done").session.state.steps[0][0].began == 1
    assert commands(kitchen) == ["begun:"]


def test_a_cue_that_done_does_not_perform_is_seen(kitchen: Kitchen) -> None:
    kitchen.press("longer").press("done")
    assert kitchen.view.pending is None
    assert commands(kitchen)[0] == "seen"
    assert silent(kitchen)[0]


def test_a_done_taken_back_leaves_the_cue_as_silent_as_it_was(kitchen: Kitchen) -> None:
    before = kitchen.session.state.cues[0]
    assert not before[1].seen
    kitchen.press("done").press("take_back")
    after = kitchen.session.state.cues[0]
    assert (after[0], after[1].since, after[1].seen) == (before[0], before[1].since, True)
    assert kitchen.session.state.steps[0][0].began is None


def test_what_was_told_just_before_the_end_is_still_unread(kitchen: Kitchen) -> None:
    kitchen.press("done")
    kitchen.clock.sleep(1200)
    kitchen.desk.press("silence")
    told = kitchen.desk.tick().notices
    assert told[0].startswith("The computer slept 20:00")
    kitchen.wait(1)
    kitchen.desk.close()
    assert kitchen.desk.unread() == told


def test_what_was_told_long_before_the_end_has_been_read(kitchen: Kitchen) -> None:
    kitchen.clock.sleep(1200)
    assert kitchen.desk.tick().notices
    kitchen.wait(3).wait(3)
    kitchen.desk.close()
    assert kitchen.desk.unread() == ()


def test_what_takes_two_presses_is_begun_and_then_done(kitchen: Kitchen) -> None:
    kitchen.to(8 * 60)
    told = [line.words for line in kitchen.session.state.log if "PREPARE" in line.words]
    assert told[:2] == ["begun: PREPARE carrots — peel", "done: PREPARE carrots — peel"]
