"""The bodies of the Solar System that can be a target, by the names the other rooms use."""

from nightmode.errors import NightmodeError

#: Planets, as Subject.body names them.
PLANETS = ("mercury", "venus", "mars", "jupiter", "saturn", "uranus", "neptune")
#: Everything that Subject.body may name. The Sun is never a target.
BODIES = ("moon", *PLANETS)

#: IAU mean and equatorial radii in km (Archinal et al. 2011, WGCCRE 2009; Moon 1737.4, Sun 695700).
RADIUS_KM = {
    "sun": 695700.0,
    "moon": 1737.4,
    "mercury": 2439.7,
    "venus": 6051.8,
    "mars": 3396.19,
    "jupiter": 71492.0,
    "saturn": 60268.0,
    "uranus": 25559.0,
    "neptune": 24764.0,
}


def refuse_sun(name: str, body: str) -> None:
    """Raise NightmodeError if a body is the Sun: the one answer to the Sun as a target."""
    if body == "sun":
        raise NightmodeError(
            name,
            "the Sun is never a target: a telescope, a finder or the bare eye pointed at it blinds at once",
            "leave it out",
        )
