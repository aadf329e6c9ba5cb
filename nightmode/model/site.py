"""The observing site: position, time zone, darkness of the sky, horizon line."""

from typing import Annotated
from zoneinfo import ZoneInfo

from pydantic import AfterValidator, Field, model_validator

from nightmode import defaults
from nightmode.errors import UnfitError
from nightmode.model.base import Model, Name


def zone_of(name: str) -> ZoneInfo | None:
    """Return the time zone of this name, or None if this machine does not know it."""
    try:
        return ZoneInfo(name)
    except (ValueError, OSError, LookupError):
        return None


def _zone(name: str) -> str:
    if zone_of(name) is None:
        raise UnfitError(f"{name[:40]!r} is not a time zone", "write an IANA name like Europe/Vienna")
    return name


HorizonPoint = tuple[Annotated[float, Field(ge=0, le=360)], Annotated[float, Field(ge=-5, le=89)]]


class Site(Model):
    """A place to observe from. East longitude is positive; at most one figure for the sky's brightness."""

    name: Name
    latitude_deg: float = Field(ge=-90, le=90)
    longitude_deg: float = Field(ge=-180, le=360)
    elevation_m: float = Field(default=0.0, ge=-450, le=6000)
    timezone: Annotated[Name, AfterValidator(_zone)] = "UTC"
    sky_brightness: float | None = Field(default=None, ge=14, le=22.2)
    naked_eye_limit_mag: float | None = Field(default=None, ge=0, le=8)
    bortle: int | None = Field(default=None, ge=1, le=9)
    extinction: float = Field(default=defaults.MAG_PER_AIRMASS, ge=0.05, le=2)
    horizon: tuple[HorizonPoint, ...] = Field(default=(), max_length=720)

    @model_validator(mode="after")
    def _one_brightness(self) -> "Site":
        given = [self.sky_brightness, self.naked_eye_limit_mag, self.bortle]
        if sum(value is not None for value in given) > 1:
            raise UnfitError("gives more than one of sky_brightness, naked_eye_limit_mag, bortle", "keep one")
        return self

    @property
    def zone(self) -> ZoneInfo:
        """The site's time zone."""
        return ZoneInfo(self.timezone)
