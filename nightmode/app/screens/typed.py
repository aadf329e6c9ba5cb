"""A screen with a message line and, when something is typed, a row for it below the page."""

from collections.abc import Callable

from textual import events
from textual.app import ComposeResult
from textual.timer import Timer

from nightmode.app.finding import find
from nightmode.app.pages.budget import Budget
from nightmode.app.say import Say
from nightmode.app.screens.paged import Paged
from nightmode.app.widgets.typing import TypingRow

NO_ROOM = Say("no room for more: enter keeps it")
#: A note that is being typed is kept beside the journal when the hand has rested for so many seconds, and
#: when it has not been kept for so many.
PAUSE_S, LATEST_S = 1.0, 5.0
BRING_BACK = Say("dropped; n, then the up key brings it back")


class Typed(Paged):
    """A screen on which readings of the sky and notes are typed."""

    def __init__(self, say: Say | None = None) -> None:
        """Begin with a message on the line, or with none."""
        super().__init__()
        self._say = say
        self._said_at_s = 0.0
        #: What takes the text typed, and answers; None while nothing is typed.
        self._typed: Callable[[str], Say] | None = None
        #: Whether a note is typed, the row of its target (None for the night), and the last note dropped.
        self._is_note, self._dropped = False, ""
        self._note_row: int | None = None
        self._keeper: Timer | None = None
        self._kept, self._kept_at_s = "", 0.0

    def compose(self) -> ComposeResult:
        """Place the page and, hidden, the row for typing."""
        yield from super().compose()
        yield TypingRow()

    @property
    def row(self) -> TypingRow:
        """The row for typing."""
        return self.query_one(TypingRow)

    def budget(self, size: tuple[int, int]) -> Budget:
        """Return how much light the page may give beside the row for typing."""
        whole = self.budget_of_both(size)
        return whole if self._typed is None else whole.less(size[0])

    def budget_of_both(self, size: tuple[int, int]) -> Budget:
        """Return how much light page and row may give together."""
        return super().budget(size)

    @property
    def has_alert(self) -> bool:
        """Whether what stands on the message line is an alert."""
        return self._say is not None and bool(self._say.alert)

    def tell(self, say: Say | None) -> None:
        """Show a message on the message line."""
        self._say = say
        self._said_at_s = self.app.steady_s()
        self.draw()

    def speak(self, say: Say | None) -> None:
        """Speak a message of the screen, if the voice is on."""
        if self.app.aloud is not None:
            self.app.aloud.message(say)

    def type_reading(self) -> None:
        """Ask for a reading of the sky."""
        self._begin(lambda text: self.app.walker.sky_reading(text, self.app.now_s()))
        self.tell(Say("sky: mag/arcsec² or naked-eye limit, then enter   esc: drop"))

    def type_name(self) -> None:
        """Ask for the name of a target to show."""
        self._begin(lambda text: find(self.app.walker, text, self.app.also, self.app.now_s()))
        self.tell(Say("target: its name, then enter   esc: drop"))

    def type_note(self) -> None:
        """Ask for a note on the target shown."""
        self._begin(lambda text: self.app.walker.note(text, self.app.now_s(), self._note_row))
        self._is_note, self._note_row = True, self.app.walker.shown(self.app.now_s())
        self._kept_at_s = self.app.steady_s()
        self._tell_note()

    def keep_typed(self) -> None:
        """Record the note typed so far before the program ends; drop half a name or half a figure."""
        if self._is_note:
            self._enter()
        elif self._typed is not None:
            self._drop()

    def keep_so_far(self) -> None:
        """Keep what has been typed of a note, if it has changed."""
        self._kept_at_s = self.app.steady_s()
        text = self.row.value.strip()
        if text != self._kept:
            self._kept = text
            self.app.walker.note_so_far(text, self.app.now_s(), self._note_row)

    def on_key(self, event: events.Key) -> None:
        """Pass keys to the row for typing while it is open, except enter, esc and tab."""
        if self._typed is None or self.app.screen is not self:
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()  # or the base class would take the key as well
        if event.key == "enter":
            self._enter()
        elif event.key == "escape":
            self._drop()
        elif event.key == "tab":
            self._note_other()
        elif event.key in {"up", "down"}:
            if self._is_note and event.key == "up":
                self.row.bring_back(self._dropped)
            if self.app.aloud is not None:
                self.app.aloud.echo(self.row.value)
        elif not self.row.pressed(event):
            self.tell(NO_ROOM)
        self._keep_soon()

    def on_paste(self, event: events.Paste) -> None:
        """Paste into the row for typing; elsewhere ignore pasted text, so that it is not taken for keys."""
        if self._typed is not None and not self.row.pasted(event.text):
            self.tell(NO_ROOM)
        self._keep_soon()

    def _keep_soon(self) -> None:
        """Have the note that is typed kept when the hand rests; now, if it has not rested for long."""
        if self._keeper is not None:
            self._keeper.stop()
            self._keeper = None
        if self._is_note and self.app.steady_s() - self._kept_at_s >= LATEST_S:
            self.keep_so_far()
        elif self._is_note:
            self._keeper = self.set_timer(PAUSE_S, self.keep_so_far)

    def _begin(self, typed: Callable[[str], Say]) -> None:
        self._typed = typed
        self.row.begin()

    def _end(self) -> str:
        """Close the row for typing; return what stood in it."""
        if self._keeper is not None:
            self._keeper.stop()
        self._typed = self._note_row = self._keeper = None
        self._is_note, self._kept = False, ""
        return self.row.close()

    def _enter(self) -> None:
        assert self._typed is not None
        text = self.row.value.strip()
        said = self._typed(text) if text else None
        if self._is_note and not (said and said.alert):  # what is not saved yet stays there as well
            self.app.walker.session.forget_note()
        self._end()
        self.tell(said)
        self.speak(said)

    def _drop(self) -> None:
        """Close the row for typing; a note that stood in it can be brought back."""
        is_note, text = self._is_note, self._end()
        if is_note:
            self.app.walker.session.forget_note()
            self._dropped = text or self._dropped
        self.tell(BRING_BACK if is_note and text else None)
        if self.app.aloud is not None:
            self.app.aloud.dropped()

    def _note_other(self) -> None:
        """Take the note for the next thing that it can be on."""
        if self._is_note:
            self._note_row, self._kept = self._next_row(), ""
            self._tell_note()

    def _tell_note(self) -> None:
        walker, other = self.app.walker, self._next_row()
        tab = f"tab: on {walker.name(other)}" if other != self._note_row else ""
        self.tell(Say(f"note on {walker.name(self._note_row)}: enter keeps   esc: drop", hint=tab))
        if self.app.aloud is not None:
            self.app.aloud.note(self._note_row)

    def _next_row(self) -> int | None:
        """Return what the note is on after tab: the target shown, the one ticked last, None for the night."""
        walker = self.app.walker
        shown, last = walker.shown(self.app.now_s()), walker.last_ticked()
        rows = list(dict.fromkeys([shown, None] if last is None else [shown, last, None]))
        place = rows.index(self._note_row) + 1 if self._note_row in rows else 0
        return rows[place % len(rows)]
