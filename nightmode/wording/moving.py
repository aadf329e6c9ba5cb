"""The words for a comet or minor planet, apart from its place."""

from nightmode.model.target import Comet, MinorPlanet


def moving_text(body: Comet | MinorPlanet) -> str:
    """Return its magnitude and motion tonight, with a caution if it is a comet's magnitude."""
    pace = body.motion_arcsec_per_h
    moves = f"moves {pace / 60:.1f}′ an hour" if pace >= 99.5 else f"moves {pace:.0f}″ an hour"
    if body.magnitude is None:
        return f"{moves}; no magnitude is given"
    if isinstance(body, Comet):
        return f"{moves}; about {body.magnitude:.1f} mag, comets are often one or two off"
    return f"{moves}; {body.magnitude:.1f} mag"
