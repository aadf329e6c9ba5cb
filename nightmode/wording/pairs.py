"""The words for a double star: its figures, what splits it, and where the companion is."""

import math

from nightmode.model.sight import Pair
from nightmode.model.target import Double
from nightmode.wording.figures import hour_text, power, round_angle


def two_stars(double: Double, pair: Pair) -> str:
    """Return magnitudes, separation and angle: "1.9 + 3.0, 5.8″ at 49° (2027)"."""
    known = [
        magnitude for magnitude in (double.magnitude, double.companion_magnitude) if magnitude is not None
    ]
    stars = " + ".join(f"{magnitude:.1f}" for magnitude in known)
    place = f"{separation(pair.separation_arcsec)}"
    if pair.position_angle_deg is not None:
        place += f" at {round_angle(pair.position_angle_deg)}"
    if pair.epoch_year is not None:
        place += f" ({math.floor(pair.epoch_year)})"
    return f"{stars}, {place}" if stars else place


def beside_it(pair: Double) -> str:
    """Return what is beside a star whose name does not mean the pair: "8.6 mag, 237″ off: Denebola AD"."""
    known = [f"{pair.companion_magnitude:.1f} mag"] if pair.companion_magnitude is not None else []
    if pair.separation_arcsec is not None:
        known.append(f"{separation(pair.separation_arcsec)} off")
    return f"{', '.join(known)}: {pair.name}"


def what_parts_them(pair: Pair) -> str:
    """Return powers and aperture: "21x shows two, 41x with room; 60 mm enough"."""
    enough = math.ceil(pair.aperture_mm / 5.0) * 5
    return f"{power(pair.shown_at)} shows two, {power(pair.roomy_at)} with room; {enough} mm enough"


IN_ITS_GLARE = "in the brighter one's glare, less so in twilight"


def where_it_stands(pair: Pair) -> str | None:
    """Return where the companion is, given the drift: "companion near half past 7, stars leaving at 3"."""
    if pair.companion_clock is None:
        return None
    return f"companion near {hour_text(pair.companion_clock, halves=True)}, stars leaving at 3"


def separation(arcsec: float) -> str:
    """Return a separation with as many digits as are known well."""
    return f"{arcsec:.1f}″" if arcsec < 60 else f"{arcsec:.0f}″"
