"""The chart shown in place of the facts: which view is open, and its lines, worked out once a minute."""

from nightmode.aim.pointing import FieldOfView, Pointing
from nightmode.aim.shows import SUN_DEG
from nightmode.app.pages.aim import ChartView, Sighting, aim_page, views
from nightmode.app.pages.budget import Budget
from nightmode.app.pages.dots import FULL, Style
from nightmode.app.pages.line import BLANK, Line, line
from nightmode.app.walker import Walker
from nightmode.night.aiming import Aiming, through
from nightmode.night.table import Night


class Chart:
    """Holds the view that the observer has stepped to, and the lines worked out last."""

    def __init__(self, style: Style = FULL) -> None:
        self.style = style
        self._aiming = Aiming()
        self._view: ChartView | None = None
        self._drawn: tuple[tuple[object, ...], list[Line]] | None = None

    @property
    def view(self) -> ChartView:
        """The view stepped to; while the chart is closed, the first one."""
        return self._view or ChartView.SKY

    @property
    def is_open(self) -> bool:
        """Whether it is on the screen."""
        return self._view is not None

    def close(self) -> None:
        """Close it: the facts are shown again."""
        self._view = None

    def step(self, walker: Walker, now_s: float, columns: int) -> None:
        """Open it, or go on to the next view; the first follows the last."""
        possible = self._views(walker, now_s, columns)
        if self._view is None:
            self._view = possible[0]
        else:
            self._view = possible[(possible.index(self._current(possible)) + 1) % len(possible)]

    def hint(self, walker: Walker, now_s: float, columns: int) -> str:
        """Return what the keys do from here."""
        possible = self._views(walker, now_s, columns)
        after = possible[(possible.index(self._current(possible)) + 1) % len(possible)]
        step = f"a: {after.value}   " if len(possible) > 1 else ""
        return f"{step}esc: back"

    def lines(self, walker: Walker, now_s: float, size: tuple[int, int], budget: Budget) -> list[Line]:
        """Return exactly as many rows as size (columns, rows) has, worked out once a minute or on change."""
        row, night = walker.shown(now_s), walker.night
        if row is None:
            return _instead("nothing is up to aim at", size)
        view = self._current(self._views(walker, now_s, size[0]))
        asked = (night, row, int(now_s // 60), view, walker.combination(row), size, budget)
        if self._drawn is None or self._drawn[0] != asked:
            self._drawn = (asked, self._page(walker, row, now_s, view, size, budget))
        return self._drawn[1]

    def _page(
        self, walker: Walker, row: int, now_s: float, view: ChartView, size: tuple[int, int], budget: Budget
    ) -> list[Line]:
        night = walker.night
        target = night.targets[row]
        if night.sun_altitude_at(now_s) > SUN_DEG:
            return _instead(f"no chart while the Sun is above {SUN_DEG:.0f}°", size)
        pointing = self._pointing(walker, now_s)
        if pointing is None:
            return _instead(f"{target.subject.name} is below the horizon", size)
        find_deg = target.find.true_field_deg if target.find else None
        return aim_page(Sighting(pointing, view, self._fov(walker, row), find_deg, self.style), size, budget)

    def _views(self, walker: Walker, now_s: float, columns: int) -> tuple[ChartView, ...]:
        row = walker.shown(now_s)
        if row is None:
            return views(has_finder=False, has_eyepiece=False, columns=columns)
        has_eyepiece = self._fov(walker, row) is not None
        return views(_has_finder(walker.night, row), has_eyepiece, columns)

    def _current(self, possible: tuple[ChartView, ...]) -> ChartView:
        """Return the view stepped to, or the first if this target or this width has no such view."""
        return self._view if self._view in possible else possible[0]

    def _pointing(self, walker: Walker, now_s: float) -> Pointing | None:
        row = walker.shown(now_s)
        return None if row is None else self._aiming.at(walker.night, row, now_s)

    def _fov(self, walker: Walker, row: int) -> FieldOfView | None:
        combination = walker.combination(row)
        return None if combination is None else through(walker.night.targets[row].kit.telescope, combination)


def _has_finder(night: Night, row: int) -> bool:
    return any(finder.kind == "optical" for finder in night.targets[row].kit.finders)


def _instead(words: str, size: tuple[int, int]) -> list[Line]:
    """Return a page of size (columns, rows) that says why there is no chart."""
    columns, rows = size
    margin = " " * max(0, (columns - len(words)) // 2)
    above = [BLANK] * (rows // 2)
    return [*above, line((margin, "line"), (words, "text")), *[BLANK] * (rows - len(above) - 1)]
