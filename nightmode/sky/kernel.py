"""Opening the ephemeris: the one place of this room that touches a file, and never the network."""

import datetime as dt
import importlib.util
import struct
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from nightmode.arrays import distinct
from nightmode.constants import DAY_S
from nightmode.errors import NightmodeError
from nightmode.records import Record
from nightmode.sky.bodies import BODIES
from nightmode.sky.smooth import chebyshev, coefficients, node_places

if TYPE_CHECKING:
    from skyfield.jpllib import SpiceKernel
    from skyfield.timelib import Time, Timescale
    from skyfield.vectorlib import VectorFunction

#: Years that the DE421 kernel serves with a margin for light time (it runs from 1899-07-29 to 2053-10-09).
FIRST_YEAR, LAST_YEAR = 1900, 2050
_FIRST_S = dt.datetime(FIRST_YEAR, 1, 1, tzinfo=dt.UTC).timestamp() - DAY_S
_LAST_S = dt.datetime(LAST_YEAR + 1, 1, 1, tzinfo=dt.UTC).timestamp() + DAY_S
#: Days in a piece of the slow part of the Earth's turning, and its nodes in each.
_SLOW_DAYS, _SLOW_COUNT = 4.0, 8

#: The Sun, as Skyfield numbers it.
_SUN = 10
_SEGMENT = {name: f"{name} barycenter" for name in ("jupiter", "saturn", "uranus", "neptune")}


class Sky(Record, eq=False):
    """The time scale and the planetary ephemeris, opened once and passed on."""

    timescale: "Timescale"
    kernel: "SpiceKernel"

    def body(self, name: str) -> "VectorFunction":
        """Return the ephemeris of a body ("sun", "earth", "moon", "saturn", ...).

        The giant planets are taken at the barycentre of their systems (less than 0.1 arcsec off).
        """
        if name not in {*BODIES, "sun", "earth"}:
            raise NightmodeError(name, "is not a body of the ephemeris", f"write one of {', '.join(BODIES)}")
        return self.kernel[_SEGMENT.get(name, name)]

    def time(self, time_s: float | np.ndarray, turning: bool = True) -> "Time":
        """Return instants, given in Unix seconds, as times that the ephemeris understands.

        The slow changes of the Earth's axis (precession, nutation, and the difference between sidereal time
        and the Earth's rotation angle) are worked out at a few instants only: see `_turn_slowly`. With
        turning=False they are left out; directions from the Earth's centre do not need them. NightmodeError
        outside the years of the ephemeris.
        """
        seconds = np.asarray(time_s, dtype=float)
        check_years(seconds)
        days, rest = np.divmod(seconds, DAY_S)
        time = self.timescale.utc(1970, 1, 1 + days, 0, 0, rest)
        if turning:
            _turn_slowly(time)
        return time

    def time_of_tt(self, whole_jd: float, days: np.ndarray) -> "Time":
        """Return the instants so many days of TT, (T,), after a whole Julian day."""
        time = self.timescale.tt_jd(whole_jd, days)
        _turn_slowly(time)
        return time


def tt_days(time: "Time") -> tuple[float, np.ndarray]:
    """Return a whole Julian day, and how many days of TT after it the instants (T,) of a time are."""
    whole = np.atleast_1d(time.whole)
    return float(whole[0]), whole - whole[0] + time.tt_fraction


def bends_light(body: str) -> tuple[int, ...]:
    """Return what bends the light of a body on its way here, as Skyfield numbers it (its `deflectors`).

    The Sun does, by up to 2 arcsec, but not its own light, nor that of the Moon, which starts on this side
    of it (0.00001 arcsec). Jupiter and Saturn count for nothing: 0.017 arcsec at most, beside their limbs.
    """
    return () if body in ("sun", "moon") else (_SUN,)


def check_years(time_s: float | np.ndarray) -> None:
    """Raise NightmodeError if any instant in Unix seconds lies outside the years of the ephemeris."""
    if not np.all(within_years(time_s)):
        raise years_error()


def within_years(time_s: float | np.ndarray) -> np.ndarray:
    """Return whether each instant in Unix seconds lies within the years of the ephemeris."""
    seconds = np.asarray(time_s, dtype=float)
    return (seconds >= _FIRST_S) & (seconds <= _LAST_S)


def years_error() -> NightmodeError:
    """Return the error for a night that the ephemeris does not cover."""
    return NightmodeError(
        "night",
        f"lies outside the years {FIRST_YEAR} to {LAST_YEAR} that the ephemeris covers",
        f"choose a date from {FIRST_YEAR} to {LAST_YEAR}",
    )


def _turn_slowly(time: "Time") -> None:
    """Give instants the slow part of the Earth's turning from the pieces of time that they lie in.

    IAU 2000A at every minute of a night costs 0.1 s. The fastest terms of nutation that count run in
    five days and more; through the nodes the angles come within 0.000001 arcsec. Left to Skyfield where the
    instants lie so far apart that the nodes would be more than they are.
    """
    from skyfield.earthlib import earth_rotation_angle

    if not time.shape:
        return
    number, within_days = np.divmod(time.tt, _SLOW_DAYS)
    pieces = distinct(number)
    if len(pieces) > max(1, number.size // _SLOW_COUNT):
        return
    slow = np.empty((10, number.size))
    for piece in pieces:
        here = np.flatnonzero(number == piece)
        slow[:, here] = _slow_part(piece) @ chebyshev(2.0 * within_days[here] / _SLOW_DAYS - 1.0, _SLOW_COUNT)
    # Skyfield works these two out when they are first asked for, and keeps them under these names.
    time.M = slow[:9].reshape(3, 3, -1)
    time.gast = (earth_rotation_angle(time.whole, time.ut1_fraction) + slow[9]) % 1.0 * 24.0


@lru_cache(maxsize=128)
def _slow_part(piece: float) -> np.ndarray:
    """Return the coefficients (10, nodes) of one piece of time, counted from Julian day 0 of TT.

    Precession and nutation as a matrix row by row, then what sidereal time has over the rotation angle, in
    turns.
    """
    from skyfield.earthlib import earth_rotation_angle

    days = (1.0 + node_places(_SLOW_COUNT)) * (_SLOW_DAYS / 2.0)
    few = _timescale().tt_jd(piece * _SLOW_DAYS, days)
    ahead = few.gast / 24.0 - earth_rotation_angle(few.whole, few.ut1_fraction)
    return coefficients(np.vstack([few.M.reshape(9, -1), (ahead + 0.5) % 1.0 - 0.5]))


def kernel_path() -> Path:
    """Return where the DE421 kernel lies, found without importing the package that carries it.

    Importing it would print a warning about the age of an Earth-rotation file that is not used here.
    """
    spec = importlib.util.find_spec("skyfield_data")
    if spec is None or not spec.submodule_search_locations:
        raise NightmodeError("ephemeris", "the package skyfield-data is missing", "install nightmode again")
    return Path(next(iter(spec.submodule_search_locations))) / "data" / "de421.bsp"


def _check_whole(kernel: "SpiceKernel", path: Path) -> None:
    """Raise ValueError if the file ends before its last segment does, KeyError if a body is missing."""
    last_byte = max(segment.end_i for segment in kernel.spk.segments) * 8
    if path.stat().st_size < last_byte:
        raise ValueError("it is cut short")
    for name in (*BODIES, "sun", "earth"):
        kernel[_SEGMENT.get(name, name)]


def open_sky(path: Path | None = None) -> Sky:
    """Open the time scale built into Skyfield and the DE421 kernel (or the one at `path`).

    NightmodeError if the kernel is missing or broken. Nothing is ever downloaded.
    """
    from skyfield.jpllib import SpiceKernel

    path = path or kernel_path()
    try:
        kernel = SpiceKernel(str(path))
        _check_whole(kernel, path)
    except (OSError, ValueError, KeyError, struct.error) as problem:
        raise NightmodeError(
            str(path), f"cannot be read as an ephemeris ({problem})", "install nightmode again"
        ) from problem
    return Sky(timescale=_timescale(), kernel=kernel)


@cache
def _timescale() -> "Timescale":
    """Return the time scale by the table of Earth rotation that Skyfield carries.

    As its Loader makes it; that one also knows how to download, and imports half a web browser for it.
    """
    from skyfield.functions import load_bundled_npy
    from skyfield.timelib import Timescale

    table = load_bundled_npy("iers.npz")
    tt_jd = table["tt_jd_minus_arange"] + np.arange(len(table["tt_jd_minus_arange"]))
    delta_t_s = (table["delta_t_1e7"] / 1e7).round(7)
    return Timescale((tt_jd, delta_t_s), table["leap_dates"], table["leap_offsets"])
