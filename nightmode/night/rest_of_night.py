"""What the rest of the night brings a target: more altitude, the Moon down, a dark sky."""

import numpy as np

from nightmode.arrays import Indices
from nightmode.night.cell import Cell
from nightmode.night.table import Night
from nightmode.records import Record
from nightmode.visibility.reasons import AltitudeAt, Low, Twilight

#: A gain in altitude worth waiting for, in degrees (our own rule).
WORTH_DEG = 5.0
#: So many minutes must be left after moonset before it is advised to wait for it (our own rule).
WORTH_MIN = 10


def usable_columns(night: Night, row: int) -> Indices:
    """Return the minutes at which a target is usable."""
    usable = np.zeros(night.time_s.size, dtype=bool)
    for stretch in night.targets[row].usable:
        usable |= (night.time_s >= stretch.start_s) & (night.time_s <= stretch.end_s)
    return np.flatnonzero(usable)


def low(cell: Cell, highest_sun_deg: float = 90.0) -> Low:
    """Return how low a target is, and its greatest altitude while usable later, if that is clearly more.

    Later is only while the Sun stands no higher than highest_sun_deg: what is faint gains nothing at dawn.
    """
    night, later = cell.night, _usable_later(cell)
    later = later[night.sun_altitude_deg[later] <= highest_sun_deg]
    if not later.size:
        return Low(cell.altitude_deg, None)
    best = Cell(night, cell.row, int(later[np.argmax(night.altitude_deg[cell.row, later])]))
    if best.altitude_deg < cell.altitude_deg + WORTH_DEG:
        return Low(cell.altitude_deg, None)
    return Low(cell.altitude_deg, AltitudeAt(best.altitude_deg, best.at_s))


def twilight(cell: Cell) -> Twilight:
    """Return from when on it is dark, or until when it was; neither in the darkest part of a bright night."""
    dark = cell.night.twilights.dark_s
    if dark is None or dark[0] <= cell.at_s < dark[1]:
        return Twilight()
    return Twilight(dark_from_s=dark[0]) if cell.at_s < dark[0] else Twilight(dark_until_s=dark[1])


def moon_down_later_s(cell: Cell) -> float | None:
    """Return the first minute after moonset, in Unix seconds, if a target is usable for a while then."""
    later = _usable_later(cell)
    dark = later[cell.night.moon.altitude_deg[later] <= 0.0]
    return float(cell.night.time_s[dark[0]]) if dark.size >= WORTH_MIN else None


def _usable_later(cell: Cell) -> Indices:
    columns = usable_columns(cell.night, cell.row)
    return columns[columns > cell.column]


class BestHour(Record):
    """When a target is highest while usable, and from when to when it is less than WORTH_DEG lower."""

    highest_deg: float
    at_s: float
    begins_s: float
    ends_s: float


def best_instant_s(night: Night, row: int) -> float:
    """Return when a target is highest while usable, in Unix seconds; else the middle of the night."""
    best = best_hour(night, row)
    return best.at_s if best else night.middle_s


def best_hour(night: Night, row: int) -> BestHour | None:
    """Return a target's best hour; None if it is not usable tonight."""
    columns = usable_columns(night, row)
    if not columns.size:
        return None
    heights = night.altitude_deg[row, columns]
    best = int(np.argmax(heights))
    near = heights >= heights[best] - WORTH_DEG
    first, last = best, best
    while first > 0 and near[first - 1] and columns[first] - columns[first - 1] == 1:
        first -= 1
    while last < len(columns) - 1 and near[last + 1] and columns[last + 1] - columns[last] == 1:
        last += 1
    at_s, begins_s, ends_s = night.time_s[columns[[best, first, last]]].tolist()
    return BestHour(float(heights[best]), at_s, begins_s, ends_s)
