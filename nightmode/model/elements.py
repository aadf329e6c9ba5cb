"""Orbits round the Sun: what is known of a comet or a minor planet."""

from pydantic import Field

from nightmode.model.base import Model

#: The Sun's gravity in au³ per day², by Gauss' constant 0.01720209895 (IAU 1976).
SUN_GM_AU3_PER_DAY2 = 0.01720209895**2


class Elements(Model):
    """Elements of one orbit, on the ecliptic of J2000. Instants are Julian dates (TT), angles degrees.

    epoch_jd is when the elements fit best; they are good for weeks or months around it. magnitude_at_1_au
    is a comet's total magnitude or a minor planet's H, None where it is not given. slope is G of the H, G
    system for a minor planet; for a comet the factor K in m = H + 5 log10(delta) + 2.5 K log10(r).
    """

    name: str
    is_comet: bool
    perihelion_au: float = Field(gt=0, le=1000)
    eccentricity: float = Field(ge=0, le=20)
    inclination_deg: float = Field(ge=0, le=180)
    node_deg: float
    argument_deg: float
    perihelion_jd: float
    epoch_jd: float
    magnitude_at_1_au: float | None = None
    slope: float = 0.15
