"""Double stars on this night: the companion's place, and the power and aperture that split the pair."""

from collections.abc import Sequence

from nightmode import optics
from nightmode.constants import J2000_S, YEAR_S
from nightmode.eyepiece.pairs import is_in_glare
from nightmode.model.kit import Instrument
from nightmode.model.sight import Pair
from nightmode.model.target import Double, Star, Subject
from nightmode.night.glass import apparent_steps_arcsec, at_ease_arcsec, is_in_hand
from nightmode.records import replace
from nightmode.sky.binary import drift_clock, of_year, precession_of_angle_deg

#: In mm: a smaller needed aperture is not told.
_LEAST_MM = 50.0


def decimal_year(at_s: float) -> float:
    """Return an instant as a Julian year: 2000.0 is J2000.0."""
    return 2000.0 + (at_s - J2000_S) / YEAR_S


def pairs_of_the_night(subjects: Sequence[Subject], at_s: float) -> list[Subject]:
    """Return the subjects; doubles with a known orbit have separation and angle of that instant."""
    year = decimal_year(at_s)
    return [_of_year(subject, year) for subject in subjects]


def _of_year(subject: Subject, year: float) -> Subject:
    if isinstance(subject, Star) and subject.companion:
        return replace(subject, companion=of_year(subject.companion, year))
    return of_year(subject, year) if isinstance(subject, Double) else subject


def pair_in(telescope: Instrument, double: Double, at_s: float, *, lowest_power: float = 0.0) -> Pair | None:
    """Return how a double looks in a telescope; None where no separation is known.

    lowest_power is that of the telescope's sensible combinations, 0 without any.
    """
    separation, angle = double.separation_arcsec, double.position_angle_deg
    if separation is None:
        return None
    two_arcsec = float(apparent_steps_arcsec(telescope)[0])
    clock = None
    if angle is not None and not is_in_hand(telescope):  # in the hand no star is seen to drift
        since_2000 = decimal_year(at_s) - 2000.0
        to_date = precession_of_angle_deg(double.ra_deg, double.dec_deg, since_2000)
        clock = drift_clock(angle + to_date, telescope.shows)
    return Pair(
        separation_arcsec=separation,
        position_angle_deg=angle,
        epoch_year=double.epoch_year,
        companion_clock=clock,
        shown_at=float(optics.power_to_show(separation, two_arcsec / 60.0)),
        roomy_at=float(optics.power_to_show(separation, at_ease_arcsec(telescope) / 60.0)),
        aperture_mm=max(_LEAST_MM, float(optics.aperture_to_split_mm(separation, double.difference_mag))),
        in_glare=is_in_glare(separation, double.difference_mag, lowest_power),
    )
