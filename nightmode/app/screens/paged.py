"""The base of all screens: one page, drawn again when something has changed."""

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from nightmode.app.night_app import NightApp
from nightmode.app.pages.budget import UNBOUNDED, Budget, budget_of, drawn
from nightmode.app.pages.line import Line
from nightmode.app.widgets.page import Page


class Paged(Screen[None]):
    """A screen with one page. A subclass gives the lines and takes keys in `pressed`."""

    AUTO_FOCUS = ""
    app: NightApp
    page: Page

    def compose(self) -> ComposeResult:
        """Place the page."""
        self.page = Page(self.app.red_theme.red, self.draw)
        yield self.page

    def lines(self, size: tuple[int, int]) -> Sequence[Line]:
        """Return the rows for a size (columns, rows)."""
        raise NotImplementedError

    def budget(self, size: tuple[int, int]) -> Budget:
        """Return how much light the page may give; no limit while the Sun is up."""
        return UNBOUNDED if self.app.is_sun_up() else budget_of(size, self.app.role_light())

    def pressed(self, key: str) -> None:
        """Take a key, given by Textual's name for it."""
        raise NotImplementedError

    def draw(self) -> None:
        """Draw the page, unless it cannot be seen; only rows that changed are drawn."""
        if self.app.is_black or not self.is_current:  # the page is drawn when it comes back
            return
        if not self.is_mounted:  # the page is drawn when it has its place
            return
        page = self.page
        # When a signal ends the app, the page is removed first; a drawing asked for earlier may still arrive.
        if page.is_attached and page.size.width and page.size.height:
            size = (page.size.width, page.size.height)
            page.show(drawn(self.lines(size), size, self.budget(size)))
            self.app.stands()

    def on_screen_resume(self) -> None:
        """Draw when coming back from another screen."""
        self.call_after_refresh(self.draw)

    def on_key(self, event: events.Key) -> None:
        """Pass the key on, and draw what it has changed."""
        event.stop()
        event.prevent_default()
        if self.app.screen is not self:  # typed fast: the key before it has already changed the screen
            self.app.screen.post_message(_again(event))
            return
        self.app.press(event.key, event.time, lambda: self._take(event.key))

    def _take(self, key: str) -> None:
        if self.app.is_black and self.app.wakes_by_any_key:
            self.app.wake()  # pressed before the screen went black: it does nothing else
            return
        self.pressed(key)
        if self.is_current:
            self.draw()


def _again(event: events.Key) -> events.Key:
    """Return a copy of the key event, with its time, for another screen."""
    again = events.Key(event.key, event.character)
    again.time = event.time
    return again
