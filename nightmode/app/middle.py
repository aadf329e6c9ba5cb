"""What can stand in the middle of the walk's page in place of the facts."""

from typing import Protocol

from nightmode.app.chart import Chart
from nightmode.app.pages.budget import Budget
from nightmode.app.pages.dots import FULL, Style
from nightmode.app.pages.line import Line
from nightmode.app.pages.remarks import remark_pages
from nightmode.app.pages.setting_circles import circles_page
from nightmode.app.walker import Walker


class Middle(Protocol):
    """A view that takes the place of the facts while it is open."""

    @property
    def is_open(self) -> bool:
        """Whether it is on the screen."""

    def lines(self, walker: Walker, now_s: float, size: tuple[int, int], budget: Budget) -> list[Line]:
        """Return exactly as many rows as size (columns, rows) has, within the budget of light."""

    def hint(self, walker: Walker, now_s: float, columns: int) -> str:
        """Return what the keys do from here."""


class CirclesView:
    """The figures for setting circles."""

    def __init__(self, style: Style = FULL) -> None:
        self.style = style
        self.is_open = False

    def lines(self, walker: Walker, now_s: float, size: tuple[int, int], budget: Budget) -> list[Line]:
        """Return the page of figures."""
        return circles_page(walker, now_s, size, self.style, budget)

    def hint(self, walker: Walker, now_s: float, columns: int) -> str:
        """Return what the keys do from here."""
        return "g, esc: back"


class RemarksView:
    """All that is written about the target, page by page."""

    def __init__(self) -> None:
        self.is_open = False
        self._page = self._last = 0
        self._row: int | None = None

    def step(self) -> None:
        """Open it, go on to its next page, or close it after the last."""
        self._page = self._page + 1 if self.is_open else 0
        self.is_open = not self.is_open or self._page <= self._last

    def lines(self, walker: Walker, now_s: float, size: tuple[int, int], budget: Budget) -> list[Line]:
        """Return the page stepped to; of another target the first one."""
        if (row := walker.shown(now_s)) != self._row:
            self._row, self._page = row, 0
        pages = remark_pages(walker, now_s, size, budget)
        self._last = len(pages) - 1
        self._page = min(self._page, self._last)
        return pages[self._page]

    def hint(self, walker: Walker, now_s: float, columns: int) -> str:
        """Return what the keys do from here."""
        return "r: more   esc: back" if self._page < self._last else "r, esc: back"


class Middles:
    """What can stand in the middle; one at a time is open, or none."""

    def __init__(self, style: Style) -> None:
        self.chart, self.circles, self.remarks = Chart(style), CirclesView(style), RemarksView()

    @property
    def shown(self) -> Middle:
        """The one that is open; a closed one if none is."""
        views: tuple[Middle, ...] = (self.circles, self.remarks, self.chart)
        return next((view for view in views if view.is_open), self.chart)

    def close(self, but: Middle | None = None) -> bool:
        """Close what is open, except one of them; return whether anything was."""
        was_open = self.shown.is_open
        if but is not self.chart:
            self.chart.close()
        if but is not self.circles:
            self.circles.is_open = False
        if but is not self.remarks:
            self.remarks.is_open = False
        return was_open
