"""Eyepieces and filters as an experienced friend would choose them: cases of common practice."""

import datetime as dt
import tomllib
from functools import cache
from pathlib import Path

import pytest
from night.carried import kit_of

from nightmode.catalog.resolve import resolve
from nightmode.model.kit import Eyepiece, Filter, Kit, Telescope
from nightmode.model.observer import Person
from nightmode.model.site import Site
from nightmode.model.target import Target
from nightmode.night.circumstances import Circumstances
from nightmode.night.equipping import equip
from nightmode.night.opening import night_sky
from nightmode.night.verdict import verdicts
from nightmode.records import replace
from nightmode.sky.kernel import open_sky
from nightmode.words import Word

FILE = Path(__file__).parents[1] / "reference" / "practice.toml"
PRACTICE = tomllib.loads(FILE.read_text(encoding="utf-8"))
CASES = PRACTICE["cases"]["rows"]
FURTHER = PRACTICE["further"]["rows"]
#: New Moons of four seasons.
NIGHTS = (dt.date(2027, 1, 7), dt.date(2027, 4, 6), dt.date(2027, 7, 4), dt.date(2026, 10, 10))
#: Of ten suggestions, an experienced friend nods at nine (the claim of the documents).
NODS = 0.9


def kit(name):
    return kit_of(name, PRACTICE["telescope"][name])


@cache
def skies(latitude_deg):
    """Return the four nights at a latitude for every object of the cases there."""
    names = sorted({case[0] for case in (*CASES, *FURTHER) if case[1] == latitude_deg})
    site = Site(name="A", latitude_deg=latitude_deg, longitude_deg=0, sky_brightness=20.0)
    subjects = [resolve(Target(name=name)) for name in names]
    made = [Circumstances(date, site, kit("box200"), Person()) for date in NIGHTS]
    return names, [night_sky(open_sky(), where, subjects) for where in made]


def best_sky(name, latitude_deg, sky_mag):
    """Return the night of the four on which an object can be observed longest, with that object alone."""
    names, nights = skies(latitude_deg)
    row = names.index(name)
    sky = max(nights, key=lambda night: sum(one.end_s - one.start_s for one in night.targets[row].usable))
    return replace(
        sky,
        zenith_mag=sky_mag,
        targets=sky.targets[row : row + 1],
        altitude_deg=sky.altitude_deg[row : row + 1],
        azimuth_deg=sky.azimuth_deg[row : row + 1],
    )


def nodded(case):
    name, latitude_deg, sky_mag, telescope, lowest, highest, filters = case
    look = equip(best_sky(name, latitude_deg, sky_mag), kit(telescope)).targets[0].look
    return lowest <= look.combination.power <= highest and (look.filter or "") in filters


def test_there_are_sixty_cases_and_more():
    assert len(CASES) >= 60


@pytest.mark.parametrize("telescope", PRACTICE["telescope"])
def test_an_experienced_friend_nods_nine_times_in_ten(telescope):
    cases = [case for case in CASES if case[3] == telescope]
    odd = [case for case in cases if not nodded(case)]
    assert len(odd) <= (1.0 - NODS) * len(cases), odd


def test_of_cases_written_before_any_answer_was_seen_nearly_as_many_are_nodded_at():
    odd = [case for case in FURTHER if not nodded(case)]
    assert len(FURTHER) >= 30
    assert len(odd) <= 0.15 * len(FURTHER), odd


@cache
def horsehead_sky():
    site = Site(name="A", latitude_deg=37, longitude_deg=0, sky_brightness=20.0)
    return night_sky(
        open_sky(), Circumstances(NIGHTS[0], site, kit("box200"), Person()), [resolve(Target(name="B 33"))]
    )


@pytest.mark.parametrize(
    ("aperture_mm", "focal_mm", "sky_mag", "eyepieces_mm", "bands", "words"),
    # Common practice, no published source: the Horsehead is seen by the hydrogen behind it, at low power.
    [
        (500, 2000, 21.9, (25,), ["hbeta"], {Word.HARD, Word.FAIR}),
        (500, 2000, 21.9, (25, 15, 10, 6), ["oiii", "narrowband", "hbeta"], {Word.HARD, Word.FAIR}),
        (200, 1200, 21.2, (32, 25, 15, 10), ["hbeta"], {Word.HARD, Word.OUT}),
        (300, 1500, 18.2, (28, 20, 10, 7), ["narrowband", "hbeta"], {Word.OUT}),
        (114, 900, 19.3, (25, 10), ["hbeta"], {Word.OUT}),
        (70, 700, 21.5, (25, 10), ["hbeta"], {Word.OUT}),
    ],
)
def test_a_dark_nebula_before_glowing_hydrogen_gains_by_the_filter_for_it(
    aperture_mm, focal_mm, sky_mag, eyepieces_mm, bands, words
):
    tube = Kit(
        telescope=Telescope(name="t", aperture_mm=aperture_mm, focal_length_mm=focal_mm),
        eyepieces=tuple(
            Eyepiece(name=f"{focal} mm", focal_length_mm=focal, apparent_field_deg=68)
            for focal in eyepieces_mm
        ),
        filters=tuple(Filter(name=band, passband=band) for band in bands),
    )
    night = equip(replace(horsehead_sky(), zenith_mag=sky_mag), tube)
    (target,), (verdict,) = night.targets, verdicts(night)
    assert verdict.word in words
    if verdict.word.shows:
        assert target.look.filter == "hbeta"
