"""What the rest of the night brings a target: more altitude, the Moon down, a dark sky."""

import numpy as np

from nightmode.arrays import Indices
from nightmode.night.table import Night
from nightmode.records import Record
from nightmode.visibility.reasons import AltitudeAt, Low

#: A gain in altitude worth waiting for, in degrees (our own rule).
WORTH_DEG = 5.0
#: So many minutes must be left after moonset before it is advised to wait for it (our own rule).
WORTH_MIN = 10


def usable_after(night: Night, row: int, column: int) -> Indices:
    """Return the minutes after a given one at which a target is usable."""
    time_s = night.time_s[column + 1 :]
    usable = np.zeros(time_s.size, dtype=bool)
    for stretch in night.targets[row].usable:
        usable |= (time_s >= stretch.start_s) & (time_s <= stretch.end_s)
    return np.flatnonzero(usable) + column + 1


def low(night: Night, row: int, column: int) -> Low:
    """Return how low a target is, and its greatest altitude while usable later, if that is clearly more."""
    now_deg = float(night.altitude_deg[row, column])
    later = usable_after(night, row, column)
    if not later.size:
        return Low(now_deg, None)
    best = int(later[np.argmax(night.altitude_deg[row, later])])
    best_deg = float(night.altitude_deg[row, best])
    if best_deg < now_deg + WORTH_DEG:
        return Low(now_deg, None)
    return Low(now_deg, AltitudeAt(best_deg, float(night.time_s[best])))


def moon_down_later(night: Night, row: int, column: int) -> int | None:
    """Return the first minute after moonset if a target is usable for a while then, else None."""
    later = usable_after(night, row, column)
    dark = later[night.moon.altitude_deg[later] <= 0.0]
    return int(dark[0]) if dark.size >= WORTH_MIN else None


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
    columns = usable_after(night, row, -1)
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
