"""What is said of a comet or minor planet beside its place."""

from nightmode.model.target import Comet, MinorPlanet


def moving_text(body: Comet | MinorPlanet) -> str:
    """Return how bright and how fast it is tonight, with the caution that a comet's magnitude needs."""
    pace = body.motion_arcsec_per_h
    moves = f"moves {pace / 60:.1f}′ an hour" if pace >= 99.5 else f"moves {pace:.0f}″ an hour"
    if body.magnitude is None:
        return f"{moves}; no magnitude is given"
    if isinstance(body, Comet):
        return f"{moves}; about {body.magnitude:.1f} mag, comets are often one or two off"
    return f"{moves}; {body.magnitude:.1f} mag"
