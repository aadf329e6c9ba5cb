"""The main screen: one target, and what the keys do."""

import locale
import os
from collections.abc import Sequence

from nightmode.app.finding import keep_up, undo
from nightmode.app.keys import LOOKS_FOR_HELP, action_of, is_capital
from nightmode.app.middle import Middles
from nightmode.app.pages.dots import style_of
from nightmode.app.pages.line import Line
from nightmode.app.pages.main import main_page
from nightmode.app.say import Say
from nightmode.app.screens.questions import ASKS_TO_NOTE, Clearing, Prompt, ask_air, ask_leave, ask_seeing
from nightmode.app.screens.typed import Typed
from nightmode.model.session import Outcome

#: A message stays until the next key, but no longer than this, so that few cells stay lit.
MESSAGE_S = 60.0
#: Seconds between two drawings. No figure on the page changes much in five. Every second where the clock runs
#: faster than the night, or where another program records and this one only watches. A black screen shows
#: nothing, and is left alone for a minute.
CALM_S, QUICK_S, BLACK_S = 5.0, 1.0, 60.0
CAPITALS = Say("the keys are small letters: is caps lock on?")
WHICH_KEYS = Say("the question mark lists all keys")


class WalkScreen(Typed):
    """The main screen."""

    def __init__(self, say: Say | None = None, *, voice: bool = False) -> None:
        super().__init__(say)
        self._begins_aloud = voice
        self._clearing: Clearing | None = None
        self._question: Prompt | None = None
        self._capitals = 0
        style = style_of(os.environ, locale.getpreferredencoding(False))
        self._middles = Middles(style)

    def lines(self, size: tuple[int, int]) -> Sequence[Line]:
        """Return the main page. The row for typing dims what is on it, but does not move it."""
        app, say = self.app, self._question.ask if self._question else self._say
        budget, typing = self.budget_of_both(size), int(self._typed is not None)
        middle = self._middles.shown
        return main_page(app.walker, app.now_s(), size, say, app.dark_since_s(), middle, budget, typing)

    def on_mount(self) -> None:
        """Start the only timer of the walk: it follows the clock."""
        self._said_at_s = self.app.steady_s()
        if self._begins_aloud:
            self._start_voice(self._say)
        self._wait()

    def on_screen_resume(self) -> None:
        """On the way back from another screen: draw, and speak of the target."""
        super().on_screen_resume()
        if self.app.aloud is not None:
            self.app.aloud.back()

    def follow(self) -> None:
        """Draw the page now, and restart the timer from here."""
        self._timer.stop()
        self._pulse()

    def _wait(self) -> None:
        self._timer = self.set_timer(self._pause_s(), self._pulse)

    def _pause_s(self) -> float:
        """Return how long to wait before the page is next brought up to date, in seconds."""
        app = self.app
        if app.is_black and app.aloud is None:
            return BLACK_S
        if app.hurries or app.walker.session.is_watched:
            return QUICK_S
        return min(CALM_S, 60.0 - app.now_s() % 60.0 + 0.01)  # so that the minute on the page changes on time

    def _pulse(self) -> None:
        self.app.notice_sleep()
        if (jump := self.app.clock_jump()) is not None:
            self.tell(jump)
            self.speak(jump)
        if self._say and not self.has_alert and self.app.steady_s() - self._said_at_s > MESSAGE_S:
            self._say = None
        self._refresh()
        self._bound_log()
        if self.app.screen is self:
            self._tell_gone()
            self.draw()
            if self.app.aloud is not None and self._question is None and self._typed is None:
                self.app.aloud.follow()
        self._wait()

    def _refresh(self) -> None:
        """Follow a session that is only watched."""
        walker, also = self.app.walker, self.app.also
        walker.session.refresh()
        if walker.session.is_watched and also is not None:
            has_fewer_rows = keep_up(walker, also)
            if has_fewer_rows and self.app.aloud is not None:
                self.app.aloud.forget()

    def _is_unnoticed(self) -> bool:
        """Whether the target has changed by itself since the page was drawn; on a fast clock it may."""
        return not self.app.hurries and self._tell_gone()

    def _tell_gone(self) -> bool:
        """Say that a target has gone by itself, unless the voice does; return whether that was said."""
        if self._question or self._typed or self.has_alert:
            return False
        gone = self.app.walker.gone(self.app.now_s())
        if gone is None or self.app.aloud is not None:
            return False
        self.tell(gone)
        return True

    def _bound_log(self) -> None:
        if self.app.terminal is not None:
            self.app.terminal.bound_log()

    def pressed(self, key: str) -> None:
        """Answer the open question, or say what holds the key up, or do what it stands for."""
        self._bound_log()
        if self._question is not None:
            self._answer(key)
            return
        action = action_of(key)
        is_to_note = action is not None and action[0] in ASKS_TO_NOTE
        if (said := self.app.walker.held_up(is_to_note)) is not None:
            self.tell(said)
            self.speak(said)
            if said.alert and action and action[0] == "leave":
                self.do_leave("")  # a full disk must not keep anybody from leaving
            return
        if action is not None:
            self._say, self._capitals = None, 0
            self._do(*action)
        elif key in LOOKS_FOR_HELP:
            self.tell(WHICH_KEYS)
            self.speak(WHICH_KEYS)
        else:
            self._notice_capital(key)

    def _notice_capital(self, key: str) -> None:
        """Say that caps lock may be on, at the second capital in a row of a letter that is a key."""
        self._capitals = self._capitals + 1 if is_capital(key) else 0
        if self._capitals >= 2:
            self.tell(CAPITALS)
            self.speak(CAPITALS)

    def _do(self, name: str, argument: str) -> None:
        """Do what a key stands for, and speak of it."""
        aloud = self.app.aloud
        if aloud is not None and self.app.is_black and aloud.takes(name, argument):
            return
        getattr(self, f"do_{name}")(argument)
        if aloud is not None and aloud is self.app.aloud:
            aloud.pressed(name, self._say, self._middles.chart.view)

    def _answer(self, key: str) -> None:
        assert self._question is not None
        said = self._question.answer(key)
        self._question = self._clearing.question() if self._clearing and said is None else None
        if self._question is None:
            self._clearing = None
            self.tell(said)
            self.speak(said)
        elif self._clearing is not None and self.app.aloud is not None:
            self.app.aloud.clearing(self._clearing.clear)

    # -- what the keys do -------------------------------------------------------

    def do_tick(self, outcome: str) -> None:
        """Tick the target shown; if it has taken the place of another unnoticed, only say so."""
        if not self._is_unnoticed():
            self.tell(self.app.walker.tick(Outcome(outcome), self.app.now_s()))

    def do_undo(self, _: str) -> None:
        """Take back the last entry."""
        self.tell(undo(self.app.walker, self.app.also, self.app.now_s()))

    def do_phrase(self, number: str) -> None:
        """Note a quick phrase; if the target has taken the place of another unnoticed, only say so."""
        if not self._is_unnoticed():
            self.tell(self.app.walker.phrase(int(number), self.app.now_s()))

    def do_step(self, by: str) -> None:
        """Look at another target."""
        self.app.walker.step(int(by), self.app.now_s())

    def do_back(self, _: str) -> None:
        """Close what stands in the middle, or go back to the current target."""
        if not self._middles.close():
            self.app.walker.back()

    def do_aim(self, _: str) -> None:
        """Open the chart, or step to its next view."""
        self._middles.close(but=self._middles.chart)
        self._middles.chart.step(self.app.walker, self.app.now_s(), self.page.size.width)

    def do_circles(self, _: str) -> None:
        """Show the figures for setting circles, or go back to the facts."""
        circles = self._middles.circles
        self._middles.close(but=circles)
        circles.is_open = not circles.is_open

    def do_remarks(self, _: str) -> None:
        """Show all that is written about the target, its next page, or the facts again."""
        self._middles.close(but=self._middles.remarks)
        self._middles.remarks.step()

    def do_other_eyepiece(self, _: str) -> None:
        """Step to another eyepiece."""
        self.app.walker.other_eyepiece()

    def do_other_instrument(self, _: str) -> None:
        """Take another instrument of the plan."""
        self.tell(self.app.walker.other_instrument(self.app.now_s()))

    def do_white_light(self, _: str) -> None:
        """Note white light."""
        self.tell(self.app.walker.white_light(self.app.now_s()))

    def do_glow(self, by: str) -> None:
        """Change the glow."""
        if by == "1":
            self.app.glow_up()
        else:
            self.app.glow_down()

    def do_black(self, _: str) -> None:
        """Make the screen black; with the voice on, light a black screen again."""
        if self.app.is_black:
            self.app.wake()
        else:
            self.app.go_black()
            if self.app.aloud is not None:
                self.app.aloud.black()

    def do_voice(self, _: str) -> None:
        """Switch the voice on or off."""
        if self.app.aloud is not None:
            self.app.end_voice()
            self.tell(Say("voice off"))
        else:
            self._start_voice(None)

    def do_list(self, _: str) -> None:
        """Open the list."""
        self.app.push_screen("list")

    def do_help(self, _: str) -> None:
        """Open the help."""
        self.app.push_screen("help")

    def do_checklist(self, _: str) -> None:
        """Open the checklist that fits the time of night."""
        self.app.push_screen("checklist")

    def do_leave(self, _: str) -> None:
        """Ask whether to leave."""
        self._question = ask_leave(len(self.app.walker.session.unsaved), self.app.leave)

    def do_seeing(self, _: str) -> None:
        """Ask for the seeing."""
        self._question = ask_seeing(self.app.walker, self.app.now_s)

    def do_air(self, _: str) -> None:
        """Ask for transparency or dew."""
        self._question = ask_air(self.app.walker, self.app.now_s)

    def do_clouds(self, _: str) -> None:
        """Ask which part of the sky is clear."""
        self._clearing = Clearing(self.app.walker, self.app.now_s)
        self._question = self._clearing.question()

    def do_sky(self, _: str) -> None:
        """Ask for a reading of the sky."""
        self.type_reading()

    def do_find(self, _: str) -> None:
        """Ask for the name of a target."""
        self._middles.close()
        self.type_name()

    def do_note(self, _: str) -> None:
        """Ask for a note."""
        self.type_note()

    # -- voice ------------------------------------------------------------------

    def _start_voice(self, first_words: Say | None) -> None:
        trouble = self.app.start_voice()
        if trouble is not None:
            self.tell(trouble)
        elif self.app.aloud is not None:
            self.tell(first_words or Say("voice on"))
            self.app.aloud.begin(first_words)
