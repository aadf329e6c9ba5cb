"""What every screen of ours is: a page that is drawn again when something changed."""

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from nightmode.app.night_app import NightApp
from nightmode.app.pages.budget import UNBOUNDED, Budget, budget_of, drawn
from nightmode.app.pages.line import Line
from nightmode.app.widgets.page import Page


class Paged(Screen[None]):
    """A screen with one page. A subclass gives its lines; keys arrive in `pressed`."""

    AUTO_FOCUS = ""
    app: NightApp
    page: Page

    def compose(self) -> ComposeResult:
        """Place the page."""
        self.page = Page(self.app.red_theme.red)
        yield self.page

    def lines(self, size: tuple[int, int]) -> Sequence[Line]:
        """Return the rows for a size (columns, rows)."""
        raise NotImplementedError

    def budget(self, size: tuple[int, int]) -> Budget:
        """Return what the page may light; by day, as much as it likes."""
        return UNBOUNDED if self.app.is_sun_up() else budget_of(size, self.app.role_light())

    def pressed(self, key: str) -> None:
        """Take a key, by Textual's name for it."""
        raise NotImplementedError

    def draw(self) -> None:
        """Bring the page up to date, unless it cannot be seen; rows that did not change cost nothing."""
        page = self.page
        if self.app.is_black or not self.is_current:  # it is drawn when it comes back
            return
        # While the app ends by a signal the page goes first, and a drawing asked for earlier still comes.
        if page.is_attached and page.size.width and page.size.height:
            size = (page.size.width, page.size.height)
            page.show(drawn(self.lines(size), size, self.budget(size)))
            self.app.stands()

    def on_resize(self) -> None:
        """Draw for the new size, once the page has it."""
        self.call_after_refresh(self.draw)

    def on_screen_resume(self) -> None:
        """Draw when coming back from another screen."""
        self.call_after_refresh(self.draw)

    def on_key(self, event: events.Key) -> None:
        """Hand the key on, and draw what it changed."""
        event.stop()
        event.prevent_default()
        if self.app.screen is not self:  # pressed at speed: the key before it has changed the screen
            self.app.screen.post_message(_again(event))
            return
        self.app.press(event.key, event.time, lambda: self._take(event.key))

    def _take(self, key: str) -> None:
        if self.app.is_black and self.app.wakes_by_any_key:  # pressed before it went black: it only wakes
            self.app.wake()
            return
        self.pressed(key)
        if self.is_current:
            self.draw()


def _again(event: events.Key) -> events.Key:
    """Return the same key, pressed when it was, for another screen."""
    again = events.Key(event.key, event.character)
    again.time = event.time
    return again
