"""What a voice needs of a night: a target as it is shown at one moment, and what happens by itself."""

from collections.abc import Sequence
from math import inf

from nightmode.aim.pointing import Pointing
from nightmode.eyepiece import Combination
from nightmode.model.kit import Binoculars
from nightmode.model.target import LunarFeature
from nightmode.night.moments import AHEAD_S
from nightmode.night.table import Night
from nightmode.visibility.reasons import Verdict
from nightmode.walk.order import LAST_CALL_S
from nightmode.wording.spoken import moments
from nightmode.wording.spoken.moments import Happening
from nightmode.wording.spoken.sights import OnTheMoon
from nightmode.wording.spoken.target import Shown

#: The Sun's altitude above which it counts as up: its upper edge on the horizon.
SUN_UP_DEG = -0.833


def shown(
    night: Night,
    row: int,
    now_s: float,
    look: Combination | None,
    verdict: Verdict | None = None,
    pointing: Pointing | None = None,
    remarks: Sequence[str] = (),
) -> Shown:
    """Return a target as it stands at an instant, with the combination in use.

    remarks come after what the plan says of it: notes, earlier nights.
    """
    target, subject = night.targets[row], night.targets[row].subject
    last_s = target.usable[-1].end if target.usable else None
    return Shown(
        subject=subject,
        now_s=now_s,
        zone=night.site.zone,
        altitude_deg=night.altitude_at(row, now_s),
        azimuth_deg=night.azimuth_at(row, now_s),
        is_rising=night.is_rising(row, now_s),
        fist_deg=night.person.fist_deg,
        is_sun_up=night.sun_altitude_at(now_s) > SUN_UP_DEG,
        lit=night.moon.illuminated,
        stretch=target.chance.stretch(now_s),
        last_s=last_s,
        find=target.find,
        look=look,
        filter=(target.look.filter or "") if target.look else "",
        instrument=target.kit.telescope.name if night.has_several else "",
        is_fixed_power=isinstance(target.kit.telescope, Binoculars),
        verdict=verdict,
        pointing=pointing,
        pair=night.pairs.get(row),
        planet=target.planet,
        on_the_moon=_on_the_moon(night, row, now_s),
        moments=target.moments,
        remarks=tuple(text for text in (subject.look_for, subject.note, *remarks) if text),
    )


def _on_the_moon(night: Night, row: int, now_s: float) -> OnTheMoon | None:
    tonight = night.targets[row].feature
    if tonight is None or not isinstance(night.targets[row].subject, LunarFeature):
        return None
    sun_deg, later_deg = (night.along(tonight.sun_deg, at_s) for at_s in (now_s, now_s + 3600.0))
    return OnTheMoon(night.along(tonight.seen_deg, now_s), sun_deg, later_deg - sun_deg)


def happenings(
    night: Night, rows: Sequence[int], since_s: float = -inf, until_s: float = inf
) -> tuple[Happening, ...]:
    """Return what happens by itself after one instant and up to another, between dusk and dawn, in its order.

    rows are the targets that are still open: each has a last call, unless the dawn ends it.
    """
    lights = night.twilights
    first_s, last_s = lights.sunset or float(night.time_s[0]), lights.sunrise or float(night.time_s[-1])
    since_s, until_s = max(since_s, first_s), min(until_s, last_s)
    found = moments.darkness(lights.dark, LAST_CALL_S)
    found += moments.moon(night.moon.rises, night.moon.sets, night.moon.illuminated)
    found += moments.eclipse(night.eclipse) if night.eclipse else []
    for target in night.targets:
        if target.planet and any(since_s < look[0] <= until_s for look in target.chance.looks):
            found += moments.coming(target.subject.name, target.moments, AHEAD_S)
    found += [
        moments.last_call(night.targets[row].subject.name, one.end, LAST_CALL_S, one.ends_by)
        for row in rows
        for one in night.targets[row].usable
        if one.ends_by != "dawn"
        and one.start < one.end - LAST_CALL_S
        and since_s < one.end - LAST_CALL_S <= until_s
    ]
    return tuple(sorted((one for one in found if since_s < one.at_s <= until_s), key=lambda one: one.at_s))
