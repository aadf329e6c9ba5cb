"""All that a chart and its words need to know of one target at one moment."""

from collections.abc import Sequence

import numpy as np

from nightmode.aim.chain import Chain
from nightmode.aim.frame import altitude_azimuth, bearing_deg, frame
from nightmode.aim.guide import Guide
from nightmode.aim.shows import Air, Stars
from nightmode.arrays import Array, Flags
from nightmode.model.kit import View
from nightmode.records import Record

#: Above this altitude words say which way to face, as "up" has little meaning there.
OVERHEAD_DEG = 72.0


class FieldOfView(Record):
    """What a finder, or a telescope with an eyepiece, shows.

    is_rolled says that it is not known how far the field is turned, as it depends on where the observer
    stands: so with an eyepiece at the side of the telescope.
    """

    name: str
    power: float
    field_deg: float
    view: View
    is_rolled: bool = False

    def seen_deg(self, bearing_deg: float) -> float:
        """Return the bearing in which this instrument shows what is at a bearing on the sky."""
        if self.view is View.MIRRORED:
            return -bearing_deg % 360.0
        return (bearing_deg + 180.0) % 360.0 if self.view is View.TURNED else bearing_deg

    def as_shown(self, places: Array) -> Array:
        """Return places (..., 2), right and up, as this instrument shows them."""
        signs = {View.MIRRORED: (-1.0, 1.0), View.TURNED: (-1.0, -1.0)}.get(self.view, (1.0, 1.0))
        return places * np.array(signs)


class Extent(Record):
    """The size and shape of a target, to be drawn to scale, in degrees; None for what is not known.

    The position angle runs from north through east.
    """

    major_deg: float | None = None
    companion_deg: float | None = None
    position_angle_deg: float | None = None


class Pointing(Record, eq=False):
    """One target at one moment.

    called             the name of each star, "" if it has neither name nor letter
    rings_deg          the bullseye's circles, diameters, smallest first
    pole               direction (3,) of the celestial north pole
    horizon            the site's line, as in its file
    finder_margin_mag  (N,) how much brighter each star is than the finder's limit
    """

    name: str
    stars: Stars
    called: tuple[str, ...]
    guide: Guide
    air: Air
    rings_deg: tuple[float, ...]
    fist_deg: float
    pole: Array
    horizon: Sequence[tuple[float, float]]
    extent: Extent
    finder: FieldOfView | None
    finder_margin_mag: Array | None
    chain: Chain | None

    @property
    def altitude_deg(self) -> float:
        """The target's apparent altitude."""
        return float(altitude_azimuth(self.guide.target)[0])

    @property
    def azimuth_deg(self) -> float:
        """The target's azimuth."""
        return float(altitude_azimuth(self.guide.target)[1])

    @property
    def is_overhead(self) -> bool:
        """Whether it is so near the zenith that the observer leans back."""
        return self.altitude_deg > OVERHEAD_DEG

    @property
    def north_deg(self) -> float:
        """The bearing of celestial north at the target, clockwise from the zenith."""
        return float(bearing_deg(frame(self.guide.target), self.pole))

    @property
    def is_bright_enough(self) -> Flags:
        """Which stars (N,) the bare eye sees."""
        return self.stars.is_clear & (self.stars.margin_mag > 0.0)
