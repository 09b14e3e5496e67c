"""The sound process by itself: what it answers, what comes out, and what it does when alone."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

from passbell.sound.bell import Bell, Voice
from passbell.sound.child import RING_ON, SoundProcess
from passbell.sound.folders import own_sounds
from passbell.sound.pidfile import silence_orphan
from passbell.sound.ticks import ticks
from passbell.sound.wavfile import read_wav
from tests.sound.helpers import MakeTalk, Speaker, Talk, alive, until, write_player


def test_simpleaudio_is_here_and_proves_itself(talk: Talk) -> None:
    assert talk.news == [f"hello {talk.process.pid}", "proving simpleaudio", "player simpleaudio"]


def test_the_samples_that_come_out_are_those_of_the_file(talk: Talk, speaker: Speaker) -> None:
    names = ["do_it_1", "probe_3", "late_2"]
    for count in range(len(names)):
        assert talk.ask(f"play {names[count]}") == "ok play"
        assert until(lambda: len(speaker.samples()) > count)  # noqa: B023 - called at once
    files = [own_sounds() / f"{name}.wav" for name in names]
    assert speaker.samples() == [read_wav(path).frames for path in files]


def test_every_line_has_one_answer(talk: Talk) -> None:
    wrong = (
        "",
        "dance",
        "play",
        "play nothing",
        "arm a do_it",
        "arm a dance 1 -",
        "arm a soon x -",
    )
    for line in (*wrong, "cancel", "quiet soon"):
        assert talk.ask(line).startswith("no "), line
    for line in ("ping", "cancel =never", "mute on", "mute off", "quiet 12.5", "arm =a soon 9e9 -"):
        assert talk.ask(line) == f"ok {line.split()[0]}"
    talk.send("quit")
    assert talk.line() == "ok quit"
    assert talk.process.wait(2) == 0


def test_a_deadline_is_kept_to_the_hundredth(talk: Talk, speaker: Speaker) -> None:
    due = ticks() + 0.4
    talk.arm("=a", "probe", 0.4)
    _, _, at, key = talk.wait_for("rang").split(" ")
    assert key == "=a"
    assert -0.001 <= float(at) - due < 0.1
    assert until(lambda: speaker.heard() == ["probe_1"])


def test_what_rang_before_the_process_was_replaced_goes_on_where_it_was(
    talk: Talk, speaker: Speaker
) -> None:
    talk.arm("=a", "do_it", -24.9, rung=-24.9)
    began = ticks()
    talk.wait_for("rang")
    assert ticks() - began < 3
    assert until(lambda: speaker.heard() == ["do_it_2"])


def test_a_sleep_over_several_deadlines_ends_in_one_sound(talk: Talk, speaker: Speaker) -> None:
    """A stopped process stands in for a computer that sleeps: it wakes to one late look."""
    last = ticks() + 1.0
    for key, due in (("=a", last - 0.2), ("=b", last - 0.1), ("=c", last)):
        assert talk.ask(f"arm {key} do_it {due!r} -") == "ok arm"
    os.kill(talk.process.pid, signal.SIGSTOP)
    assert until(lambda: ticks() > last)
    os.kill(talk.process.pid, signal.SIGCONT)
    assert talk.wait_for("rang").split(" ")[3:] == ["=a", "=b", "=c"]
    assert until(speaker.heard)
    assert speaker.heard() == ["do_it_1"]


def test_two_kinds_at_once_are_heard_one_after_the_other(talk: Talk, speaker: Speaker) -> None:
    due = ticks() + 0.3
    for key, kind in (("=a", "soon"), ("=b", "late")):
        talk.ask(f"arm {key} {kind} {due!r} -")
    first = float(talk.wait_for("rang").split(" ")[2])
    assert until(lambda: speaker.heard() == ["late_1"])
    assert talk.ask("cancel =b") == "ok cancel"  # else the second waits the four seconds of it
    second = float(talk.wait_for("rang").split(" ")[2])
    assert second > first
    assert until(lambda: speaker.heard() == ["late_1", "soon_1"])


def test_muted_and_quiet_hold_back_and_give_back(talk: Talk, speaker: Speaker) -> None:
    talk.ask(f"quiet {ticks() + 60!r}")
    talk.arm("=a", "do_it", 0.1)
    talk.arm("=b", "probe", 0.1)
    assert talk.wait_for("rang").endswith("=b")
    assert until(lambda: speaker.heard() == ["probe_1"])
    talk.ask("mute on")
    talk.ask(f"quiet {ticks()!r}")
    end = ticks() + 0.2
    assert until(lambda: ticks() > end)
    assert speaker.heard() == ["probe_1"]
    talk.ask("mute off")
    assert until(lambda: speaker.heard() == ["probe_1", "do_it_1"])


def test_an_acknowledged_alarm_does_not_ring(talk: Talk, speaker: Speaker) -> None:
    talk.arm("=a", "do_it", 0.6)
    talk.ask("cancel =a")
    talk.arm("=b", "probe", 0.7)
    assert talk.wait_for("rang").endswith("=b")
    assert until(speaker.heard)
    assert speaker.heard() == ["probe_1"]


def test_a_program_that_does_not_listen_holds_nothing(speaker: Speaker) -> None:
    """Twenty thousand answers nobody reads fill the pipe; the alarm behind them rings."""
    command = [sys.executable, "-P", "-m", "passbell.sound.child", "--folder", str(own_sounds())]
    pipe, nowhere = subprocess.PIPE, subprocess.DEVNULL
    env = {**os.environ, "PYTHONMALLOC": "malloc"}
    deaf = subprocess.Popen(command, stdin=pipe, stdout=pipe, stderr=nowhere, env=env)
    with deaf:
        assert deaf.stdin
        deaf.stdin.write(b"ping\n" * 20_000 + f"arm =a do_it {ticks()!r} -\n".encode())
        deaf.stdin.flush()
        try:
            assert until(lambda: speaker.heard() == ["do_it_1"])
        finally:
            deaf.kill()


def test_many_sounds_one_over_another_do_not_end_it(talk: Talk) -> None:
    """Without PYTHONMALLOC=malloc the first of them ends Python 3.12 and later."""
    for _ in range(100):
        assert talk.ask("play soon_3") == "ok play"
    assert talk.ask("ping") == "ok ping"


class TestAlone:
    def test_it_rings_what_is_armed_then_leaves(self, talk: Talk, speaker: Speaker) -> None:
        talk.arm("=a", "soon", 0.4)
        talk.hang_up()
        assert until(lambda: speaker.heard() == ["soon_1"])
        assert talk.process.wait(3) == 0

    def test_with_nothing_armed_it_leaves_at_once(self, talk: Talk) -> None:
        talk.hang_up()
        assert talk.process.wait(2) == 0

    def test_muted_it_leaves(self, talk: Talk) -> None:
        talk.arm("=a", "do_it", 0.3)
        talk.ask("mute on")
        talk.hang_up()
        assert talk.process.wait(2) == 0

    def test_it_does_not_ring_for_ever(self) -> None:
        """Five minutes after its due time nobody will come any more."""
        with Path(os.devnull).open("w") as nowhere:
            voice = Voice(nowhere.fileno())
            process = SoundProcess(Bell([own_sounds()], [], voice), voice, None)
            for key, after in (("now", -5), ("later", 1000)):
                process._obey(["arm", key, "do_it", repr(ticks() + after), "-"])
            process._alone()
            left = []
            for later in (RING_ON - 1, RING_ON + 1, 1000 + RING_ON - 1, 1000 + RING_ON + 1):
                process._give_up(ticks() + later)
                left.append(set(process._ringer.alarms))
        assert left == [{"now", "later"}, {"later"}, {"later"}, set()]

    def test_a_later_start_can_end_it(
        self, talks: MakeTalk, speaker: Speaker, tmp_path: Path
    ) -> None:
        path = tmp_path / "deep" / "sound.pid"
        talk = talks("--pid-file", str(path))
        assert path.read_text() == f"{talk.process.pid}\n"
        talk.arm("=a", "do_it", 0.1)
        talk.wait_for("rang")
        assert not silence_orphan(path)  # its program lives: it is nobody's orphan
        assert talk.ask("ping") == "ok ping"
        talk.hang_up()
        assert until(lambda: "orphan" in path.read_text())
        assert silence_orphan(path)
        assert talk.process.wait(2) == 0
        assert not silence_orphan(path)

    def test_even_one_that_hangs(self, talks: MakeTalk, speaker: Speaker, tmp_path: Path) -> None:
        path = tmp_path / "sound.pid"
        talk = talks("--pid-file", str(path))
        talk.arm("=a", "do_it", 60)
        talk.hang_up()
        assert until(lambda: "orphan" in path.read_text())
        os.kill(talk.process.pid, signal.SIGSTOP)
        assert silence_orphan(path)
        assert talk.process.wait(2) == -signal.SIGKILL

    def test_a_signal_of_the_terminal_does_not_end_it(self, talk: Talk) -> None:
        for number in (signal.SIGINT, signal.SIGHUP):
            os.kill(talk.process.pid, number)
        assert talk.ask("ping") == "ok ping"
        os.kill(talk.process.pid, signal.SIGTERM)
        assert talk.process.wait(2) == 0


class TestPlayers:
    def test_without_simpleaudio_a_program_plays_the_file(
        self, talks: MakeTalk, programs: Path
    ) -> None:
        log = programs / "log"
        write_player(programs, "paplay", "exit 1")
        write_player(programs, "aplay", f'echo "$@" >> {log}')
        talk = talks()
        assert talk.news[-1] == "player aplay"
        assert "failed simpleaudio it is not installed" in talk.news
        assert "failed paplay it ended with 1" in talk.news
        assert "failed pw-play it is not installed" in talk.news
        assert talk.ask("play late_3") == "ok play"
        assert until(lambda: log.read_text().count("\n") == 2)
        assert log.read_text().splitlines()[1] == f"-q {own_sounds() / 'late_3.wav'}"

    def test_a_program_that_fails_later_is_followed_by_the_next(
        self, talks: MakeTalk, programs: Path
    ) -> None:
        log = programs / "log"
        write_player(programs, "paplay", 'case "$1" in *silence*) exit 0;; esac; exit 3')
        write_player(programs, "pw-play", f'echo "$@" >> {log}')
        talk = talks()
        assert talk.news[-1] == "player paplay"
        talk.arm("=a", "do_it", 0)
        assert talk.wait_for("player") == "news player pw-play"
        assert "failed paplay it ended with 3" in talk.news
        assert until(lambda: "do_it_1" in log.read_text())

    def test_a_program_that_does_not_end_proves_nothing(
        self, talks: MakeTalk, programs: Path
    ) -> None:
        write_player(programs, "paplay", "exec /bin/sleep 20")
        began = time.perf_counter()
        talk = talks()
        assert talk.news[-2:] == ["failed afplay it is not installed", "player none"]
        assert "failed paplay it does not end" in talk.news
        assert time.perf_counter() - began < 15
        assert talk.ask("play do_it_1").startswith("no play")
        talk.hang_up()
        assert talk.process.wait(2) == 0

    def test_acknowledging_ends_the_program_at_once(self, talks: MakeTalk, programs: Path) -> None:
        numbers = programs / "numbers"
        script = f'case "$1" in *silence*) exit 0;; esac; echo $$ > {numbers}; exec /bin/sleep 20'
        write_player(programs, "paplay", script)
        talk = talks()
        talk.arm("=a", "do_it", 0)
        talk.wait_for("rang")
        assert until(lambda: numbers.exists() and numbers.read_text().strip())
        player = int(numbers.read_text())
        assert alive(player)
        talk.ask("cancel =other")
        assert alive(player)
        talk.ask("cancel =a")
        assert not alive(player)

    def test_a_player_that_is_to_be_left_out_is(
        self, talks: MakeTalk, speaker: Speaker, programs: Path
    ) -> None:
        write_player(programs, "aplay", "exit 0")
        talk = talks("--skip", "simpleaudio", "--skip", "paplay")
        assert talk.news[-1] == "player aplay"
        assert not any("simpleaudio" in line for line in talk.news)
