"""The cook screen: one view in, nine widgets out; a fault shows a line and never ends it."""

from collections import deque
from functools import partial
from time import perf_counter

from textual.app import ComposeResult
from textual.events import Key, Paste, Resize
from textual.reactive import var

from passbell.safety.cautions import ALL
from passbell.tui.desk import Desk
from passbell.tui.keys import KeyMap, standard
from passbell.tui.listen import SETTLE, FootRoom, Listener, Wish, settles_in
from passbell.tui.places import Places, arrange
from passbell.tui.screens.held import HeldScreen
from passbell.tui.views.model import CookView
from passbell.tui.widgets.appliances import ApplianceLines
from passbell.tui.widgets.beneath import MOST_CARDS, acts_due, also_due, room_for_more
from passbell.tui.widgets.cover import Cover
from passbell.tui.widgets.foot import Foot, foot_part
from passbell.tui.widgets.hands import HandsLine
from passbell.tui.widgets.headline import DishUpLine, HeadLine, head_part
from passbell.tui.widgets.now import NowPanel
from passbell.tui.widgets.now_part import now_part
from passbell.tui.widgets.painted import Canvas
from passbell.tui.widgets.rows import Rows, rows_part

_BLINK = 0.5
"""Seconds a symbol is lit and dim: one flash a second."""
_LATE = 0.003
"""Seconds after a whole second at which it is looked at: timers may be a little early."""
_SCROLL = {"down": 1, "up": -1, "page down": 5, "page up": -5}


class CookScreen(HeldScreen, inherit_bindings=False):
    """The dashboard beside the stove.

    Args:
        desk: the cook in progress.
        interval: seconds between two looks at the desk.
        far: the whole screen for Now.
        keys: which key does what.
        notice: something to say at the start; may be empty.
        first: whether it is the first cook of all, before which the cautions are to be read.
    """

    view: var[CookView | None] = var(None, init=False)

    def __init__(
        self,
        desk: Desk,
        interval: float = 0.25,
        far: bool = False,
        keys: KeyMap | None = None,
        notice: str = "",
        first: bool = False,
    ) -> None:
        super().__init__(keys)
        self._desk = desk
        self._interval = interval
        self._far = far
        self._keys = keys or standard()
        self._notice = notice
        self._listener = Listener(desk, self._keys, cover="cautions" if first else "")
        self._standing: tuple[Places, FootRoom, bool] | None = None
        self._sheeted = ""
        self._lit = False
        self._passed_over = False
        self._notices: deque[str] = deque(maxlen=8)

    def compose(self) -> ComposeResult:
        """The widgets, in the order they are looked at."""
        self._head, self._now, self._appliances = HeadLine(), NowPanel(), ApplianceLines()
        self._rows, self._hands, self._side = Rows(), HandsLine(), DishUpLine()
        self._foot, self._sheet = Foot(), Cover()
        yield from (self._head, self._now, self._appliances, self._rows, self._hands)
        yield from (self._side, self._foot, self._keyline, self._sheet)
        yield from (w.tail for w in (self._now, self._rows) if w.tail is not None)

    def on_mount(self) -> None:
        """Look at once, then again and again."""
        self._look_again()
        self.set_interval(max(_BLINK, self._interval), self._blink)
        if self._notice:
            self._say(self._notice)

    def on_resize(self, event: Resize) -> None:
        """Work out the places anew."""
        with self._held("the size"):
            self._lay_out()
            if self.view is not None:
                self._show_hands(self.view)

    def _show_hands(self, view: CookView) -> None:
        self._hands.show(view.hands, self._crowded_out(view), self._keys.best("begin"))

    def _look_again(self) -> None:
        """Look, and again when the figures change or the interval is over: a cue is due at once.

        Once it is passed over while a key waits: what the key does is looked at in a moment, and
        painting the clock first would hold it up.
        """
        self._passed_over = self._listener.waiting and not self._passed_over
        if not self._passed_over:
            self._look()
        pause = self._interval
        with self._held("the time"):
            pause = min(pause, self._desk.pause() + _LATE)
        self.set_timer(pause, self._look_again)

    def _look(self) -> None:
        with self._held("the cook"):
            self.view = self._desk.tick()
            for _ in range(self._desk.bells()):
                self.app.bell()

    def _blink(self) -> None:
        with self._held("the symbol"):
            self._lit = not self._lit and self.view is not None and self.view.flash
            self._now.blink(self._lit)

    def watch_view(self, before: CookView | None, view: CookView) -> None:
        """Give each widget its part; a part equal to the one before costs nothing."""
        with self._held("the screen"):
            self._listener.view = view
            self._head.show(head_part(view))
            self._now.show(now_part(view, self._keys.best))
            self._appliances.show(view.appliances)
            self._rows.show(rows_part(view))
            self._side.show(view.dish_up, view.steps_back, view.odds)
            self._keyline.want(*_wanted(view))
            self._follow()
            self._show_hands(view)
            if view.notices and (before is None or before.notices != view.notices):
                self._notices.extend(view.notices)
                for notice in reversed(view.notices):  # each stands before those already there
                    self._say(notice, answer=notice in view.answers)

    def _crowded_out(self, view: CookView) -> str:
        """What Now has no room for: what else is due, or what the cook was doing before."""
        now = self._standing[0].now if self._standing else None
        due = also_due(len(view.cards), view.following)
        if view.pending is not None:  # it leaves room for one card only
            others = [cue for card in view.cards[1:] for cue in card.lines]
            due = tuple(c for c in (*others, *view.following) if c.tone != "coming")
        full = now is not None and not room_for_more(now.width, now.height)
        if due and (full or view.pending is not None):
            return f"also DUE: {acts_due(due)}"
        if len(view.cards) < MOST_CARDS and view.pending is None:
            return ""
        return next((text for text in view.interruption if text.startswith("you were")), "")

    def _follow(self) -> None:
        """Bring foot, cover and places in line with what is typed and asked."""
        listener, view = self._listener, self.view
        if view is None:
            return
        self._lay_out()
        self._foot.show(foot_part(view, listener.typing, listener.question, listener.acts))
        if listener.cover != self._sheeted:
            self._sheeted = listener.cover
            self._sheet.display = bool(listener.cover)
            if listener.cover == "help":
                self._sheet.show_keys(self._keys)
            elif listener.cover == "cautions":
                self._sheet.show_texts("BEFORE THE FIRST COOK", ALL)
            elif listener.cover == "all":
                self._sheet.show_texts("ALL OF IT", self._everything(view))
        elif listener.cover == "all":
            self._sheet.renew(self._everything(view))

    def _everything(self, view: CookView) -> tuple[str, ...]:
        told = (
            view.probe.verdict,
            view.probe.sentence,
            *view.probe.advice,
            view.probe.odd,
            *view.probe.expect,
            view.probe.rest,
        )
        probe = " ".join(text for text in told if text)
        odds = f"On time: {'; '.join(text for text in view.odds if text)}"
        lines = (
            *view.interruption,
            *self._desk.everything(),
            *((odds,) if view.odds else ()),
            *((f"Probe: {probe}",) if probe else ()),
        )
        effects = view.pending.effects if view.pending is not None else ()
        changes = tuple(f"Change: {effect.name}, {effect.words}" for effect in effects)
        changes += view.pending.notes if view.pending is not None else ()
        acts = tuple(f"Last: {act}" for act in view.steps_back[:5])
        said = tuple(f"Said: {notice}" for notice in reversed(self._notices))
        return (*changes, *lines, *acts, *said)

    def _lay_out(self) -> None:
        """Give every widget its place, when the places have changed."""
        view, (width, height) = self.view, self.size
        if view is None or not width or not height:
            return
        places = arrange(width, height, len(view.appliances), len(view.rows), self._far)
        opened = self._listener.foot_room
        standing, before = (places, opened, self._far), self._standing
        if standing == before:
            return
        self._standing = standing
        if before is None or (before[0], before[2]) != (places, self._far):
            self._lay_out_all(places, len(view.rows))
        foot = {"open": places.open_foot, "told": places.told_foot, "": places.foot}[opened]
        covered = foot and places.keys and foot.y + foot.height > places.keys.y
        self._foot.stand(foot)
        left = places.last_keys if opened == "told" else None
        self._keyline.stand(left if covered else places.keys)
        self.call_after_refresh(self._foot.refresh)

    def _lay_out_all(self, places: Places, rows: int) -> None:
        """Give all that does not change with what is typed and asked its place."""
        self._now.far = self._far
        self._now.in_rows = places.all_rows(rows)
        self._rows.row_lines, self._rows.scale = places.row_lines, places.scale
        self._head.stand(places.head)
        self._now.stand(places.now)
        self._appliances.stand(places.appliances)
        self._rows.stand(places.rows)
        self._hands.stand(places.hands)
        self._side.stand(places.side)
        self._sheet.stand(places.cover)
        self._sheet.display = bool(self._listener.cover)
        # What was painted before the places were known must not stay: every cell anew.
        self.call_after_refresh(self._paint_anew)

    def _paint_anew(self) -> None:
        self.refresh(layout=True)
        for widget in (self._now, self._rows):
            widget.refresh()

    def on_key(self, event: Key) -> None:
        """Every key comes here: no widget has the focus."""
        event.stop()
        event.prevent_default()
        with self._held("a key"):
            if event.key == "escape":
                self._answers_end()
            typing = self._listener.typing is not None
            self._wish(self._listener.key(event.key, event.character, event.time))
            if not typing:
                self._look()
            if self._listener.waiting:
                pause = settles_in(event.time, perf_counter())
                self.set_timer(pause, partial(self._settle, event.time + SETTLE))
            self._follow()

    def _settle(self, now: float) -> None:
        with self._held("a key"):
            if self._listener.waiting:
                self._answers_end()
                self._wish(self._listener.settle(now))
                self._look()
                self._follow()

    def on_paste(self, event: Paste) -> None:
        """Pasted text goes where it would be typed."""
        event.stop()
        with self._held("pasted text"):
            self._listener.paste(event.text)
            self._follow()

    def on_canvas_picked(self, event: Canvas.Picked) -> None:
        """A click is the key it stands for."""
        event.stop()
        with self._held("a click"):
            self._answers_end()
            self._wish(self._listener.clicked(event.tag))
            self._look()
            self._follow()

    def on_mouse_scroll_down(self) -> None:
        """The wheel moves the rows wherever it is turned."""
        self._rows.scroll_rows(1)

    def on_mouse_scroll_up(self) -> None:
        """The wheel moves the rows wherever it is turned."""
        self._rows.scroll_rows(-1)

    def _wish(self, wish: Wish) -> None:
        if wish == "far":
            self._far = not self._far
        elif wish == "colours":
            self.post_message(self.Coloured())
        elif wish == "gone":
            self.post_message(self.Gone(self))
        elif wish == "together":
            self._say("Several keys at once: nothing was done. Press one again.", answer=True)
        elif wish and self._listener.cover:
            self._sheet.scroll_by(_SCROLL[wish])
        elif wish:
            self._rows.scroll_rows(_SCROLL[wish])

    @property
    def desk(self) -> Desk:
        """The cook in progress."""
        return self._desk

    def ask_to_leave(self) -> None:
        """Ask before leaving, in the foot, while anything is on the heat."""
        with self._held("leaving"):
            self._wish(self._listener.leave())
            self._follow()


def _wanted(view: CookView) -> tuple[tuple[str, ...], dict[str, str]]:
    """The functions most wanted now, after Done; what they do just now is their label."""
    if view.over:
        return ("leave",), {"leave": "say how it went"}
    standing = {appliance.standing for appliance in view.appliances}
    wanted = ["done"]
    labels = {}
    if view.hands.away is not None:
        wanted, labels["away"] = [*wanted, "away"], "back"
    if "stopped" in standing:
        wanted, labels["heat_off"] = [*wanted, "heat_off"], "heat on"
    if view.together:
        wanted.append("together")
    if "preheating" in standing:
        wanted += ["ready", "not_ready"]
    return tuple(wanted), labels
