"""The app: brings night, session, clock and screens together."""

import datetime as dt
from collections.abc import Callable
from typing import ClassVar

from textual import events
from textual.screen import Screen

from nightmode.app.clock import Clock
from nightmode.app.finding import Also
from nightmode.app.guard.red_app import play
from nightmode.app.hand import Hand
from nightmode.app.hours import is_before_dusk
from nightmode.app.keys import is_recording
from nightmode.app.night_app import NightApp
from nightmode.app.say import Say
from nightmode.app.screens.lists import ChecklistScreen, HelpScreen, ListScreen
from nightmode.app.screens.paged import Paged
from nightmode.app.screens.walk import WalkScreen
from nightmode.app.walker import Walker
from nightmode.light.terminal import Terminal
from nightmode.model.session import Entry, Event
from nightmode.model.theme import Theme

WOKEN = Say("lit again; that key did nothing else")


class WalkApp(NightApp):
    """The night screen, with its screens."""

    SCREENS: ClassVar[dict[str, Callable[[], Screen[None]]]] = {
        "list": ListScreen,
        "help": HelpScreen,
        "checklist": ChecklistScreen,
    }

    def __init__(
        self,
        walker: Walker,
        clock: Clock,
        theme: Theme,
        terminal: Terminal | None,
        *,
        first_words: Say | None = None,
        hand: Hand | None = None,
        also: Also | None = None,
        voice: bool = False,
    ) -> None:
        super().__init__(walker, clock, theme, terminal, hand=hand, also=also)
        self._walk = WalkScreen(first_words, voice=voice)

    def on_mount(self) -> None:
        """Show the walk; before dusk the set-up list comes first."""
        self.push_screen(self._walk)
        if is_before_dusk(self.walker.night, self.now_s()):
            self.push_screen("checklist")
        if self.walker.state.live and not self.walker.session.is_watched:
            said = self.walker.mark(Event.RESUME, self.now_s())
            if said.alert:
                self._walk.tell(said)

    def wake(self) -> bool:
        """Light the screen again, with the figures of this moment."""
        was_black = self.is_black
        if (was_dark := super().wake()) and was_black:
            self._walk.follow()
        return was_dark

    @property
    def wakes_by_any_key(self) -> bool:
        """Whether any key only lights the screen; a letter of a note that is being typed does more."""
        is_typed = self.is_dimmed and not self.is_black and self._walk.row.is_open
        return super().wakes_by_any_key and not is_typed

    def woken_by(self, event: events.Key | events.Paste) -> None:
        """Wake; where somebody may think that the key has done more, say that it has not.

        That is on a screen that had dimmed by itself, and of a key that records something on a black one.
        """
        may_mislead = not self.is_black or (isinstance(event, events.Key) and is_recording(event.key))
        super().woken_by(event)
        is_seen = not self.is_dark and self.screen is self._walk
        if may_mislead and is_seen and not self._walk.has_alert:
            self._walk.tell(WOKEN)

    def repainted(self) -> None:
        """Draw again after the glow has changed: it decides how much can be shown."""
        if isinstance(self.screen, Paged) and self.screen.is_mounted:
            self.screen.draw()

    # -- leaving ----------------------------------------------------------------

    def action_ask_leave(self) -> None:
        """Ask on the walk screen, whichever screen is shown; a second time, leave."""
        self.press("ctrl+c", self.steady_s(), self._ask_leave)

    def _ask_leave(self) -> None:
        while len(self.screen_stack) > 2 and self.screen is not self._walk:
            self.pop_screen()
        self._walk.keep_typed()
        self._walk.pressed("q")
        self._walk.draw()

    def before_end(self) -> None:
        """Record a half-typed note and the pause, and prepare the last words for the terminal."""
        self._settle()
        self._walk.keep_typed()
        self.walker.retry()
        if not self.walker.session.unsaved:
            self.walker.mark(Event.PAUSE, self.now_s())
        if self.terminal is not None and not self.terminal.last_words:
            self.terminal.last_words = self._summary()
        self.silence()

    def voice_stopped(self, why: str) -> None:
        """Go on without the voice, with one message about it; a black screen stays black."""
        super().voice_stopped(why)
        self._walk.tell(Say(f"{why}; v starts it again", alert="the voice has stopped"))

    def _summary(self) -> str:
        walker, done = self.walker, self.walker.state.done_count
        lost = "".join(f"\nNOT SAVED: {_told(entry)}" for entry in walker.session.unsaved)
        rehearsal = "Rehearsal. " if walker.session.head.rehearsal else ""
        night = dt.date.isoformat(walker.night.date)
        return f"{rehearsal}{done} done on the night of {night}. Journal: {walker.session.path}{lost}"


def _told(entry: Entry) -> str:
    """Return an entry in a few words, for pencil and paper."""
    words = (f"{entry.at:%H:%M}", entry.event.value, entry.target, entry.outcome, entry.note)
    return " ".join(word for word in words if word)


def walk(
    walker: Walker,
    clock: Clock,
    theme: Theme,
    terminal: Terminal,
    say: Say | None,
    also: Also,
    *,
    voice: bool = False,
) -> int:
    """Run the night screen on an open terminal and return the exit code.

    also adds a target; voice says whether to speak from the start.
    """
    app = WalkApp(walker, clock, theme, terminal, first_words=say, also=also, voice=voice)
    return play(app, terminal)
