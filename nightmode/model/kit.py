"""What the observer carries: telescope, eyepieces, Barlows, filters, finder."""

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field, model_validator

from nightmode.errors import UnfitError
from nightmode.model.base import Model, Name

Barrel = Literal[0.965, 1.25, 2]  # type: ignore[valid-type]  # the standard has no place for a float
Passband = Literal["narrowband", "oiii", "hbeta", "broadband", "neutral", "colour"]


class View(StrEnum):
    """How an instrument shows the sky: as the eye does, by half a turn round, or left for right."""

    UPRIGHT = "upright"
    TURNED = "turned"
    MIRRORED = "mirrored"


def usual_view(obstruction_mm: float) -> View:
    """Return how most telescopes show the field: two mirrors turn it, lens and star diagonal mirror it."""
    return View.TURNED if obstruction_mm else View.MIRRORED


class Telescope(Model):
    """A telescope. transmission is the fraction of light that mirrors and lenses pass on.

    view is how it shows the field, where its owner says so; `shows` is that, or what is usual.
    """

    name: Name
    aperture_mm: float = Field(ge=20, le=2000)
    focal_length_mm: float = Field(ge=50, le=20000)
    obstruction_mm: float = Field(default=0.0, ge=0, le=1500)
    transmission: float = Field(default=0.85, gt=0.1, le=1)
    barrel_in: Barrel = 1.25
    view: Annotated[View, Field(strict=False)] | None = None

    @property
    def shows(self) -> View:
        """How it shows the field."""
        return self.view or usual_view(self.obstruction_mm)

    @model_validator(mode="after")
    def _light_gets_past(self) -> "Telescope":
        if self.obstruction_mm >= self.aperture_mm:
            raise UnfitError(
                "has an obstruction_mm as large as aperture_mm", "write the smaller mirror's width"
            )
        return self


class Binoculars(Model):
    """Binoculars: two eyes at one fixed power. mounted says that they stand on something steady."""

    name: Name
    magnification: float = Field(ge=2, le=60)
    aperture_mm: float = Field(ge=15, le=200)
    true_field_deg: float = Field(gt=0.3, le=20)
    transmission: float = Field(default=0.9, gt=0.1, le=1)
    mounted: bool = False

    @property
    def obstruction_mm(self) -> float:
        """Nothing stands in the way."""
        return 0.0

    @property
    def shows(self) -> View:
        """Their prisms turn the field upright."""
        return View.UPRIGHT


Instrument = Telescope | Binoculars


class Eyepiece(Model):
    """An eyepiece; field_stop_mm gives the truer field where the maker states it."""

    name: Name
    focal_length_mm: float = Field(ge=1, le=120)
    apparent_field_deg: float = Field(default=50.0, ge=20, le=120)
    field_stop_mm: float | None = Field(default=None, gt=0, le=60)
    barrel_in: Barrel = 1.25


class Barlow(Model):
    """A Barlow or other negative lens; factor multiplies the focal length."""

    name: Name
    factor: float = Field(ge=0.3, le=6)
    barrel_in: Barrel = 1.25


class Filter(Model):
    """A filter by what it passes."""

    name: Name
    passband: Passband


class Finder(Model):
    """An optical finder (aperture, power, field) or a bullseye sight (diameters of its circles).

    view as with the telescope: one looks through a bullseye as through a window, and a straight optical
    finder turns the field.
    """

    name: Name
    kind: Literal["optical", "bullseye"]
    aperture_mm: float | None = Field(default=None, gt=0, le=200)
    magnification: float | None = Field(default=None, gt=0, le=60)
    field_deg: float | None = Field(default=None, gt=0, le=20)
    rings_deg: tuple[Annotated[float, Field(gt=0, le=20)], ...] = Field(default=(), max_length=8)
    view: Annotated[View, Field(strict=False)] | None = None

    @property
    def shows(self) -> View:
        """How it shows the field."""
        return self.view or (View.UPRIGHT if self.kind == "bullseye" else View.TURNED)


class Kit(Model):
    """Everything carried to one instrument for one night: a telescope, or binoculars in its place."""

    telescope: Instrument
    eyepieces: tuple[Eyepiece, ...] = ()
    barlows: tuple[Barlow, ...] = ()
    filters: tuple[Filter, ...] = ()
    finders: tuple[Finder, ...] = ()
