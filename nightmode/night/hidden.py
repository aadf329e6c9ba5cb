"""Verdicts on targets that cannot be looked at, now or all night: not up, in daylight, outside the hours."""

import numpy as np

from nightmode.arrays import Flags
from nightmode.model.target import Body, LunarFeature, Subject
from nightmode.night.cell import Cell
from nightmode.night.feature_verdict import wrong_light
from nightmode.night.features import NEARLY_DEG, feature_clearance_deg
from nightmode.night.table import Night
from nightmode.night.usable import dark_levels_deg, least_altitude_deg
from nightmode.visibility.reasons import Daylight, Gone, NeverDark, NeverUp, NotUpYet, OutsideHours, Verdict
from nightmode.walk.usable import floor_deg, horizon_altitude_deg
from nightmode.words import Cause, Word


def hidden(night: Night, row: int, now_s: float) -> Verdict | None:
    """Return the verdict on a target that is behind the horizon line or in daylight at now_s, else None."""
    target = night.targets[row]
    line = horizon_altitude_deg(night.site.horizon, np.array([night.azimuth_at(row, now_s)]))[0]
    if night.altitude_at(row, now_s) > max(0.0, float(line)):
        return _in_daylight(night, row, now_s)
    if not target.usable:
        return never_up(night, row)
    stretch = target.chance.stretch(now_s)
    when = NotUpYet(stretch.start_s) if stretch else Gone(target.usable[-1].end_s)
    return Verdict(Word.OUT, None, Cause.LOW, when)


def _in_daylight(night: Night, row: int, now_s: float) -> Verdict | None:
    if not night.is_sun_up(now_s) or _is_on_the_moon(night.targets[row].subject):
        return None
    stretch = night.targets[row].chance.stretch(now_s)
    return Verdict(Word.OUT, None, Cause.TWILIGHT, Daylight(stretch.start_s if stretch else None))


def _is_on_the_moon(subject: Subject) -> bool:
    return isinstance(subject, Body) and subject.body == "moon"


def _unlit(night: Night, row: int, dark: Flags) -> Verdict | None:
    """Return the verdict on a feature of the Moon that never has its light while the Moon is up."""
    target = night.targets[row]
    if not isinstance(target.subject, LunarFeature) or target.feature is None:
        return None
    least_deg = np.array([least_altitude_deg(target.subject, night.person)])
    floor = floor_deg(least_deg, night.site.horizon, night.azimuth_deg[row][None, :])[0]
    up = np.where(dark, night.altitude_deg[row] - floor, -99.0)
    if up.max() <= 0.0:
        return None
    return wrong_light(Cell(night, row, int(up.argmax())))


def outside_hours(night: Night, row: int) -> Verdict:
    """Return the verdict on a target that is usable tonight, but not in the observer's hours."""
    usable, last = night.targets[row].usable, (night.hours_s or (0.0, 0.0))[1]
    later = next((stretch.start_s for stretch in usable if stretch.start_s >= last), None)
    at_s = usable[-1].end_s if later is None else later
    reason = OutsideHours(at_s, before=later is None, by_light=_turns_light(night, row, at_s))
    return Verdict(Word.OUT, None, Cause.HOURS, reason)


def _turns_light(night: Night, row: int, at_s: float) -> bool:
    """Return whether the good light on a feature of the Moon begins or ends at an instant."""
    feature, tonight = night.targets[row].subject, night.targets[row].feature
    if tonight is None or not isinstance(feature, LunarFeature):
        return False
    return abs(night.along(feature_clearance_deg(feature, tonight), at_s)) < NEARLY_DEG


def never_up(night: Night, row: int) -> Verdict:
    """Return the verdict on a target without a usable stretch tonight, and how high it gets in the dark."""
    subject = night.targets[row].subject
    dark = night.sun_altitude_deg < dark_levels_deg([subject], night.sun_altitude_deg.min())
    if not dark.any():
        return Verdict(Word.OUT, None, Cause.TWILIGHT, NeverDark())
    if (unlit := _unlit(night, row, dark)) is not None:
        return unlit
    highest = float(night.altitude_deg[row][dark].max())
    floor = least_altitude_deg(subject, night.person)
    return Verdict(Word.OUT, None, Cause.NEVER_UP, NeverUp(highest, floor))
