"""The arcs of fixed directions above an altitude, in closed form: when they can cross it."""

import numpy as np

from nightmode.arrays import Array, Indices
from nightmode.constants import DAY_S
from nightmode.records import Record
from nightmode.sky.refraction import true_deg
from nightmode.sky.vantage import Vantage

#: The Earth's turn in seconds, and how fast it turns, radians a second (IAU 2000: 1.00273781191135448 a day).
_TURN_S = DAY_S / 1.00273781191135448
_RATE = 2.0 * np.pi / _TURN_S
#: How much altitudes by these arcs can differ from those of the tracks, in degrees: a leap second turns the
#: sky by 15 arcsec; aberration, precession and nutation change by some tenths; refraction is interpolated.
_MARGIN_DEG = 0.005


class Arcs(Record, eq=False):
    """N directions over a night, (N,) each: when they culminate, and what gives their altitude."""

    transit_s: Array
    sine: Array
    cosine: Array

    def half_s(self, apparent_deg: Array) -> Array:
        """Return for how many seconds before and after transit they are above apparent altitudes (N,).

        0 where they never are, half a turn where they always are, NaN where that is undefined (at a pole).
        """
        up = np.sin(np.radians(true_deg(apparent_deg)))
        with np.errstate(divide="ignore", invalid="ignore"):
            cosine = (up - self.sine) / self.cosine
        return np.arccos(np.clip(cosine, -1.0, 1.0)) / _RATE


def arcs(vantage: Vantage, vectors: Array) -> Arcs:
    """Return the arcs of directions (N, 3) on ICRS axes over the instants of a vantage.

    cos H = (sin h - sin φ sin δ) / (cos φ cos δ) (Meeus, Astronomical Algorithms, chapter 15), with the place
    of the date in the middle of the instants.
    """
    middle = vantage.time_s.size // 2
    seen = vectors + vantage.beta[:, middle]
    north, east, up = vantage.rotation[:, :, middle] @ (seen / np.linalg.norm(seen, axis=1)[:, None]).T
    latitude = np.radians(vantage.latitude_deg)
    to_meridian = up * np.cos(latitude) - north * np.sin(latitude)
    hour_angle = np.arctan2(-east, to_meridian)
    return Arcs(
        transit_s=vantage.time_s[middle] - hour_angle / _RATE,
        sine=np.sin(latitude) * (up * np.sin(latitude) + north * np.cos(latitude)),
        cosine=np.cos(latitude) * np.hypot(to_meridian, east),
    )


def cells_between(
    vantage: Vantage, vectors: Array, low_deg: Array, high_deg: Array
) -> tuple[Indices, Indices]:
    """Return the cells (rows, columns) where directions may be between apparent altitudes low and high (N,).

    The columns are those of the vantage, which must be evenly spaced. Everywhere else a direction is above
    high or below low. The first and the last column, and one more column on either side of each run, are
    always included. The cells are in order of row, then column. A direction that is NaN gets all cells of its
    row.
    """
    time_s = vantage.time_s
    found = arcs(vantage, vectors)
    longest = found.half_s(low_deg - _MARGIN_DEG)
    shortest = found.half_s(high_deg + _MARGIN_DEG)
    unknown = np.isnan(longest) | np.isnan(shortest)
    starts, ends = [np.zeros_like(longest)], [np.zeros_like(longest)]
    last, step_s = time_s.size - 1, (time_s[-1] - time_s[0]) / (time_s.size - 1)
    for turn in (-1, 0, 1):
        for start_s, end_s in ((-longest, -shortest), (shortest, longest)):
            transit_s = found.transit_s + turn * _TURN_S - time_s[0]
            starts.append(np.floor((transit_s + start_s) / step_s))
            ends.append(np.ceil((transit_s + end_s) / step_s))
    starts.append(np.full_like(longest, last))
    ends.append(np.full_like(longest, last))
    first = np.array(starts).T
    until = np.array(ends).T
    first[unknown], until[unknown] = 0.0, float(last)
    return _cells(np.clip(first, 0, last + 1), np.clip(until, -1, last), time_s.size)


def _cells(first: Array, until: Array, width: int) -> tuple[Indices, Indices]:
    """Return the cells of runs of columns (N, R), both ends included, each cell once and in order."""
    rows = np.arange(len(first))[:, None] * width
    begins = (rows + first).astype(np.intp).ravel()
    ends = (rows + until).astype(np.intp).ravel()
    order = np.argsort(begins, kind="stable")
    begins, ends = begins[order], ends[order]
    reached = np.maximum.accumulate(ends)
    begins[1:] = np.maximum(begins[1:], reached[:-1] + 1)
    lengths = np.maximum(ends - begins + 1, 0)
    offsets = np.cumsum(lengths) - lengths
    cells = np.repeat(begins - offsets, lengths) + np.arange(lengths.sum())
    return np.divmod(cells, width)
