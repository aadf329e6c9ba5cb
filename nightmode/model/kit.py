"""What the observer carries: telescope, eyepieces, Barlows, filters, finder."""

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AfterValidator, Discriminator, Field, Tag, model_validator

from nightmode import defaults
from nightmode.errors import UnfitError
from nightmode.model.base import Model, Name, not_too_small

Barrel = Literal[0.965, 1.25, 2]  # type: ignore[valid-type]  # the standard has no place for a float
Passband = Literal["narrowband", "oiii", "hbeta", "broadband", "neutral", "colour"]


class View(StrEnum):
    """How an instrument shows the sky: upright, turned by half a turn, or mirrored."""

    UPRIGHT = "upright"
    TURNED = "turned"
    MIRRORED = "mirrored"


def usual_view(obstruction_mm: float) -> View:
    """Return how most telescopes show the field: two mirrors turn it, lens and star diagonal mirror it."""
    return View.TURNED if obstruction_mm else View.MIRRORED


class Telescope(Model):
    """A telescope. transmission is the fraction of light that mirrors and lenses pass on.

    view is how it shows the field, if the owner says so; `shows` is that, or the usual view.
    """

    name: Name
    aperture_mm: float = Field(ge=20, le=2000)
    focal_length_mm: float = Field(ge=50, le=20000)
    obstruction_mm: float = Field(default=0.0, ge=0, le=1500)
    transmission: float = Field(default=defaults.TRANSMISSION, gt=0.1, le=1)
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


#: The widest true field of binoculars, in degrees.
WIDEST_FIELD_DEG = 20
Power = Annotated[float, Field(ge=2, le=100)]
TrueField = Annotated[float, Field(gt=0.3, le=WIDEST_FIELD_DEG)]


def _number_or_list(value: object) -> str:
    """Return "number" or "list", so that an error speaks only of the spelling used."""
    return "list" if isinstance(value, list | tuple) else "number"


OneOrMore = Discriminator(_number_or_list)
PowerOrZoom = Annotated[
    Annotated[Power, Tag("number")] | Annotated[tuple[Power, Power], Tag("list")], OneOrMore
]
FieldOrFields = Annotated[
    Annotated[TrueField, Tag("number")] | Annotated[tuple[TrueField, ...], Field(max_length=12), Tag("list")],
    OneOrMore,
]


class Binoculars(Model):
    """Binoculars, or a spotting scope with its eyepiece built in: fixed powers, an upright view.

    magnification is the one power, or the lowest and the highest of a zoom; magnifications holds several
    fixed powers instead, the lowest first. true_field_deg has a field for each. eyes is the number of eyes
    that look through; mounted says that they are on a mount.
    """

    name: Name
    magnification: PowerOrZoom | None = None
    magnifications: tuple[Power, ...] = Field(default=(), max_length=12)
    aperture_mm: float = Field(ge=15, le=200)
    true_field_deg: FieldOrFields
    transmission: float = Field(default=0.9, gt=0.1, le=1)
    eyes: Literal[1, 2] = 2
    mounted: bool = False

    @model_validator(mode="after")
    def _powers_and_fields(self) -> "Binoculars":
        if (self.magnification is None) == (not self.magnifications):
            said = "both magnification and magnifications" if self.magnifications else "no magnification"
            raise UnfitError(f"gives {said}", "write the one power, or magnifications = [20, 40, 60]")
        given = self._given
        if list(given) != sorted(set(given)):
            raise UnfitError("has magnifications that do not grow", "write the lowest first, like [20, 60]")
        if len(self._fields) != len(given):
            raise UnfitError(
                f"has {len(given)} of magnification and {len(self._fields)} of true_field_deg",
                "write as many true_field_deg as magnifications, like [2.2, 1.1]",
            )
        if list(self._fields) != sorted(self._fields, reverse=True):
            raise UnfitError(
                "has a true_field_deg that grows", "write the widest first: it goes with the lowest power"
            )
        return self

    @property
    def _given(self) -> tuple[float, ...]:
        if self.magnifications or self.magnification is None:
            return self.magnifications or ()
        return self.magnification if isinstance(self.magnification, tuple) else (self.magnification,)

    @property
    def _fields(self) -> tuple[float, ...]:
        return self.true_field_deg if isinstance(self.true_field_deg, tuple) else (self.true_field_deg,)

    @property
    def is_zoom(self) -> bool:
        """Whether every power between two can be set."""
        return isinstance(self.magnification, tuple)

    @property
    def settings(self) -> tuple[tuple[float, float], ...]:
        """The powers with their true fields in degrees, lowest first: of a zoom both ends and three between.

        Steps are of equal ratio, in the power as in the field (our own rule).
        """
        pairs = tuple(zip(self._given, self._fields, strict=True))
        if not self.is_zoom:
            return pairs
        (low, low_deg), (high, high_deg) = pairs
        steps = [
            (float(round(low * (high / low) ** (step / 4))), low_deg * (high_deg / low_deg) ** (step / 4))
            for step in (1, 2, 3)
        ]
        between = {power: round(field_deg, 2) for power, field_deg in steps if low < power < high}
        return pairs[0], *between.items(), pairs[1]

    @property
    def has_one_power(self) -> bool:
        """Whether there is only one power."""
        return len(self._given) == 1

    @property
    def obstruction_mm(self) -> float:
        """Always 0: they have no obstruction."""
        return 0.0

    @property
    def shows(self) -> View:
        """Their prisms turn the field upright."""
        return View.UPRIGHT


Instrument = Telescope | Binoculars


FocalLength = Annotated[float, Field(ge=1, le=120)]
ApparentField = Annotated[float, Field(ge=20, le=120)]
FieldStop = Annotated[float, Field(gt=0, le=60), AfterValidator(not_too_small)]


class Eyepiece(Model):
    """An eyepiece; field_stop_mm gives the truer field where the maker states it."""

    name: Name
    focal_length_mm: FocalLength
    apparent_field_deg: ApparentField = 50.0
    field_stop_mm: FieldStop | None = None
    barrel_in: Barrel = 1.25


class Zoom(Model):
    """A zoom eyepiece: focal length and apparent field at its shortest and at its longest end."""

    name: Name
    focal_length_mm: tuple[FocalLength, FocalLength]
    apparent_field_deg: tuple[ApparentField, ApparentField] = (50.0, 50.0)
    barrel_in: Barrel = 1.25

    @model_validator(mode="after")
    def _from_short_to_long(self) -> "Zoom":
        if self.focal_length_mm[0] >= self.focal_length_mm[1]:
            raise UnfitError(
                "has a focal_length_mm that does not grow", "write the shorter one first, like [8, 24]"
            )
        return self

    @property
    def settings(self) -> tuple[Eyepiece, ...]:
        """The eyepieces it stands for: both ends and three steps between, to half a millimetre.

        The steps have equal ratios; the field changes linearly with the focal length (our own rule).
        """
        short, long = self.focal_length_mm
        steps = [short * (long / short) ** (step / 4) for step in range(5)]
        rounded = (min(long, max(short, round(2 * step) / 2)) for step in steps[1:4])
        lengths = [short, *rounded, long]
        return tuple(self._at(length) for length in dict.fromkeys(lengths))

    def _at(self, length_mm: float) -> Eyepiece:
        (short, long), (at_short, at_long) = self.focal_length_mm, self.apparent_field_deg
        field_deg = at_short + (at_long - at_short) * (length_mm - short) / (long - short)
        name = f"{self.name} at {length_mm:g} mm"[-80:]
        return Eyepiece(
            name=name,
            focal_length_mm=length_mm,
            apparent_field_deg=round(field_deg, 1),
            barrel_in=self.barrel_in,
        )


def _one_length_or_two(value: object) -> str:
    """Return whether a table is an eyepiece or a zoom, so that an error speaks only of that one."""
    length = (
        value.get("focal_length_mm") if isinstance(value, dict) else getattr(value, "focal_length_mm", None)
    )
    return "zoom" if isinstance(length, list | tuple) else "eyepiece"


AnyEyepiece = Annotated[
    Annotated[Eyepiece, Tag("eyepiece")] | Annotated[Zoom, Tag("zoom")], Discriminator(_one_length_or_two)
]


class Barlow(Model):
    """A Barlow or other negative lens; factor multiplies the focal length."""

    name: Name
    factor: float = Field(ge=0.3, le=6)
    barrel_in: Barrel = 1.25


class Filter(Model):
    """A filter, known by its passband."""

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
    """An instrument, telescope or binoculars, with everything that belongs to it on one night."""

    telescope: Instrument
    eyepieces: tuple[Eyepiece, ...] = ()
    barlows: tuple[Barlow, ...] = ()
    filters: tuple[Filter, ...] = ()
    finders: tuple[Finder, ...] = ()
