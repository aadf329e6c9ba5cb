"""The screens that a key opens and closes: list, help, checklist.

Each is made once and shown again and again: Textual keeps the drawing of a closed screen for a while, so that
new screens would cost memory.
"""

import sys
from collections.abc import Sequence

from nightmode.app.hours import SUN_IS_UP, is_evening
from nightmode.app.pages.checklist import Checklist, checklist_of, checklist_page
from nightmode.app.pages.line import Line
from nightmode.app.pages.lists import help_lines, help_page, list_page
from nightmode.app.screens.paged import Paged
from nightmode.records import replace

BACK = {"escape", "q", "l"}
#: By how many rows a key moves the cursor; it stops at the ends of the list.
STEPS = {
    "down": 1,
    "j": 1,
    "up": -1,
    "k": -1,
    "pagedown": 10,
    "pageup": -10,
    "home": -sys.maxsize,
    "end": sys.maxsize,
}


class ListScreen(Paged):
    """All targets in walk order. The cursor stays on its target when the order changes.

    It goes to the first when that target is taken out, as may happen where a session is watched.
    """

    _row: int | None = None

    def on_screen_resume(self) -> None:
        """Begin at the target shown."""
        self._row = self.app.walker.shown(self.app.now_s())

    def lines(self, size: tuple[int, int]) -> Sequence[Line]:
        """Return the list."""
        return list_page(self.app.walker, self.app.now_s(), size, self._place(), self.budget(size))

    def _place(self) -> int:
        """Return the place of the cursor in the walk order of this moment."""
        order = self.app.walker.order(self.app.now_s())
        return order.index(self._row) if self._row in order else 0

    def pressed(self, key: str) -> None:
        """Move, show, or go back."""
        order, place = self.app.walker.order(self.app.now_s()), self._place()
        if key in BACK:
            self.app.pop_screen()
        elif key == "enter" and order:
            self.app.walker.show(order[place])
            self.app.pop_screen()
        elif key in STEPS and order:
            self._row = order[min(max(place + STEPS[key], 0), len(order) - 1)]
            if self.app.aloud is not None:
                self.app.aloud.listed(self._row)


class HelpScreen(Paged):
    """The keys and the quick phrases."""

    _first = 0

    def on_screen_resume(self) -> None:
        """Begin at the top."""
        self._first = 0

    def lines(self, size: tuple[int, int]) -> Sequence[Line]:
        """Return the help."""
        return help_page(self.app.walker.night.person.phrases, size, self._first, self.budget(size))

    def pressed(self, key: str) -> None:
        """Scroll, or go back."""
        if key in STEPS:
            last = len(help_lines(self.app.walker.night.person.phrases, self.page.size.width)) - 1
            self._first = min(max(0, self._first + STEPS[key]), last)
        else:
            self.app.pop_screen()


class ChecklistScreen(Paged):
    """The observer's checklist: setting up before dark and early in the night, packing up at its end."""

    _begun = Checklist("", ())
    _cursor = 0

    def on_mount(self) -> None:
        """Keep the times of twilight up to date."""
        self.set_interval(30.0, self._follow)

    def _follow(self) -> None:
        if self.is_current:
            self.draw()

    def on_screen_resume(self) -> None:
        """Choose the list that fits the time of night."""
        night = self.app.walker.night
        self._begun = checklist_of(night, is_evening(night, self.app.now_s()))
        self._cursor = 0
        if self.app.aloud is not None:
            self.app.aloud.checklist(self._listed, SUN_IS_UP if self.app.is_sun_up() else "")

    @property
    def _listed(self) -> Checklist:
        """The list as it stands: the ticks are kept by the app, so that they outlast the screen."""
        done = frozenset(self.app.checked(self._begun.items))
        return replace(self._begun, done=done, cursor=self._cursor)

    def lines(self, size: tuple[int, int]) -> Sequence[Line]:
        """Return the checklist."""
        night, now_s = self.app.walker.night, self.app.now_s()
        return checklist_page(night, now_s, self._listed, size, self.budget(size))

    def pressed(self, key: str) -> None:
        """Tick off, move, or go on to the walk."""
        items = self._begun.items
        if key in STEPS:
            self._cursor = min(max(self._cursor + STEPS[key], 0), max(0, len(items) - 1))
        elif key == "space" and items:
            self.app.check(items[self._cursor])
            self._cursor = min(self._cursor + 1, len(items) - 1)
        elif key in {"escape", "q", "p", "enter"}:
            self.app.pop_screen()
            return
        if self.app.aloud is not None:
            self.app.aloud.item(self._listed)
