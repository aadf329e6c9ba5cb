"""The kinds of object, how dark the sky must be for each, and in what light it shines."""

from enum import StrEnum


class Kind(StrEnum):
    """What a target is, in the usual terms."""

    MOON = "moon"
    LUNAR_FEATURE = "lunar feature"
    PLANET = "planet"
    COMET = "comet"
    MINOR_PLANET = "minor planet"
    STAR = "star"
    VARIABLE = "variable star"
    DOUBLE = "double star"
    ASTERISM = "asterism"
    OPEN_CLUSTER = "open cluster"
    GLOBULAR_CLUSTER = "globular cluster"
    PLANETARY_NEBULA = "planetary nebula"
    EMISSION_NEBULA = "emission nebula"
    REFLECTION_NEBULA = "reflection nebula"
    DARK_NEBULA = "dark nebula"
    SUPERNOVA_REMNANT = "supernova remnant"
    CLUSTER_NEBULA = "cluster with nebula"
    NEBULA = "nebula"
    GALAXY = "galaxy"
    GALAXY_GROUP = "galaxy group"

    @property
    def sun_below_deg(self) -> float:
        """The Sun's altitude, in degrees, below which the sky is dark enough for this kind.

        Common practice, no published source: bright objects from the end of civil twilight,
        star clusters from nautical, everything faint and extended from astronomical.
        """
        return _SUN_BELOW_DEG.get(self, -18.0)

    @property
    def is_star_field(self) -> bool:
        """Whether targets of this kind are stars scattered over a field, and nothing else."""
        return self in STAR_FIELDS

    @property
    def is_point(self) -> bool:
        """Whether targets of this kind are judged by resolution, not by the contrast of a glow."""
        return self in POINTS


class ShinesIn(StrEnum):
    """The light in which an object shines; it decides which filter helps."""

    OXYGEN = "oiii"
    BOTH = "both"
    HYDROGEN = "hbeta"
    STARLIGHT = "starlight"


def usual_light(kind: Kind) -> ShinesIn:
    """Return the light in which objects of a kind usually shine."""
    if kind in (Kind.PLANETARY_NEBULA, Kind.SUPERNOVA_REMNANT):
        return ShinesIn.OXYGEN
    return ShinesIn.BOTH if kind in LINE_EMITTERS else ShinesIn.STARLIGHT


_SUN_BELOW_DEG = {
    Kind.MOON: -6.0,
    Kind.LUNAR_FEATURE: -6.0,
    Kind.PLANET: -6.0,
    Kind.MINOR_PLANET: -12.0,
    Kind.STAR: -6.0,
    Kind.VARIABLE: -6.0,
    Kind.DOUBLE: -6.0,
    Kind.ASTERISM: -12.0,
    Kind.OPEN_CLUSTER: -12.0,
    Kind.GLOBULAR_CLUSTER: -12.0,
}
#: Kinds seen as a single point of light, and judged by magnitude.
SINGLE = (Kind.STAR, Kind.VARIABLE, Kind.MINOR_PLANET)
STAR_FIELDS = frozenset({Kind.OPEN_CLUSTER, Kind.ASTERISM})
#: Kinds of which stars show one by one.
WITH_STARS = STAR_FIELDS | {Kind.CLUSTER_NEBULA}
STARS = frozenset({Kind.STAR, Kind.VARIABLE, Kind.DOUBLE})
POINTS = STARS | {Kind.MOON, Kind.LUNAR_FEATURE, Kind.PLANET, Kind.MINOR_PLANET}
LINE_EMITTERS = frozenset(
    {Kind.EMISSION_NEBULA, Kind.PLANETARY_NEBULA, Kind.SUPERNOVA_REMNANT, Kind.CLUSTER_NEBULA}
)
#: Kinds of which only a file of elements knows where they are.
ORBITING = frozenset({Kind.COMET, Kind.MINOR_PLANET})
#: Kinds that count as one group, so that a draft holds targets of several groups.
GROUPS = {
    "moon": (Kind.MOON, Kind.LUNAR_FEATURE),
    "planets": (Kind.PLANET,),
    "comets": (Kind.COMET, Kind.MINOR_PLANET),
    "doubles": (Kind.DOUBLE, Kind.STAR),
    "variables": (Kind.VARIABLE,),
    "clusters": (Kind.OPEN_CLUSTER, Kind.ASTERISM),
    "globulars": (Kind.GLOBULAR_CLUSTER,),
    "planetaries": (Kind.PLANETARY_NEBULA,),
    "nebulae": (
        Kind.EMISSION_NEBULA,
        Kind.REFLECTION_NEBULA,
        Kind.DARK_NEBULA,
        Kind.SUPERNOVA_REMNANT,
        Kind.CLUSTER_NEBULA,
        Kind.NEBULA,
    ),
    "galaxies": (Kind.GALAXY, Kind.GALAXY_GROUP),
}
GROUP_OF = {kind: group for group, kinds in GROUPS.items() for kind in kinds}
