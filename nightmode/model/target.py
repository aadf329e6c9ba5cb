"""A target as the plan gives it, and as it is once catalogue or ephemeris have said what it is."""

from typing import Annotated

from pydantic import AfterValidator, Field, model_validator

from nightmode.model.base import Model, Name, Remark, plain
from nightmode.model.kind import Kind
from nightmode.model.position import parse_position


def _position(text: str) -> str:
    parse_position(text)
    return text


Position = Annotated[str, Field(max_length=60), AfterValidator(plain), AfterValidator(_position)]


class Target(Model):
    """One `[[target]]` of a plan: a name the catalogue knows, or kind and position as well."""

    name: Name
    kind: Annotated[Kind, Field(strict=False)] | None = None
    position: Position | None = None
    magnitude: float | None = Field(default=None, ge=-30, le=25)
    companion_magnitude: float | None = Field(default=None, ge=-30, le=25)
    size_arcmin: float | None = Field(default=None, gt=0, le=1200)
    size_minor_arcmin: float | None = Field(default=None, gt=0, le=1200)
    separation_arcsec: float | None = Field(default=None, gt=0, le=3600)
    note: Remark = ""
    look_for: Remark = ""
    min_altitude_deg: float | None = Field(default=None, ge=0, le=85)
    eyepiece: Name | None = None

    @model_validator(mode="after")
    def _whole(self) -> "Target":
        if self.position and not self.kind:
            raise ValueError('has a position but no kind; add kind, for example kind = "galaxy"')
        return self


class Subject(Model):
    """A target of which everything needed is known: what it is, where it stands, how bright and large.

    ra_deg and dec_deg are J2000; None for a body of the Solar System, which `body` names
    ("moon", "saturn", ...). Magnitudes are V; None where nothing is published.
    hubble_type is the galaxy's, as catalogued. Proper motion is per year, in right ascension on the sky
    (with the cosine of the declination in it); zero for what does not move.
    """

    name: str
    kind: Kind
    ra_deg: float | None = None
    dec_deg: float | None = None
    motion_ra_mas: float = 0.0
    motion_dec_mas: float = 0.0
    body: str | None = None
    constellation: str = ""
    other_names: tuple[str, ...] = ()
    magnitude: float | None = None
    magnitude_band: str = "V"
    companion_magnitude: float | None = None
    size_arcmin: float | None = None
    size_minor_arcmin: float | None = None
    separation_arcsec: float | None = None
    hubble_type: str = ""
    note: str = ""
    look_for: str = ""
    min_altitude_deg: float | None = None
    eyepiece: str | None = None
