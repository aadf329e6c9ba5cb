"""Stars whose light changes: what catalogues give of the change."""

from enum import StrEnum

from nightmode.records import NamedRecord


class Course(StrEnum):
    """How a star's light changes, and so what can be foreseen of it."""

    ECLIPSES = "eclipses"
    PULSATES = "pulsates"
    LONG_PERIOD = "long period"
    LOOSE = "no set period"


_COURSES = {
    **dict.fromkeys(("E", "EA", "EB", "EW"), Course.ECLIPSES),
    **dict.fromkeys(("DCEP", "DCEPS", "CEP", "CW", "CWA", "CWB", "RRAB", "RRC", "DSCT"), Course.PULSATES),
    "M": Course.LONG_PERIOD,
}


#: The mean extremes of long-period stars lie so many magnitudes inside the extremes ever seen (our own
#: figure, from forty stars).
_MEAN_MAX_BELOW, _MEAN_MIN_ABOVE = 1.2, 0.9
#: Types that are faint but for outbursts, and those that are bright but for fadings.
_MOSTLY_FAINT, _MOSTLY_BRIGHT = (
    ("N", "NA", "NB", "NC", "NR", "UG", "UGSS", "UGSU", "UGZ", "ZAND"),
    ("RCB", "GCAS"),
)


class Variability(NamedRecord):
    """How a star's light changes, as the General Catalogue of Variable Stars and its like give it.

    type            the catalogue's, like EA/SD, DCEP, M, SRB
    brightest_mag, faintest_mag   V, the extremes ever; second_mag is that of the other minimum of a period
    usual_max_mag, usual_min_mag  means over many cycles, None where none are known
    epoch_jd        heliocentric, of the middle of an eclipse, of a maximum of all else
    change_d        instants are epoch_jd + period_d E + change_d E squared, E the number of the cycle
    share           of the period that an eclipse lasts or that the rise takes, 0 to 1
    epoch_error_d, period_error_d   as published, None where they are not
    source          of the epoch and the period
    """

    type: str
    brightest_mag: float
    faintest_mag: float
    second_mag: float | None = None
    usual_max_mag: float | None = None
    usual_min_mag: float | None = None
    epoch_jd: float | None = None
    period_d: float | None = None
    change_d: float = 0.0
    share: float | None = None
    epoch_error_d: float | None = None
    period_error_d: float | None = None
    source: str = ""

    @property
    def main_type(self) -> str:
        """The first of the catalogue's types, without its marks: EA of EA/SD, M of M+ZAND."""
        return self.type.partition("+")[0].partition("/")[0].rstrip(":")

    @property
    def course(self) -> Course:
        """How its light changes; without a set period if period or epoch is not known."""
        if self.epoch_jd is None or self.period_d is None:
            return Course.LOOSE
        return _COURSES.get(self.main_type, Course.LOOSE)

    @property
    def eclipse_d(self) -> float | None:
        """How long an eclipse lasts in days, None where that is not known or there is none."""
        if self.course is not Course.ECLIPSES or self.period_d is None or self.share is None:
            return None
        return self.share * self.period_d

    @property
    def usual_extremes(self) -> tuple[float, float]:
        """The magnitudes between which it changes in a usual cycle, the brighter first."""
        if self.course is not Course.LONG_PERIOD:
            return self.brightest_mag, self.faintest_mag
        brightest, faintest = self.usual_max_mag, self.usual_min_mag
        if brightest is None:
            brightest = min(self.brightest_mag + _MEAN_MAX_BELOW, self.faintest_mag)
        faintest = self.faintest_mag - _MEAN_MIN_ABOVE if faintest is None else faintest
        return brightest, max(faintest, brightest)

    @property
    def steady_mag(self) -> float:
        """The magnitude to assume where nothing is foreseen: the one it has most of the time."""
        if self.course is Course.ECLIPSES or self.main_type in _MOSTLY_BRIGHT:
            return self.brightest_mag
        if self.main_type in _MOSTLY_FAINT:
            return self.faintest_mag
        if self.course is Course.LOOSE and self.usual_max_mag is not None:
            return self.usual_max_mag
        return sum(self.usual_extremes) / 2.0
