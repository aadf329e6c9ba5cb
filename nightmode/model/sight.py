"""What there is to see of a target on a night: figures only; `wording` makes sentences of them.

Instants are Unix seconds.
"""

from enum import StrEnum

from nightmode.records import Record


class Pair(Record):
    """A double star on one night.

    position_angle_deg    from north through east, equinox 2000; None where it is not known
    epoch_year            for which separation and angle hold; None where it is not known
    companion_clock       clock hour of the companion, 0 to 12, with the drift of the stars put at 3 o'clock,
                          as this telescope shows it; None without an angle, and in the hand
    shown_at, roomy_at    powers that show two stars, and two with room between
    aperture_mm           the least aperture that splits them
    in_glare              whether the companion is in the glare of the brighter star at low power
    """

    separation_arcsec: float
    position_angle_deg: float | None
    epoch_year: float | None
    companion_clock: float | None
    shown_at: float
    roomy_at: float
    aperture_mm: float
    in_glare: bool


class Sight(StrEnum):
    """What there is to see of a planet, or of a star, at a moment."""

    TRANSIT = "transit"
    SHADOW = "shadow"
    ECLIPSE = "eclipse"
    OCCULTATION = "occultation"
    HALF_LIT = "half lit"
    RING_THIN = "ring nearly edge-on"
    MOON_NEAR = "Moon close by"
    RED_SPOT = "Red Spot on the meridian"
    STAR_ECLIPSE = "eclipse of a star by its companion"


class Moment(Record):
    """A sight that begins and ends; instants are in Unix seconds.

    moon            of Jupiter
    separation_deg  how far our own Moon is from the planet
    watch           the stretches worth watching, (begin, end); none for what lasts all night
    star            that is in eclipse; deepest_s when it is faintest, error_s by how much that may be wrong
    """

    begins_s: float
    ends_s: float
    sight: Sight
    moon: str = ""
    separation_deg: float | None = None
    watch: tuple[tuple[float, float], ...] = ()
    star: str = ""
    deepest_s: float | None = None
    error_s: float = 0.0
