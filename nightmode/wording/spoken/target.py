"""What is said of a target: when it becomes the one shown, and when its place or its time is asked for."""

from dataclasses import dataclass
from zoneinfo import ZoneInfo

from nightmode.aim.pointing import Pointing
from nightmode.eyepiece import Combination
from nightmode.model.kind import Kind
from nightmode.model.sight import Moment, Pair
from nightmode.model.target import Comet, Double, LunarFeature, MinorPlanet, Subject
from nightmode.sky.globes import PlanetTonight
from nightmode.sky.varying import VariableTonight
from nightmode.visibility.reasons import Verdict
from nightmode.visibility.words import Word
from nightmode.walk.usable import Usable
from nightmode.wording.figures import compass_point, duration, field, power, time_of_day
from nightmode.wording.moving import moving_text
from nightmode.wording.reasons import reason_text
from nightmode.wording.spoken.aim import at_length, in_passing, stands
from nightmode.wording.spoken.catalogues import constellation_name
from nightmode.wording.spoken.ear import for_ear, name_for_ear
from nightmode.wording.spoken.moments import moment_said
from nightmode.wording.spoken.sentences import said, sentences
from nightmode.wording.spoken.sights import (
    OnTheMoon,
    feature_kind,
    feature_said,
    pair_said,
    planet_said,
    variable_said,
)

SUN_CAUTION = "the Sun is up: never point telescope, finder or eye near it"
#: With less than this left, a target is announced with it.
SOON_S = 30 * 60.0


@dataclass(frozen=True, eq=False)
class Shown:
    """A target as the page shows it at one moment: figures only. Instants in Unix seconds.

    stretch     the usable stretch that holds now or comes next, None for neither
    last_s      when the last one ends, None where there is none tonight
    look        the combination in use, filter its name or ""
    instrument  its name where there are several, else ""; is_fixed_power where it has no eyepieces
    lit         how much of the Moon is lit, 0 to 1
    remarks     what to look for and whatever else was written about it
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
        """Its name as it is said."""
        return name_for_ear(self.subject.name)


def change(one: Shown, lead: str = "") -> tuple[str, ...]:
    """Return what is said when a target becomes the one shown; lead stands before its name: "Next: "."""
    return (
        *(said(SUN_CAUTION) if one.is_sun_up else ()),
        *sentences(f"{lead}{one.name}"),
        *_kind(one),
        *stands(one.altitude_deg, one.azimuth_deg, one.fist_deg),
        *(in_passing(one.pointing) if one.pointing and not one.on_the_moon else ()),
        *_soon(one),
        *_verdict(one),
        *eyepieces(one),
        *_sight(one),
        *said(*one.remarks),
    )


def named(one: Shown) -> tuple[str, ...]:
    """Return its name alone."""
    return sentences(one.name)


def how_high(one: Shown) -> tuple[str, ...]:
    """Return height and direction, in degrees and in fists."""
    way = "rising" if one.is_rising else "sinking"
    high = f"{abs(one.altitude_deg):.1f}° {'high' if one.altitude_deg >= 0 else 'below the horizon'}, {way}"
    azimuth = f"azimuth {one.azimuth_deg % 360:.0f}°, {compass_point(one.azimuth_deg)}"
    place = stands(one.altitude_deg, one.azimuth_deg, one.fist_deg) if one.altitude_deg > 0 else ()
    return (*sentences(f"{one.name} stands {for_ear(high)}"), *place, *said(azimuth))


def how_long(one: Shown) -> tuple[str, ...]:
    """Return until when it can be seen and how much is left; from when, where it is not up yet."""
    return _time_left(one, one.name)


def _time_left(one: Shown, name: str) -> tuple[str, ...]:
    stretch = one.stretch
    if stretch is None:
        gone = "is gone for tonight" if one.last_s is not None else "cannot be seen tonight"
        return sentences(f"{name} {gone}")
    if stretch.start > one.now_s:
        wait = f"from {time_of_day(stretch.start, one.zone)}, in {_length(stretch.start - one.now_s)}"
        return sentences(f"{name} can be seen {for_ear(wait)}")
    ends = {"horizon": "sets", "dawn": "goes with the dawn", "light": "loses its light"}[stretch.ends_by]
    end, left = time_of_day(stretch.end, one.zone), _length(stretch.end - one.now_s)
    return sentences(f"{name} {ends} {for_ear(f'at {end}')}", f"{for_ear(left)} left")


def _length(seconds: float) -> str:
    return duration(seconds) if seconds >= 60.0 else "less than a minute"


def where(one: Shown) -> tuple[str, ...]:
    """Return how to come to it among the stars, at length."""
    if one.pointing is None:
        return (*sentences(one.name), *stands(one.altitude_deg, one.azimuth_deg, one.fist_deg))
    return (*sentences(one.name), *at_length(one.pointing))


def eyepieces(one: Shown) -> tuple[str, ...]:
    """Return what to find it with and to look with, and the filter; nothing where there is but one power."""
    told = [f"use the {name_for_ear(one.instrument)}"] if one.instrument else []
    if one.is_fixed_power:
        return sentences(*told)
    if one.look is None:
        return sentences(*told, "no eyepiece fits")
    if one.find and one.find != one.look:
        told.append(f"find it with {_combination(one.find)}")
    filtered = f", with the {name_for_ear(one.filter)}" if one.filter else ""
    both = one.find is not None and one.find == one.look
    told.append(f"{'find it and look' if both else 'look'} with {_combination(one.look)}{filtered}")
    return sentences(*told)


def eyepiece_figures(one: Shown) -> tuple[str, ...]:
    """Return the combination in use with its power, field and exit pupil."""
    look = one.look
    if look is None:
        return said("no eyepiece fits")
    figures = f"field {field(look.true_field_deg)}, exit pupil {look.exit_pupil_mm:.1f} mm"
    inside = [f"in the {name_for_ear(one.instrument)}"] if one.instrument and not one.is_fixed_power else []
    return (*sentences(*inside, _combination(look)), *said(figures))


def _combination(one: Combination) -> str:
    """Return "the nine millimetre eyepiece with the two times Barlow, two hundred and sixty-seven times"."""
    barlow = f" with the {name_for_ear(one.barlow)}" if one.barlow else ""
    name = f"{one.eyepiece} eyepiece" if one.eyepiece.endswith("mm") else one.eyepiece
    return f"the {name_for_ear(name)}{barlow}, {for_ear(power(one.power))}"


def _kind(one: Shown) -> tuple[str, ...]:
    subject = one.subject
    if one.on_the_moon and isinstance(subject, LunarFeature):
        return feature_kind(subject, one.on_the_moon)
    if subject.kind is Kind.MOON:
        return said(f"{one.lit * 100:.0f} % lit")
    place = f" in {constellation_name(subject.constellation)}" if subject.constellation else ""
    return said(f"{subject.kind.value}{place}")


def _soon(one: Shown) -> tuple[str, ...]:
    """Return how long there is, where it is not up or little is left."""
    stretch = one.stretch
    if stretch and stretch.start <= one.now_s and stretch.end - one.now_s >= SOON_S:
        return ()
    return _time_left(one, "it")


def _verdict(one: Shown) -> tuple[str, ...]:
    if one.verdict is None or one.verdict.word is Word.UNKNOWN:
        return ()
    reason = "" if one.verdict.word is Word.EASY else f", {reason_text(one.verdict, one.zone)}"
    return said(f"verdict: {one.verdict.word.value}{reason}")


def _sight(one: Shown) -> tuple[str, ...]:
    """Return the figures of what it is tonight."""
    subject, told = one.subject, tuple[str, ...]()
    if one.pair and isinstance(subject, Double):
        told = pair_said(subject, one.pair)
    if one.variable:
        told = (*told, *variable_said(one.variable, one.now_s, one.zone))
    if one.on_the_moon and isinstance(subject, LunarFeature):
        return feature_said(subject, one.on_the_moon)
    if one.planet:
        told = planet_said(one.planet, one.now_s)
    if isinstance(subject, Comet | MinorPlanet):
        return said(moving_text(subject))
    coming = [moment_said(moment, one.now_s, one.zone) for moment in one.moments if moment.ends > one.now_s]
    return (*told, *(coming[0] if coming else ()))
