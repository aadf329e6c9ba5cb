"""A target as the plan gives it, and as a subject, of which catalogue or ephemeris have told the rest."""

from collections.abc import Mapping
from enum import StrEnum
from typing import Annotated, Any

from pydantic import AfterValidator, Field, model_validator

from nightmode.errors import UnfitError
from nightmode.kinds import Kind, ShinesIn, usual_light
from nightmode.model.base import Model, Name, Remark, not_too_small, plain
from nightmode.model.elements import Elements
from nightmode.model.position import parse_position, parse_selenographic
from nightmode.model.variable import Variability
from nightmode.records import NamedRecord, field_names


def _position(text: str) -> str:
    parse_position(text)
    return text


def _selenographic(text: str) -> str:
    parse_selenographic(text)
    return text


SizeArcmin = Annotated[float, Field(gt=0, le=1200), AfterValidator(not_too_small)]

SeparationArcsec = Annotated[float, Field(gt=0, le=3600), AfterValidator(not_too_small)]

Position = Annotated[str, Field(max_length=60), AfterValidator(plain), AfterValidator(_position)]

Selenographic = Annotated[str, Field(max_length=60), AfterValidator(plain), AfterValidator(_selenographic)]


class Target(Model):
    """One `[[target]]` of a plan: a name that the catalogue knows, or a name with kind and position."""

    name: Name
    kind: Annotated[Kind, Field(strict=False)] | None = None
    position: Position | None = None
    selenographic: Selenographic | None = None
    magnitude: float | None = Field(default=None, ge=-30, le=25)
    companion_magnitude: float | None = Field(default=None, ge=-30, le=25)
    size_arcmin: SizeArcmin | None = None
    size_minor_arcmin: SizeArcmin | None = None
    separation_arcsec: SeparationArcsec | None = None
    position_angle_deg: float | None = Field(default=None, ge=0, le=360)
    note: Remark = ""
    look_for: Remark = ""
    min_altitude_deg: float | None = Field(default=None, ge=0, le=85)
    telescope: Name | None = None
    eyepiece: Name | None = None

    @model_validator(mode="after")
    def _whole(self) -> "Target":
        if self.position and not self.kind:
            raise UnfitError("has a position but no kind", 'add kind, for example kind = "galaxy"')
        if self.selenographic and self.kind not in (None, Kind.LUNAR_FEATURE):
            raise UnfitError("has a place on the Moon but another kind", 'write kind = "lunar feature"')
        return self


class Subject(NamedRecord):
    """A target of which everything needed is known; what that is depends on its family, below.

    note, look_for, min_altitude_deg, telescope and eyepiece are the plan's own.
    """

    name: str
    kind: Kind
    constellation: str = ""
    other_names: tuple[str, ...] = ()
    note: str = ""
    look_for: str = ""
    min_altitude_deg: float | None = None
    telescope: str | None = None
    eyepiece: str | None = None

    @property
    def sun_below_deg(self) -> float:
        """The Sun's altitude, in degrees, below which the sky is dark enough for this target."""
        return self.kind.sun_below_deg


class Fixed(Subject):
    """A subject that keeps its place among the stars.

    ra_deg and dec_deg are J2000. Proper motion is per year, in right ascension on the sky (with the cosine
    of the declination in it); zero for what does not move. The magnitude is V, or B where magnitude_band
    says so; None where nothing is published.
    """

    ra_deg: float
    dec_deg: float
    motion_ra_mas: float = 0.0
    motion_dec_mas: float = 0.0
    magnitude: float | None = None
    magnitude_band: str = "V"


class DeepSky(Fixed):
    """A cluster, nebula, galaxy or asterism. Sizes are None where none is published.

    hubble_type is the galaxy's, as catalogued. half_light_arcmin is the radius within which half of the
    light comes; tenth_star_magnitude the V of a cluster's tenth brightest star, or of the faintest that makes
    an asterism; surface_brightness_mag the mean V mag/arcsec2 over the size (of a dark nebula: of the light
    behind it that it takes away); opacity a dark nebula's, 1 to 6: the darker, the more of that light it
    takes. told_dex is by how much observers tell it easier (positive) or harder than its figures say, None if
    they agree or nothing is told. shines_in is None where the kind's usual light will do; of a dark nebula it
    is that behind it, which the filter that helps lets pass.
    """

    size_arcmin: float | None = None
    size_minor_arcmin: float | None = None
    hubble_type: str = ""
    half_light_arcmin: float | None = None
    tenth_star_magnitude: float | None = None
    surface_brightness_mag: float | None = None
    opacity: int | None = None
    told_dex: float | None = None
    shines_in: ShinesIn | None = None

    @property
    def light(self) -> ShinesIn:
        """In what light it shines: what is catalogued, else what is usual for its kind."""
        return self.shines_in or usual_light(self.kind)


class Star(Fixed):
    """A star that looks single; varies tells how its light changes, None if it does not or is not known to.

    The magnitude of a variable star is a usual one; on a night it is the one expected then. companion is the
    star with another beside it that nobody means by its name, too close, too faint or too far; None if none
    is catalogued.
    """

    varies: Variability | None = None
    companion: "Double | None" = None


class Orbit(NamedRecord):
    """The apparent orbit of a companion about its primary, as catalogues of orbits give it.

    periastron_year is that of passage; node_deg is the position angle of the node, equinox 2000; omega_deg
    the longitude of periastron.
    """

    period_years: float
    periastron_year: float
    eccentricity: float
    axis_arcsec: float
    inclination_deg: float
    node_deg: float
    omega_deg: float


class Double(Fixed):
    """A double star: magnitude is the brighter star's; None where nothing is published.

    position_angle_deg is the companion's, from north through east, equinox 2000; it and the separation hold
    for epoch_year. Where there is an orbit they follow from it for any year. varies is the brighter star's.
    closest_arcsec is the least separation where stars of a pair are pairs themselves, as in Epsilon Lyrae.
    """

    companion_magnitude: float | None = None
    separation_arcsec: float | None = None
    closest_arcsec: float | None = None
    position_angle_deg: float | None = None
    epoch_year: float | None = None
    orbit: Orbit | None = None
    varies: Variability | None = None

    @property
    def difference_mag(self) -> float:
        """By how many magnitudes the companion is fainter; 0 if that is not known."""
        if self.magnitude is None or self.companion_magnitude is None:
            return 0.0
        return abs(self.companion_magnitude - self.magnitude)


class Body(Subject):
    """The Moon or a planet; body is its name as the ephemeris room has it: "moon", "saturn", ..."""

    body: str

    @property
    def sun_below_deg(self) -> float:
        """The Sun's altitude, in degrees, below which the sky is dark enough for the Moon or this planet.

        Venus and Mercury can be observed from sunset on, Jupiter with the Sun 3 degrees down (ours).
        """
        return _PLANET_SUN_BELOW_DEG.get(self.body, self.kind.sun_below_deg)


#: The Moon as a whole.
MOON = Body(name="Moon", kind=Kind.MOON, body="moon")


_PLANET_SUN_BELOW_DEG = {"venus": -50 / 60, "mercury": -50 / 60, "jupiter": -3.0}


class Illumination(StrEnum):
    """The light under which a feature of the Moon can be seen well: a low Sun, a very low or a high one."""

    LOW = "low"
    LOWEST = "lowest"
    HIGH = "high"


class FeatureSort(StrEnum):
    """What a feature of the Moon is, in the words of observers; `FEATURE` where that is not known."""

    CRATER = "crater"
    PLAIN = "plain"
    SEA = "sea"
    MOUNTAIN = "mountain"
    RANGE = "range"
    SCARP = "scarp"
    VALLEY = "valley"
    RILLE = "rille"
    RIDGE = "ridge"
    DOME = "dome"
    RAYS = "rays"
    FEATURE = "feature"


class LunarFeature(Body):
    """A feature of the Moon: selenographic latitude and longitude (east positive), None where not known.

    light        under which it shows, any of these
    diameter_km  or length; size_arcmin is how large it looks at the Moon's mean distance, seen face on
    detail       what there is to see on it beyond the whole, and its size, detail_km; detail_is_line where
                 that is the width of something long and narrow, such as a rille
    width_km     of what is long and narrow; rise_km of what stands above its surroundings
    """

    body: str = "moon"
    latitude_deg: float | None = None
    longitude_deg: float | None = None
    size_arcmin: float | None = None
    sort: FeatureSort = FeatureSort.FEATURE
    light: tuple[Illumination, ...] = (Illumination.LOW,)
    diameter_km: float | None = None
    detail: str = ""
    detail_km: float | None = None
    detail_is_line: bool = False
    width_km: float | None = None
    rise_km: float | None = None


_FAMILY: dict[Kind, type[Fixed]] = {Kind.STAR: Star, Kind.VARIABLE: Star, Kind.DOUBLE: Double}


class Orbiting(Subject):
    """A comet or minor planet by its elements; where it stands depends on the night (`Comet`, `MinorPlanet`).

    magnitude and size_arcmin are the plan's own, above what the elements give.
    """

    elements: Elements
    magnitude: float | None = None
    size_arcmin: float | None = None


class Comet(DeepSky):
    """A comet on one night: its place and magnitude in the middle of it, and how it moves.

    elements_age_days is how far the night is from the elements' epoch, either way.
    """

    elements: Elements
    motion_arcsec_per_h: float
    elements_age_days: float


class MinorPlanet(Star):
    """A minor planet on one night, as `Comet`."""

    elements: Elements
    motion_arcsec_per_h: float
    elements_age_days: float


def fixed(kind: Kind, values: Mapping[str, Any]) -> Fixed:
    """Return a fixed subject in the family of its kind; values that the family lacks are left out."""
    family = _FAMILY.get(kind, DeepSky)
    known = {name: values[name] for name in field_names(family) if name in values}
    return family(**known | {"kind": kind})


def variability(subject: Subject) -> Variability | None:
    """Return how the light of a subject changes, None if it does not."""
    return subject.varies if isinstance(subject, Star | Double) else None


def size_arcmin(subject: Subject) -> float | None:
    """Return the apparent size of a subject in arcminutes, None if the catalogue has none."""
    return subject.size_arcmin if isinstance(subject, DeepSky | LunarFeature) else None


def shines_in(subject: Subject) -> ShinesIn:
    """Return the light in which a subject shines; starlight for all but deep-sky objects."""
    return subject.light if isinstance(subject, DeepSky) else ShinesIn.STARLIGHT
