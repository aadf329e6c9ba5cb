"""The place of a Solar System body in the sky, as it is seen. Numbers in, numbers out."""

from typing import TYPE_CHECKING

import numpy as np

from nightmode.records import Record

if TYPE_CHECKING:
    from skyfield.positionlib import ICRF


class BodyPath(Record, eq=False):
    """Apparent topocentric place of a body, (T,) each: J2000 axes in degrees, distance in km."""

    ra_deg: np.ndarray
    dec_deg: np.ndarray
    distance_km: np.ndarray


def body_path(position: "ICRF") -> BodyPath:
    """Return the place of an apparent position over its instants."""
    x, y, z = position.xyz.au
    return BodyPath(
        ra_deg=np.degrees(np.arctan2(y, x)) % 360.0,
        dec_deg=np.degrees(np.arctan2(z, np.hypot(x, y))),
        distance_km=position.distance().km,
    )
