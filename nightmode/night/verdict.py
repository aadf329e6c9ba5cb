"""The verdict on each target: a word, the margin behind it, what limits it and what would change that."""

from collections.abc import Sequence

import numpy as np

from nightmode.arrays import Indices
from nightmode.eyepiece import Combination
from nightmode.night import glow, hidden
from nightmode.night.cell import Cell
from nightmode.night.conditions import best_columns
from nightmode.night.hours import spans_in_hours
from nightmode.night.point import point_verdict
from nightmode.night.table import Night
from nightmode.records import replace
from nightmode.visibility.moonlight import Moon, moon_glow_nl
from nightmode.visibility.photometry import mag_of_nanolambert, nanolambert
from nightmode.visibility.reasons import BetterAt, Verdict
from nightmode.visibility.sky import twilight_glow_nl
from nightmode.words import Cause, Word

#: If subtracting moonlight and twilight leaves less of a reading than this share, the rest says little: the
#: moonlight model is good to 8 to 23 percent (Krisciunas & Schaefer 1991).
LEAST_LEFT = 0.25
#: The power is named as the cause if the suggestion has a margin larger by this, in dex (our own rule).
BETTER_POWER_DEX = 0.15


def verdict_at(
    night: Night,
    row: int,
    now_s: float,
    combination: Combination | None = None,
    zenith_mag: float | None = None,
) -> Verdict:
    """Return the verdict on one target at one instant, through a combination (None: the suggested one).

    The filter is the one suggested for the target. zenith_mag is the brightness of the site's zenith without
    Moon and twilight, mag/arcsec², if the observer has measured it (see `moonless_zenith_mag`).
    """
    if refused := hidden.hidden(night, row, now_s):
        return refused
    column = np.array([np.clip(np.rint((now_s - night.time_s[0]) / 60.0), 0, len(night.time_s) - 1)], int)
    look = _look(night, row)
    usual = _judge(night, [row], column, [look], zenith_mag)[0]
    if combination is None or look is None or combination == look:
        return usual
    other = _judge(night, [row], column, [combination], zenith_mag)[0]
    return _blamed_on_power(other, usual, look)


def _blamed_on_power(other: Verdict, usual: Verdict, look: Combination) -> Verdict:
    """Return the verdict `other`, with its power as the cause if the suggested one shows clearly more.

    One that blames the power already says what power would do.
    """
    if other.margin_dex is None or usual.margin_dex is None or other.word is Word.EASY:
        return other
    if other.cause is Cause.POWER:
        return other
    if usual.margin_dex < other.margin_dex + BETTER_POWER_DEX:
        return other
    return replace(other, cause=Cause.POWER, reason=BetterAt(look.power))


def verdicts(night: Night, zenith_mag: float | None = None) -> tuple[Verdict, ...]:
    """Return the verdict on every target through its suggested combination, at its best usable moment.

    If the observer has set hours, only they count: a target that is usable outside them alone does not fit.
    """
    return verdicts_on(night, range(len(night.targets)), zenith_mag)


def verdicts_on(night: Night, rows: Sequence[int], zenith_mag: float | None = None) -> tuple[Verdict, ...]:
    """Return `verdicts` on some of the targets alone."""
    if not rows:
        return ()
    up, columns = _best_moments(night, rows)
    judged = _judge(night, up, columns, [_look(night, row) for row in up], zenith_mag)
    found = dict(zip(up, judged, strict=True))
    return tuple(_not_in_time(night, row) or found[row] for row in rows)


def words(night: Night) -> tuple[Word, ...]:
    """Return the words of `verdicts` alone, in a third of the time: nobody asks for causes and remedies."""
    rows = range(len(night.targets))
    up, columns = _best_moments(night, rows)
    found = dict(zip(up, words_at(night, up, columns), strict=True))
    return tuple(late.word if (late := _not_in_time(night, row)) else found[row] for row in rows)


def _best_moments(night: Night, rows: Sequence[int]) -> tuple[list[int], Indices]:
    """Return those of rows that are usable, and the column of the best moment of each."""
    up = [row for row in rows if night.targets[row].usable]
    return up, best_columns(night, [target.subject for target in night.targets], night.chances)[up]


def _not_in_time(night: Night, row: int) -> Verdict | None:
    """Return the verdict on a target that is not usable, or outside the observer's hours alone; else None."""
    if not night.targets[row].usable:
        return hidden.never_up(night, row)
    is_in_hours = bool(spans_in_hours(night, night.targets[row].chance))
    return None if is_in_hours else hidden.outside_hours(night, row)


def words_at(night: Night, rows: list[int], columns: Indices) -> list[Word]:
    """Return the verdict words of targets `rows`, each with its suggested combination, at its own column."""
    looks, zenith_mag = [_look(night, row) for row in rows], night.zenith_mag
    glows = _glows(night, rows, looks)
    told = glow.glow_words(night, *_of_places(rows, columns, looks, glows), zenith_mag)
    found = dict(zip(glows, told, strict=True))
    return [
        found.get(place) or point_verdict(Cell(night, row, column), looks[place], zenith_mag).word
        for place, (row, column) in enumerate(zip(rows, columns.tolist(), strict=True))
    ]


def moonless_zenith_mag(night: Night, reading_mag: float, at_s: float) -> float:
    """Return the brightness of the zenith without Moon and twilight, mag/arcsec², from a reading at at_s.

    The light of Moon and twilight in the zenith, by the model, is subtracted from the reading. Where less
    than a quarter of the light is left, the result would be too uncertain, and the figure that the night was
    opened with is returned.
    """
    moon_altitude = night.moon_altitude_at(at_s)
    phase_angle = float(np.interp(at_s, night.time_s, night.moon.light_phase_deg))
    moon = Moon(phase_angle, separation_deg=90.0 - moon_altitude, altitude_deg=moon_altitude)
    moonlight = moon_glow_nl(moon, 90.0, night.site.extinction)
    extra = float(moonlight + twilight_glow_nl(night.sun_altitude_at(at_s)))
    reading = float(nanolambert(reading_mag))
    if reading - extra < LEAST_LEFT * reading:
        return night.zenith_mag
    return float(mag_of_nanolambert(reading - extra))


def _look(night: Night, row: int) -> Combination | None:
    look = night.targets[row].look
    return look.combination if look else None


def _judge(
    night: Night,
    rows: list[int],
    columns: Indices,
    combinations: list[Combination | None],
    zenith_mag: float | None,
) -> list[Verdict]:
    """Return verdicts on targets `rows`, each at its own minute and through its own combination."""
    zenith = night.zenith_mag if zenith_mag is None else zenith_mag
    glows = _glows(night, rows, combinations)
    told = glow.glow_verdicts(night, *_of_places(rows, columns, combinations, glows), zenith)
    found = dict(zip(glows, told, strict=True))
    return [
        found.get(place) or point_verdict(Cell(night, row, column), combinations[place], zenith)
        for place, (row, column) in enumerate(zip(rows, columns.tolist(), strict=True))
    ]


def _glows(night: Night, rows: list[int], combinations: Sequence[Combination | None]) -> list[int]:
    """Return the places, among targets `rows`, of those that are judged by their contrast with the sky."""
    return [
        place
        for place, (row, combination) in enumerate(zip(rows, combinations, strict=True))
        if combination is not None and glow.is_glow(night.targets[row].subject)
    ]


def _of_places(
    rows: list[int], columns: Indices, combinations: Sequence[Combination | None], places: list[int]
) -> tuple[Indices, Indices, list[Combination]]:
    """Return rows, columns and combinations at some places, none of which is without a combination."""
    through = [combination for place in places if (combination := combinations[place]) is not None]
    return np.array([rows[place] for place in places], dtype=int), columns[places], through
