"""Variable stars on one night: the brightness to expect, and the eclipses worth watching."""

from collections.abc import Sequence

from nightmode.constants import DAY_S
from nightmode.model.sight import Moment, Sight
from nightmode.model.target import Fixed, Subject, variability
from nightmode.model.variable import Course
from nightmode.night.moments import AHEAD_S
from nightmode.records import replace
from nightmode.sky.vantage import Vantage
from nightmode.sky.varying import VariableTonight, light_time_s
from nightmode.walk.usable import Usable

#: Until so long after its deepest instant an eclipse puts a star first in the walk (our own rule).
WATCHED_S = 1200.0


def variables_tonight(vantage: Vantage, subjects: Sequence[Subject]) -> dict[int, VariableTonight]:
    """Return the light of the variable stars, by row; the light time is that of the middle of the night."""
    middle = len(vantage.time_s) // 2
    found = {}
    for row, subject in enumerate(subjects):
        varies = variability(subject)
        if varies is not None and isinstance(subject, Fixed):
            sun_au = vantage.see("sun").xyz.au[:, middle]
            found[row] = VariableTonight(varies, light_time_s(sun_au, subject.ra_deg, subject.dec_deg))
    return found


def as_tonight(subject: Subject, tonight: VariableTonight, at_s: float) -> Subject:
    """Return a star with the magnitude expected at an instant; unchanged if it has no set period."""
    if tonight.star.course is Course.LOOSE:
        return subject
    return replace(subject, magnitude=round(tonight.magnitude_at(at_s), 2))


def eclipse_moments(name: str, tonight: VariableTonight, usable: Sequence[Usable]) -> tuple[Moment, ...]:
    """Return the foreseen eclipses of a star whose deepest instant can be observed."""
    star = tonight.star
    if star.course is not Course.ECLIPSES or not usable:
        return ()
    deepest = tonight.instants(usable[0].start_s, usable[-1].end_s)
    return tuple(
        _eclipse(name, tonight, at_s)
        for at_s in deepest
        if tonight.is_foreseen(at_s) and any(stretch.start_s <= at_s <= stretch.end_s for stretch in usable)
    )


def _eclipse(name: str, tonight: VariableTonight, at_s: float) -> Moment:
    half_s = (tonight.star.eclipse_d or 0.0) * DAY_S / 2.0
    return Moment(
        begins_s=at_s - half_s,
        ends_s=at_s + half_s,
        sight=Sight.STAR_ECLIPSE,
        watch=((at_s - AHEAD_S, at_s + WATCHED_S),),
        star=name,
        deepest_s=at_s,
        error_s=tonight.error_s(at_s),
    )
