"""The short line, of at most about 48 characters, that gives the reason of a verdict."""

import math
from functools import singledispatch
from zoneinfo import ZoneInfo

import numpy as np

from nightmode.visibility import reasons
from nightmode.visibility.reasons import Reason, Verdict
from nightmode.wording.figures import day, power, time_of_day
from nightmode.words import Cause, Word

_APERTURES_MM = (
    30, 40, 50, 60, 70, 80, 90, 100, 115, 130, 150, 180, 200, 250, 300, 350, 400, 450, 500, 600, 760, 900
)  # fmt: skip
_FILTERS = {"oiii": "an O III filter", "narrowband": "a narrowband filter", "hbeta": "an H-beta filter"}
#: What the next better word is.
_BETTER = {Word.FAIR: Word.EASY, Word.HARD: Word.FAIR}


def reason_text(verdict: Verdict, zone: ZoneInfo) -> str:
    """Return the line for a verdict, with times by the site's clock."""
    return _say(verdict.reason, verdict.word, zone)


@singledispatch
def _say(reason: Reason, word: Word, zone: ZoneInfo) -> str:
    """Return the line for a reason; each type has a function of its own below, TypeError for one without."""
    raise TypeError(f"no words for {type(reason).__name__}")


@_say.register
def _(reason: reasons.Missing, word: Word, zone: ZoneInfo) -> str:
    return "no eyepiece to judge it with" if reason.what is Cause.NO_EYEPIECE else reason.what.value


@_say.register
def _(reason: reasons.NoLight, word: Word, zone: ZoneInfo) -> str:
    return "a dark nebula has no brightness of its own"


@_say.register
def _(reason: reasons.Low, word: Word, zone: ZoneInfo) -> str:
    later = reason.later
    better = (
        f"{_reached(later.altitude_deg)} at {time_of_day(later.at_s, zone)}" if later else "no higher later"
    )
    return f"only {_reached(reason.altitude_deg)} high; {better}"


def _reached(altitude_deg: float) -> str:
    """Return an altitude in whole degrees, rounded down: nothing is called low from 30° on."""
    return f"{math.floor(altitude_deg)}°"


@_say.register
def _(reason: reasons.LowOnceMoonless, word: Word, zone: ZoneInfo) -> str:
    return f"only {_reached(reason.altitude_deg)} high once the Moon is down"


@_say.register
def _(reason: reasons.High, word: Word, zone: ZoneInfo) -> str:
    return f"not touched by sky glow; {reason.altitude_deg:.0f}° high"


@_say.register
def _(reason: reasons.DiscShows, word: Word, zone: ZoneInfo) -> str:
    return f"disc of {_arcsec(reason.diameter_arcsec)}; {reason.altitude_deg:.0f}° high, no sky glow in it"


def _from(least_power: float) -> str:
    """Return a power from which on something holds, rounded up: 18.4 is not reached at 18x."""
    return power(math.ceil(least_power - 1e-6))


def _arcsec(size_arcsec: float) -> str:
    return f"{size_arcsec:.0f}″" if size_arcsec >= 10 else f"{size_arcsec:.1f}″"


@_say.register
def _(reason: reasons.DiscNeeds, word: Word, zone: ZoneInfo) -> str:
    return f"looks like a star at {power(reason.power)}; a disc from {_from(reason.needed)}"


@_say.register
def _(reason: reasons.GlowNeeds, word: Word, zone: ZoneInfo) -> str:
    return f"looks like a star at {power(reason.power)}; a glow from {_from(reason.needed)}"


@_say.register
def _(reason: reasons.PlainDiscNeeds, word: Word, zone: ZoneInfo) -> str:
    return f"a tiny disc at {power(reason.power)}; plain from {_from(reason.needed)}"


@_say.register
def _(reason: reasons.DiscInAir, word: Word, zone: ZoneInfo) -> str:
    return f"disc of {_arcsec(reason.diameter_arcsec)} in a blur of {_arcsec(reason.blur_arcsec)}"


@_say.register
def _(reason: reasons.DiscInAperture, word: Word, zone: ZoneInfo) -> str:
    disc, limit = _arcsec(reason.diameter_arcsec), _arcsec(reason.limit_arcsec)
    if word is Word.HARD:
        return f"disc of {disc}, near this aperture's limit of {limit}"
    return f"small disc of {disc}; this aperture's limit {limit}"


@_say.register
def _(reason: reasons.RingNeeds, word: Word, zone: ZoneInfo) -> str:
    return f"no ring at {power(reason.power)}; a ring from {_from(reason.needed)}"


@_say.register
def _(reason: reasons.PointOnly, word: Word, zone: ZoneInfo) -> str:
    return f"{_arcsec(reason.diameter_arcsec)}: a star in this aperture"


@_say.register
def _(reason: reasons.NeverUp, word: Word, zone: ZoneInfo) -> str:
    if reason.highest_deg <= 0.0:
        return "below the horizon while it is dark"
    if reason.highest_deg <= reason.floor_deg:
        return f"at most {int(reason.highest_deg)}° high in the dark; floor {reason.floor_deg:.0f}°"
    return "behind the horizon line while it is dark"


@_say.register
def _(reason: reasons.NeverDark, word: Word, zone: ZoneInfo) -> str:
    return "the sky never gets dark enough tonight"


@_say.register
def _(reason: reasons.Gone, word: Word, zone: ZoneInfo) -> str:
    return f"gone since {time_of_day(reason.since_s, zone)}"


@_say.register
def _(reason: reasons.NotUpYet, word: Word, zone: ZoneInfo) -> str:
    return f"behind the horizon; up at {time_of_day(reason.until_s, zone)}"


@_say.register
def _(reason: reasons.OutsideHours, word: Word, zone: ZoneInfo) -> str:
    until = f"{'until' if reason.before else 'from'} {time_of_day(reason.at_s, zone)}"
    return f"{'good light' if reason.by_light else 'usable only'} {until}, outside your hours"


@_say.register
def _(reason: reasons.Daylight, word: Word, zone: ZoneInfo) -> str:
    return "the Sun is up" + (f"; from {time_of_day(reason.until_s, zone)}" if reason.until_s else "")


@_say.register
def _(reason: reasons.Overflows, word: Word, zone: ZoneInfo) -> str:
    return "larger than the field: sweep across it"


@_say.register
def _(reason: reasons.StarsShow, word: Word, zone: ZoneInfo) -> str:
    is_whole = reason.is_figure and reason.count >= 10  # the brightest ten make the figure
    return f"well above the sky; {'its stars show' if is_whole else _stars(reason.count)}"


def _stars(count: float) -> str:
    if count >= 100:
        return "a hundred stars and more"
    if count < 10:
        return "its brightest stars show" if count >= 1 else "a glow without stars"
    return f"about {round(count / 10) * 10} stars"


@_say.register
def _(reason: reasons.ExtentShows, word: Word, zone: ZoneInfo) -> str:
    if reason.fraction >= 0.95:
        return "well above the sky; all of its extent"
    return f"well above the sky; {max(5, round(reason.fraction * 20) * 5)} % of its extent"


@_say.register
def _(reason: reasons.WithinReach, word: Word, zone: ZoneInfo) -> str:
    return f"well within reach of {reason.aperture_mm:.0f} mm"


@_say.register
def _(reason: reasons.GoodLight, word: Word, zone: ZoneInfo) -> str:
    if reason.detail:
        light = "no shadows" if reason.high else "long shadows"
        return f"{light}; {reason.detail} from {_aperture(reason.detail_mm)}"
    if reason.peaks_only:
        return "peaks lit, the ground still dark"
    if reason.sun_deg <= 0.0:
        return "lit along its edge: long shadows"
    light = "; no shadows: rays and shades" if reason.high else ": long shadows"
    return f"Sun {reason.sun_deg:.0f}° over it{light}"


@_say.register
def _(reason: reasons.MoonNear, word: Word, zone: ZoneInfo) -> str:
    down_s = reason.down_from_s
    then = reason.without if reason.without.rank < word.rank else "better"
    better = f"{then} without it" if down_s is None else f"better after {time_of_day(down_s, zone)}"
    return f"Moon {reason.lit * 100:.0f} % lit, {reason.separation_deg:.0f}° away; {better}"


@_say.register
def _(reason: reasons.Twilight, word: Word, zone: ZoneInfo) -> str:
    if reason.dark_from_s is not None:
        return f"twilight; dark from {time_of_day(reason.dark_from_s, zone)}"
    if reason.dark_until_s is not None:
        return f"twilight; it was dark until {time_of_day(reason.dark_until_s, zone)}"
    return "twilight all night"


@_say.register
def _(reason: reasons.Spills, word: Word, zone: ZoneInfo) -> str:
    return f"spills over the field of {reason.field_deg:.1f}°"


@_say.register
def _(reason: reasons.SkyNeeded, word: Word, zone: ZoneInfo) -> str:
    darker = np.ceil(reason.zenith_mag * 10 - 1e-6) / 10
    return _wanted(word, f"a sky of {darker:.1f}" + (" without Moon" if reason.without_moon else ""), "in")


@_say.register
def _(reason: reasons.ApertureNeeded, word: Word, zone: ZoneInfo) -> str:
    about = "" if reason.companion_mag is None else f"companion of {reason.companion_mag:.1f}: "
    return about + _wanted(word, _aperture(reason.aperture_mm), "with")


def _aperture(least_mm: float) -> str:
    """Return the next larger aperture that is usual."""
    usual_mm = next((usual for usual in _APERTURES_MM if usual >= least_mm), None)
    return f"{usual_mm} mm" if usual_mm else f"more than {_APERTURES_MM[-1]} mm"


def _wanted(word: Word, thing: str, joint: str) -> str:
    """Return "needs a sky of 20.8" for what is out of reach, else "fair in a sky of 20.8" or the like."""
    return f"{_BETTER[word]} {joint} {thing}" if word in _BETTER else f"needs {thing}"


@_say.register
def _(reason: reasons.FilterNeeded, word: Word, zone: ZoneInfo) -> str:
    return _wanted(word, _FILTERS.get(reason.passband, reason.passband), "with")


@_say.register
def _(reason: reasons.SkyAndApertureNeeded, word: Word, zone: ZoneInfo) -> str:
    moonless = " without Moon" if reason.is_moon_up else ""
    sky = f"a sky of {reason.zenith_mag:.1f}{moonless}"
    return _wanted(word, f"{_aperture(reason.aperture_mm)} in {sky}", "with")


@_say.register
def _(reason: reasons.Faint, word: Word, zone: ZoneInfo) -> str:
    return "little darker than the sky around it" if reason.is_dark else "faint for its size under any sky"


@_say.register
def _(reason: reasons.WrongLight, word: Word, zone: ZoneInfo) -> str:
    only = "only " if reason.is_too_low else ""
    ground = "in shadow" if reason.sun_deg <= 0 else f"Sun {only}{reason.sun_deg:.0f}° over it"
    if reason.coming_s is not None:
        return f"{ground}; good light from {time_of_day(reason.coming_s, zone)}"
    if reason.night_s is None:
        return f"{ground}; no good light for a month"
    return f"{ground}; good light on {day(reason.night_s, zone)}"


@_say.register
def _(reason: reasons.TurnedAway, word: Word, zone: ZoneInfo) -> str:
    if reason.night_s is None:
        return "turned away; not to be seen for a month"
    return f"turned away tonight; to be seen on {day(reason.night_s, zone)}"


@_say.register
def _(reason: reasons.FeatureNeeds, word: Word, zone: ZoneInfo) -> str:
    return _wanted(word, _aperture(reason.aperture_mm), "with")


@_say.register
def _(reason: reasons.LitButLow, word: Word, zone: ZoneInfo) -> str:
    return f"Sun {reason.sun_deg:.0f}° over it; {_say(reason.low, word, zone)}"


@_say.register
def _(reason: reasons.Split, word: Word, zone: ZoneInfo) -> str:
    separation, limit = f"{reason.separation_arcsec:.1f}″", f"{reason.limit_arcsec:.1f}″"
    if word is Word.OUT:
        return f"{separation}: one star; this aperture ends at {limit}"
    if word is Word.HARD:
        return f"{separation}, near this aperture's limit of {limit}"
    if reason.easy_arcsec is not None:
        easy = f"{math.ceil(reason.easy_arcsec * 10.0 - 1e-6) / 10.0:.1f}″"  # as with powers, rounded up
        step = "just short of easy" if easy == separation else f"easy from {easy}"
        return f"{separation}; {step} in this aperture and air"
    return f"{separation}, this aperture splits {limit}"


@_say.register
def _(reason: reasons.MorePower, word: Word, zone: ZoneInfo) -> str:
    seen = "" if word.shows else ": one star"
    return (
        f"{reason.separation_arcsec:.1f}″{seen} at {power(reason.power)}; "
        f"{reason.then} from {_from(reason.needed)}"
    )


@_say.register
def _(reason: reasons.Blurred, word: Word, zone: ZoneInfo) -> str:
    separation = f"{reason.separation_arcsec:.1f}″"
    if word.shows:
        return f"{separation} in a blur of {reason.blur_arcsec:.1f}″: split in still moments"
    return f"{separation}: one star; still moments reach {reason.still_arcsec:.1f}″"


@_say.register
def _(reason: reasons.Glare, word: Word, zone: ZoneInfo) -> str:
    if word is Word.OUT and reason.is_star_easy:
        return "the star is easy; companion lost in its glare"
    where = f"companion {reason.separation_arcsec:.1f}″ off, {reason.difference_mag:.1f} mag fainter"
    return f"{where}: {'lost' if word is Word.OUT else 'glare'}"


@_say.register
def _(reason: reasons.BetterAt, word: Word, zone: ZoneInfo) -> str:
    return f"better at {power(reason.power)}"
