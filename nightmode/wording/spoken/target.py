"""What is said of a target: all of it when it comes, or its place or its time when asked."""

from zoneinfo import ZoneInfo

from nightmode.aim.pointing import Pointing
from nightmode.eyepiece import Combination
from nightmode.kinds import Kind
from nightmode.model.sight import Moment, Pair
from nightmode.model.target import Comet, Double, LunarFeature, MinorPlanet, Subject
from nightmode.records import Record
from nightmode.sky.globes import PlanetTonight
from nightmode.sky.varying import VariableTonight
from nightmode.visibility.reasons import Verdict
from nightmode.walk.usable import Ending, Usable
from nightmode.wording.figures import compass_point, duration, field, power, round_angle, time_of_day
from nightmode.wording.moving import moving_text
from nightmode.wording.reasons import reason_text
from nightmode.wording.spoken.aim import at_length, in_passing, stands
from nightmode.wording.spoken.catalogues import constellation_name
from nightmode.wording.spoken.ear import for_ear, name_for_ear
from nightmode.wording.spoken.moments import moment_said
from nightmode.wording.spoken.sentences import Told, said, sentences
from nightmode.wording.spoken.sights import (
    OnTheMoon,
    feature_kind,
    feature_said,
    pair_said,
    planet_said,
    variable_said,
)
from nightmode.words import Word

SUN_CAUTION = "the Sun is up: never point telescope, finder or eye near it"
#: If less time than this is left, it is told with the target.
SOON_S = 30 * 60.0


class TargetNow(Record, eq=False):
    """A target at one instant, as figures; instants are in Unix seconds.

    stretch     the usable stretch that holds now_s or comes next, None for neither
    last_s      when the last usable stretch ends, None if there is none tonight
    look        the combination in use, filter its name or ""
    instrument  its name where there are several, else ""; is_fixed_power if it takes no eyepieces
    lit         the lit share of the Moon, 0 to 1
    remarks     what to look for, and everything else written about it
    """

    subject: Subject
    now_s: float
    zone: ZoneInfo
    altitude_deg: float
    azimuth_deg: float
    is_rising: bool
    fist_deg: float
    is_sun_up: bool
    lit: float
    stretch: Usable | None
    last_s: float | None
    find: Combination | None
    look: Combination | None
    filter: str
    instrument: str
    is_fixed_power: bool
    verdict: Verdict | None = None
    pointing: Pointing | None = None
    pair: Pair | None = None
    planet: PlanetTonight | None = None
    variable: VariableTonight | None = None
    on_the_moon: OnTheMoon | None = None
    moments: tuple[Moment, ...] = ()
    remarks: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Its name as it is spoken."""
        return name_for_ear(self.subject.name)


def change(target: TargetNow, lead: str = "") -> Told:
    """Return all that is said when a target comes; lead is put before its name, such as "Next: "."""
    caution = said(SUN_CAUTION) if target.is_sun_up else ()
    first = (*caution, *sentences(f"{lead}{target.name}"))
    rest = (
        *_kind(target),
        *stands(target.altitude_deg, target.azimuth_deg, target.fist_deg),
        *(in_passing(target.pointing) if target.pointing and not target.on_the_moon else ()),
        *_soon(target),
        *_verdict(target),
        *eyepieces(target),
        *_sight(target),
        *said(*target.remarks),
    )
    return Told((*first, *rest), len(first))


def named(target: TargetNow) -> tuple[str, ...]:
    """Return the target's name alone."""
    return sentences(target.name)


def how_high(target: TargetNow) -> tuple[str, ...]:
    """Return the target's height and direction, in degrees and in fists."""
    way = "rising" if target.is_rising else "sinking"
    side = "high" if target.altitude_deg >= 0 else "below the horizon"
    high = f"{abs(target.altitude_deg):.1f}° {side}, {way}"
    azimuth = f"azimuth {round_angle(target.azimuth_deg)}, {compass_point(target.azimuth_deg)}"
    place = stands(target.altitude_deg, target.azimuth_deg, target.fist_deg)
    above = place if target.altitude_deg > 0 else ()
    return (*sentences(f"{target.name} stands {for_ear(high)}"), *above, *said(azimuth))


def how_long(target: TargetNow) -> tuple[str, ...]:
    """Return until when it can be seen, and how long that is; if it is not up yet, from when."""
    return _time_left(target, target.name)


_ENDS = {Ending.HORIZON: "sets", Ending.DAWN: "goes with the dawn", Ending.LIGHT: "loses its light"}


def _time_left(target: TargetNow, name: str) -> tuple[str, ...]:
    stretch = target.stretch
    if stretch is None:
        gone = "is gone for tonight" if target.last_s is not None else "cannot be seen tonight"
        return sentences(f"{name} {gone}")
    if stretch.start_s > target.now_s:
        wait = (
            f"from {time_of_day(stretch.start_s, target.zone)}, in {duration(stretch.start_s - target.now_s)}"
        )
        return sentences(f"{name} can be seen {for_ear(wait)}")
    ends = _ENDS[stretch.ends_by]
    end, left = time_of_day(stretch.end_s, target.zone), duration(stretch.end_s - target.now_s)
    return sentences(f"{name} {ends} {for_ear(f'at {end}')}", f"{for_ear(left)} left")


def where_it_is(target: TargetNow) -> Told:
    """Return its name, and how to find it among the stars, in full."""
    name = named(target)
    if target.pointing is None:
        place = stands(target.altitude_deg, target.azimuth_deg, target.fist_deg)
        return Told((*name, *place), len(name))
    return Told((*name, *at_length(target.pointing)), len(name))


def eyepieces(target: TargetNow) -> tuple[str, ...]:
    """Return what to find it with and what to look with; nothing if there is only one power."""
    told = [f"use the {name_for_ear(target.instrument)}"] if target.instrument else []
    if target.is_fixed_power:
        return sentences(*told)
    if target.look is None:
        return sentences(*told, "no eyepiece fits")
    if target.find and target.find != target.look:
        told.append(f"find it with {_combination(target.find)}")
    filtered = f", with the {name_for_ear(target.filter)}" if target.filter else ""
    both = target.find is not None and target.find == target.look
    told.append(f"{'find it and look' if both else 'look'} with {_combination(target.look)}{filtered}")
    return sentences(*told)


def eyepiece_figures(target: TargetNow) -> tuple[str, ...]:
    """Return the eyepiece in use with power, field and exit pupil."""
    look = target.look
    if look is None:
        return said("no eyepiece fits")
    figures = f"field {field(look.true_field_deg)}, exit pupil {look.exit_pupil_mm:.1f} mm"
    is_named = target.instrument and not target.is_fixed_power
    inside = [f"in the {name_for_ear(target.instrument)}"] if is_named else []
    return (*sentences(*inside, _combination(look)), *said(figures))


def _combination(combination: Combination) -> str:
    """Return "the nine millimetre eyepiece with the two times Barlow, two hundred and sixty-seven times"."""
    barlow = f" with the {name_for_ear(combination.barlow)}" if combination.barlow else ""
    name = f"{combination.eyepiece} eyepiece" if combination.eyepiece.endswith("mm") else combination.eyepiece
    return f"the {name_for_ear(name)}{barlow}, {for_ear(power(combination.power))}"


def _kind(target: TargetNow) -> tuple[str, ...]:
    subject = target.subject
    if target.on_the_moon and isinstance(subject, LunarFeature):
        return feature_kind(subject, target.on_the_moon)
    if subject.kind is Kind.MOON:
        return said(f"{target.lit * 100:.0f} % lit")
    place = f" in {constellation_name(subject.constellation)}" if subject.constellation else ""
    return said(f"{subject.kind.value}{place}")


def _soon(target: TargetNow) -> tuple[str, ...]:
    """Return how long it can be seen, only if it is not up yet or little time is left."""
    stretch = target.stretch
    if stretch and stretch.start_s <= target.now_s and stretch.end_s - target.now_s >= SOON_S:
        return ()
    return _time_left(target, "it")


def _verdict(target: TargetNow) -> tuple[str, ...]:
    if target.verdict is None or target.verdict.word is Word.UNKNOWN:
        return ()
    reason = "" if target.verdict.word is Word.EASY else f", {reason_text(target.verdict, target.zone)}"
    return said(f"verdict: {target.verdict.word.value}{reason}")


def _sight(target: TargetNow) -> tuple[str, ...]:
    """Return what the target is like tonight, in figures."""
    subject, told = target.subject, tuple[str, ...]()
    if target.pair and isinstance(subject, Double):
        told = pair_said(subject, target.pair)
    if target.variable:
        told = (*told, *variable_said(target.variable, target.now_s, target.zone))
    if target.on_the_moon and isinstance(subject, LunarFeature):
        return feature_said(subject, target.on_the_moon)
    if target.planet:
        told = planet_said(target.planet, target.now_s)
    if isinstance(subject, Comet | MinorPlanet):
        return said(moving_text(subject))
    now_s, zone = target.now_s, target.zone
    coming = [moment_said(moment, now_s, zone) for moment in target.moments if moment.ends_s > now_s]
    return (*told, *(coming[0] if coming else ()))
