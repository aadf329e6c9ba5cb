"""What a voice needs to know of a night: a target at one instant, and what happens by itself."""

from collections.abc import Callable, Sequence
from math import inf
from operator import attrgetter

from nightmode.aim.pointing import Pointing
from nightmode.eyepiece import Combination
from nightmode.model.kit import Binoculars
from nightmode.model.target import LunarFeature
from nightmode.night.moments import AHEAD_S
from nightmode.night.table import Night, NightTarget
from nightmode.visibility.reasons import Verdict
from nightmode.walk.order import LAST_CALL_S
from nightmode.walk.usable import Ending, Usable
from nightmode.wording.spoken import moments
from nightmode.wording.spoken.moments import TimedSentence
from nightmode.wording.spoken.sights import OnTheMoon
from nightmode.wording.spoken.target import TargetNow


def target_now(
    night: Night,
    row: int,
    now_s: float,
    look: Combination | None,
    verdict: Verdict | None = None,
    pointing: Pointing | None = None,
    remarks: Sequence[str] = (),
) -> TargetNow:
    """Return a target at now_s (Unix seconds); look is the combination in use.

    remarks, such as notes or earlier nights, are told after what the plan says of the target.
    """
    target, subject = night.targets[row], night.targets[row].subject
    instrument = target.kit.telescope
    last_s = target.usable[-1].end_s if target.usable else None
    return TargetNow(
        subject=subject,
        now_s=now_s,
        zone=night.site.zone,
        altitude_deg=night.altitude_at(row, now_s),
        azimuth_deg=night.azimuth_at(row, now_s),
        is_rising=night.is_rising(row, now_s),
        fist_deg=night.person.fist_deg,
        is_sun_up=night.is_sun_up(now_s),
        lit=night.moon.illuminated,
        stretch=target.chance.stretch(now_s),
        last_s=last_s,
        find=target.find,
        look=look,
        filter=(target.look.filter or "") if target.look else "",
        instrument=target.kit.telescope.name if night.has_several else "",
        is_fixed_power=isinstance(instrument, Binoculars) and instrument.has_one_power,
        verdict=verdict,
        pointing=pointing,
        pair=night.pairs.get(row),
        planet=target.planet,
        variable=target.variable,
        on_the_moon=_on_the_moon(night, row, now_s),
        moments=target.moments,
        remarks=tuple(text for text in (subject.look_for, subject.note, *remarks) if text),
    )


def _on_the_moon(night: Night, row: int, now_s: float) -> OnTheMoon | None:
    tonight = night.targets[row].feature
    if tonight is None or not isinstance(night.targets[row].subject, LunarFeature):
        return None
    return OnTheMoon(
        seen_deg=night.along(tonight.seen_deg, now_s),
        sun_deg=night.along(tonight.sun_deg, now_s),
        sun_change_deg=night.change_in_an_hour(tonight.sun_deg, now_s),
    )


def happenings(
    night: Night,
    since_s: float = -inf,
    until_s: float = inf,
    is_open: Callable[[int], bool] = lambda _row: True,
) -> tuple[TimedSentence, ...]:
    """Return what happens by itself after since_s and up to until_s, between sunset and sunrise, in order.

    is_open says of a row whether its target is still to be looked at. Only such targets have a last call, and
    only if something else than the dawn ends their time.
    """
    sunset_s, sunrise_s = night.sun_down_s
    since_s, until_s = max(since_s, sunset_s), min(until_s, sunrise_s)
    found = moments.darkness(night.twilights.dark_s, LAST_CALL_S)
    found += moments.moon(night.moon.rises_s, night.moon.sets_s, night.moon.illuminated)
    found += moments.eclipse(night.eclipse) if night.eclipse else []
    for row, target in enumerate(night.targets):
        if target.moments and any(since_s < start_s <= until_s for start_s, _ in target.chance.watch):
            found += moments.announced(target.subject.name, target.moments, AHEAD_S)
        for stretch in _last_calls(target, since_s, until_s):
            if is_open(row):
                found.append(
                    moments.last_call(target.subject.name, stretch.end_s, LAST_CALL_S, stretch.ends_by)
                )
    between = [happening for happening in found if since_s < happening.at_s <= until_s]
    return tuple(sorted(between, key=attrgetter("at_s")))


def _last_calls(target: NightTarget, since_s: float, until_s: float) -> list[Usable]:
    """Return the usable stretches of a target whose last call falls after since_s, up to until_s."""
    return [
        stretch
        for stretch in target.usable
        if since_s < stretch.end_s - LAST_CALL_S <= until_s
        and stretch.ends_by is not Ending.DAWN
        and stretch.start_s < stretch.end_s - LAST_CALL_S
    ]
