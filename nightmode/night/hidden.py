"""Targets that cannot be seen because of where they stand: behind the horizon now, or all night."""

import numpy as np

from nightmode.model.target import Body, Subject
from nightmode.night.opening import dark_level_deg
from nightmode.night.said import OUT, Verdict, clock
from nightmode.night.table import Night
from nightmode.sky.dark import SUNSET_DEG
from nightmode.walk.usable import horizon_altitude_deg

NEVER_UP, LOW, TWILIGHT = "never up in the dark", "low altitude", "twilight"


def hidden(night: Night, row: int, now_s: float) -> Verdict | None:
    """Return the verdict on a target that stands behind the horizon line, or None where it does not."""
    target = night.targets[row]
    line = horizon_altitude_deg(night.site.horizon, np.array([night.azimuth_at(row, now_s)]))[0]
    if night.altitude_at(row, now_s) > max(0.0, float(line)):
        return _in_daylight(night, row, now_s)
    if not target.usable:
        return never_up(night, row)
    stretch = target.chance.stretch(now_s)
    when = (
        f"gone since {clock(night, target.usable[-1].end)}"
        if stretch is None
        else f"behind the horizon; up at {clock(night, stretch.start)}"
    )
    return Verdict(OUT, None, LOW, when)


def _in_daylight(night: Night, row: int, now_s: float) -> Verdict | None:
    if night.sun_altitude_at(now_s) < SUNSET_DEG or _is_on_the_moon(night.targets[row].subject):
        return None
    stretch = night.targets[row].chance.stretch(now_s)
    until = f"; from {clock(night, stretch.start)}" if stretch else ""
    return Verdict(OUT, None, TWILIGHT, f"the Sun is up{until}")


def _is_on_the_moon(subject: Subject) -> bool:
    return isinstance(subject, Body) and subject.body == "moon"


def never_up(night: Night, row: int) -> Verdict:
    """Return the verdict on a target without a usable stretch tonight, and how high it gets in the dark."""
    subject = night.targets[row].subject
    level_deg = dark_level_deg(subject.kind, float(night.sun_altitude_deg.min()))
    dark = night.sun_altitude_deg < (-99.0 if level_deg is None else level_deg)
    if not dark.any():
        return Verdict(OUT, None, TWILIGHT, "the sky never gets dark enough tonight")
    highest = float(night.altitude_deg[row][dark].max())
    minimum = subject.min_altitude_deg
    floor = night.person.min_altitude_deg if minimum is None else minimum
    if highest <= 0.0:
        reason = "below the horizon while it is dark"
    elif highest <= floor:
        reason = f"at most {int(highest)}° high in the dark; floor {floor:.0f}°"
    else:
        reason = "behind the horizon line while it is dark"
    return Verdict(OUT, None, NEVER_UP, reason)
