"""The desk of a real cook: keys and typed lines become commands, the state becomes a view."""

import math
from collections.abc import Callable
from typing import Literal

from passbell.awake import KeepAwake
from passbell.clock import local_time
from passbell.cook import commands as cm
from passbell.cook.cards import first_cue, is_due
from passbell.cook.cue import Cue
from passbell.cook.neighbours import on_the_heat
from passbell.cook.replan import meal_slack
from passbell.cook.state import Act, CookState, LogLine
from passbell.cook.whose import NotUnderstood
from passbell.cook.wording import minutes
from passbell.cook.words import change_of_now, read_words
from passbell.session import CookSession
from passbell.session.chances import Chances
from passbell.session.cook import fallen_due
from passbell.session.outlooks import Outlooks
from passbell.sound.board import SoundBoard
from passbell.sound.speech import Speaker
from passbell.tui.desk import Action
from passbell.tui.live_change import Changes
from passbell.tui.live_keys import key_command
from passbell.tui.live_offer import Offers
from passbell.tui.live_openings import Openings
from passbell.tui.live_probe import ProbeDesk
from passbell.tui.live_sound import SoundDesk
from passbell.tui.views.cook import Beside, cook_view, everything
from passbell.tui.views.model import CookView

SETTLED = 0.7
"""Seconds after which a line that has just become first takes Done: a wet double tap marks one."""

ANSWERS = 1.0
"""Seconds after which the system has answered whether it may be kept awake."""

SHOWN_FOR = 60.0
"""Seconds for which what the cook was doing before an interruption stays on the screen."""


READ_IN = 5.0
"""Seconds after which what was told of the cook has been on the screen long enough to be read."""

_NO_WORK = ("away", "back", "seen")
"""The first words of acts that are no work."""


class LiveDesk:
    """The cook in progress behind the screen.

    Args:
        session: the cook.
        board: the bell; None: nothing sounds.
        real: seconds of real time, sleep included, for what happens between two keys.
        awake: keeps the computer from sleeping; None: nothing does.
        speaker: says the line of Now after its sound; None: nothing is spoken.
        silent: kinds of cue that the cook wants to hear only when they are late.
    """

    def __init__(
        self,
        session: CookSession,
        board: SoundBoard | None,
        real: Callable[[], float],
        awake: KeepAwake | None = None,
        speaker: Speaker | None = None,
        silent: frozenset[str] = frozenset(),
    ) -> None:
        self.session = session
        self._sound = SoundDesk(session, board, real, speaker, silent)
        self._real = real
        self._awake = awake
        self._asleep_from = real() + ANSWERS
        self._changes = Changes(session)
        self._probe = ProbeDesk(session, self._pend)
        self._openings = Openings(session)
        self._outlooks = Outlooks()
        self.chances: Chances | None = None
        """Works out the odds of a serving time; None: nothing does."""
        self._offers = Offers(session)
        self._first: tuple[str | None, float] = (None, -SETTLED)
        self._interruption: tuple[tuple[str, ...], float] = ((), 0.0)
        self._said: list[str] = []
        self._given: list[tuple[float, str]] = []
        self._answers: list[str] = []
        self._left = math.inf
        self._shown: tuple[CookState, int, Beside, CookView] | None = None
        self._heads: tuple[CookState, Cue | None] | None = None
        self._take_up()

    def _take_up(self) -> None:
        """Where the cook stood, when it is one that was left; what fell due since, oldest first."""
        before = self.session.resumed_at
        if before is None:
            return
        state = self.session.state
        self.session.tick()
        self.session.notices.extend(fallen_due(state, self.session.state))
        self.interrupted(f"gone on with, since {self._local(before, False)}")

    def tick(self) -> CookView:
        """Move the cook to the present moment and give what is to be shown."""
        self.session.tick()
        now, real = self.session.now(), self._real()
        self._say(self._changes.ripen(real))
        self._watch_first(real)
        self._say(self._sound.ring(now))
        self._watch_sleep(real)
        return self._view(now, self._beside(real))

    def _view(self, now: int, beside: Beside) -> CookView:
        """The view, worked out once for all the looks at the same second of the same state."""
        state, shown = self.session.state, self._shown
        if shown is None or shown[0] is not state or shown[1:3] != (now, beside):
            shown = self._shown = (state, now, beside, cook_view(state, now, beside))
        return shown[3]

    def pause(self) -> float:
        """Real seconds until every figure changes: the next whole second of the cook."""
        return self.session.pause()

    def press(self, action: Action) -> None:
        """Do what a key stands for; what comes of it is in the next view."""
        self._probe.refusal = ""
        if action == "done":
            self._sound.hush()
            self._done()
            return
        self._hush()
        if action in ("longer", "shorter"):
            self._change(60 if action == "longer" else -60)
        elif action == "drop":
            if self._changes.pending is not None:
                self._offers.drop()
            self._changes.drop()
            self._probe.drop()
        elif action == "quiet":
            self._sound.next_quiet()
        elif action == "volume":
            self._answer(self._sound.next_volume())
        elif action == "speak":
            self._answer(self._sound.speak(self.session.now()))
        elif action not in ("silence", "say_all"):
            self._tell(action)

    def choose(self, digit: int) -> bool:
        """Answer a question by its number; False: there is nothing to choose."""
        return self._probe.choose(digit) or self._changes.choose(digit)

    def enter(self, text: str) -> bool:
        """Judge a line typed into the probe box; False: refused, the view says why."""
        self._hush()
        return self._probe.enter(text)

    def ask(self, kind: Literal["serve_at", "note", "display"], text: str) -> bool:
        """Enter the text of a one-line question; False: refused, the view says why."""
        if kind == "display":
            return self._probe.enter(text if ":" in text else f"heat {text}")
        if kind == "note":
            return self._probe.enter(f"note {text}")
        try:
            command = read_words(
                f"serve {text}", self.session.state, serve_in=self.session.serve_in
            )
        except NotUnderstood as error:
            self._probe.refusal = str(error)
            return False
        self._pend(command)
        return True

    def _pend(self, command: cm.Command) -> None:
        """Show a typed change before it is taken; another serving time waits for Done."""
        self._changes.open(command, self._real(), waits=isinstance(command, cm.ServeAt))

    def select(self, row: int | None) -> None:
        """Select a component by its place in file order, or none."""
        self._probe.select(row)

    def bells(self) -> int:
        """How many times the terminal bell is to ring now."""
        return self._sound.take_bells()

    def everything(self) -> tuple[str, ...]:
        """What is in and since when, the next three acts, what is still raw."""
        return everything(self.session.state, self.session.now(), self._local)

    def leave(self) -> str:
        """What is on the heat now, as a question before quitting; empty: nothing is."""
        state = self.session.state
        hot = [
            c.name for i, c in enumerate(state.plan.components) if on_the_heat(state, i) is not None
        ]
        if not hot or state.served is not None:
            return ""
        verb = "is" if len(hot) == 1 else "are"
        return f"{', '.join(hot)} {verb} on the heat. The cook can be resumed. Quit?"

    def interrupted(self, why: str) -> None:
        """Show where the cook was before an interruption."""
        state, now = self.session.state, self.session.now()
        last = was_doing(state)
        lines = [why]
        if last is not None:
            lines.append(f"you were: {last.words}, {minutes(now - last.at)} ago")
        cue = first_cue(state)
        if cue is not None and is_due(state, cue):
            lines.append(f"due now: {cue.text}")
        self._interruption = (tuple(lines), self._real())

    def close(self) -> None:
        """Let go of the cook; it can be resumed where it stood, and what is armed rings on."""
        self._outlooks.close()
        if self.chances is not None:
            self.chances.close()
        if self._awake is not None:
            self._awake.stop()
        self._sound.close(ring_on=bool(self.leave()))
        self._left = self._real()

    def unread(self) -> tuple[str, ...]:
        """What was told too short before the end to be read, such as what fell due in a sleep."""
        given = tuple(text for at, text in self._given if self._left - at < READ_IN)
        return (*given, *self.session.notices)

    def _done(self) -> None:
        """Done; a cue that it did not perform has been seen all the same.

        What is done needs no word that it was seen: that would be one more wait for the disk.
        """
        real = self._real()
        if self._changes.pending is not None:
            self._hush()
            self._answer(self._changes.take())
            return
        self._watch_first(real)
        cue = first_cue(self.session.state)
        if cue is None:
            self._answer("nothing is left to do")
        elif real - self._first[1] < SETTLED:
            self._hush()
        else:
            self._interruption = ((), 0.0)
            refusal = self.session.tell(cm.Done(cue=cue.key.id))
            if refusal is not None:
                self._hush()
            self._answer(refusal)
            self._watch_first(self._real())

    def _change(self, by: int) -> None:
        state, selected = self.session.state, self._probe.selected
        offered = self._offers.taken_up(by, selected, self._probe.box().shown)
        if offered is not None and self._changes.pending is None:
            self._changes.open(offered, self._real(), waits=True)
            return
        try:
            command = (
                cm.ExtendStep(component=selected, by=by)
                if selected is not None
                else change_of_now(state, by)
            )
        except NotUnderstood as error:
            self._answer(str(error))
            return
        self._answer(self._changes.grow(command, self._real()))

    def _tell(self, action: Action) -> None:
        try:
            command = self._command(action)
        except NotUnderstood as error:
            self._answer(str(error))
            return
        last = self.session.state.last_act
        refusal = self.session.tell(command)
        self._answer(refusal)
        if refusal is None and isinstance(command, cm.TakeBack):
            self._stay_silent(last)
        elif refusal is None and isinstance(command, cm.Away):
            self._interruption = ((), 0.0)
        elif refusal is None and isinstance(command, cm.Back):
            self.interrupted("back in the kitchen")

    def _stay_silent(self, last: Act | None) -> None:
        """The cue that Done was taken back of was seen, though only Done was told."""
        cue = first_cue(self.session.state)
        if last is not None and cue is not None and cue.key.id == last.cue:
            self._hush()

    def _command(self, action: Action) -> cm.Command:
        if action == "together":
            return self._openings.shown()
        return key_command(action, self.session.state, self._probe.selected)

    def _hush(self) -> None:
        """Any key stops the sound of the cue shown."""
        self._sound.hush()
        cue = first_cue(self.session.state)
        if cue is not None and is_due(self.session.state, cue):
            known = self.session.state.cue(cue.key.id)
            if known is not None and not known.seen and not cue.silent:
                self.session.tell(cm.Seen(cue=cue.key.id))

    def _watch_first(self, real: float) -> None:
        state = self.session.state
        if self._heads is None or self._heads[0] is not state:
            self._heads = (state, first_cue(state))
        cue = self._heads[1]
        first = cue.key.id if cue is not None else None
        if first != self._first[0]:
            self._first = (first, real if self._first[0] is not None else -SETTLED)

    def _watch_sleep(self, real: float) -> None:
        """Say once when the computer may fall asleep under the cook."""
        if self._awake is not None and real >= self._asleep_from:
            self._say(self._awake.refused())
            self._asleep_from = math.inf

    def _say(self, text: str | None) -> None:
        if text:
            self._said.append(text)

    def _answer(self, text: str | None) -> None:
        """Say why a key did nothing, or what it did, until the next key."""
        if text:
            self._answers.append(text)

    def _local(self, at: int, seconds: bool) -> str:
        return local_time(self.session.utc_at(at), seconds=seconds)

    def _beside(self, real: float) -> Beside:
        lines, since = self._interruption
        said, self._said = self._said, []
        answers, self._answers = self._answers, []
        notices = [*self.session.notices, *said, *answers]
        self._given = [(at, text) for at, text in self._given if real - at < READ_IN]
        self._given.extend((real, text) for text in self.session.notices)
        self.session.notices.clear()
        if self.session.record is not None and self.session.record.trouble:
            notices.append(self.session.record.trouble)
        outlooks = self._outlooks.look(self.session.state)
        return Beside(
            local=self._local,
            probe=self._probe.box(),
            pending=self._changes.view(real),
            fresh=self._first[0] if real - self._first[1] < SETTLED else None,
            interruption=lines if real - since < SHOWN_FOR else (),
            notices=tuple(notices),
            answers=tuple(answers),
            sound=self._sound.trouble,
            volume=self._sound.volume,
            quiet=self._sound.quiet,
            speed=self.session.speed,
            flash=self._sound.bell_only and self._rings(),
            slack=meal_slack(self.session.state),
            outlooks=outlooks,
            offer=self._offers.look(outlooks, self._probe.box().shown),
            together=self._openings.words(),
            odds=self._odds(),
        )

    def _odds(self) -> tuple[str, ...]:
        if self.chances is None:
            return ()
        return self.chances.look(self.session.state, lambda at: self._local(at, False))

    def _rings(self) -> bool:
        state = self.session.state
        return any(not c.seen and c.until is None for _, c in state.cues)


def was_doing(state: CookState) -> LogLine | None:
    """The last act of work that holds; None: there is none."""
    return next(
        (
            line
            for line in reversed(state.log)
            if not line.cancelled and line.words.split(" ", 1)[0] not in _NO_WORK
        ),
        None,
    )
