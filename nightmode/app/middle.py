"""What can stand in the middle of the walk's page in place of the facts."""

from typing import Protocol

from nightmode.app.pages.budget import Budget
from nightmode.app.pages.dots import FULL, Style
from nightmode.app.pages.line import Line
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
