"""What a voice needs of a night: a target as it is shown at one moment, and what happens by itself."""

from collections.abc import Sequence

from nightmode.aim.pointing import Pointing
from nightmode.eyepiece import Combination
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
        is_fixed_power=len(night.kit.eyepieces) == 0 and look is not None,
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


def happenings(night: Night) -> tuple[Happening, ...]:
    """Return what happens by itself between dusk and dawn, in the order of its coming."""
    lights = night.twilights
    first_s, last_s = lights.sunset or float(night.time_s[0]), lights.sunrise or float(night.time_s[-1])
    found = moments.darkness(lights.dark, LAST_CALL_S)
    found += moments.moon(night.moon.rises, night.moon.sets, night.moon.illuminated)
    found += moments.eclipse(night.eclipse) if night.eclipse else []
    for target in night.targets:
        if target.planet:
            found += moments.coming(target.subject.name, target.moments, AHEAD_S)
    return tuple(sorted((one for one in found if first_s < one.at_s < last_s), key=lambda one: one.at_s))


def last_calls(night: Night, rows: Sequence[int]) -> tuple[Happening, ...]:
    """Return when which of the targets named by their rows soon sets, the first to go first.

    Those that the dawn ends have no call of their own.
    """
    found = []
    for row in rows:
        target = night.targets[row]
        for stretch in target.usable:
            if stretch.ends_by != "dawn" and stretch.end - stretch.start > LAST_CALL_S:
                found.append(
                    moments.last_call(target.subject.name, stretch.end, LAST_CALL_S, stretch.ends_by)
                )
    return tuple(sorted(found, key=lambda one: one.at_s))
