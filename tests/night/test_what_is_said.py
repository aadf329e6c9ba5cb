"""What is said with a verdict, as an experienced friend would: common practice, no published source."""

import datetime as dt
import re
from functools import cache

import pytest

from nightmode.catalog.light import lights_of
from nightmode.catalog.resolve import resolve
from nightmode.model.kit import Barlow, Binoculars, Eyepiece, Filter, Kit, Telescope
from nightmode.model.observer import Person
from nightmode.model.site import Site
from nightmode.model.target import Target
from nightmode.night.circumstances import Circumstances
from nightmode.night.equipping import equip
from nightmode.night.opening import night_sky
from nightmode.night.verdict import verdict_at, verdicts
from nightmode.sky.kernel import open_sky
from nightmode.visibility.conditions import Conditions
from nightmode.visibility.glass import Glass
from nightmode.visibility.margin import margin, word
from nightmode.wording.reasons import reason_text
from nightmode.words import Word

AUTUMN, WINTER = dt.date(2026, 11, 8), dt.date(2027, 1, 7)
SPRING, SUMMER = dt.date(2027, 4, 6), dt.date(2027, 7, 4)


def tube(aperture_mm, focal_mm, *eyepieces, filters=()):
    return Kit(
        telescope=Telescope(name="tube", aperture_mm=aperture_mm, focal_length_mm=focal_mm),
        eyepieces=tuple(
            Eyepiece(name=f"{mm} mm", focal_length_mm=mm, apparent_field_deg=60) for mm in eyepieces
        ),
        barlows=(Barlow(name="2x", factor=2),),
        filters=tuple(Filter(name=band, passband=band) for band in filters),
    )


#: A kit and its sky, mag/arcsec².
KITS = {
    "70 city": (tube(70, 700, 25, 10), 18.0),
    "10x50": (
        Kit(telescope=Binoculars(name="b", magnification=10, aperture_mm=50, true_field_deg=6.5)),
        21.0,
    ),
    "114 suburb": (tube(114, 900, 25, 10, 6, filters=("oiii", "narrowband")), 19.3),
    "200 country": (tube(200, 1200, 30, 18, 10, 6, filters=("oiii", "narrowband")), 21.3),
    "300 hydrogen": (tube(300, 1500, 30, 24, 10, 7, filters=("narrowband", "hbeta")), 21.6),
    "500 hydrogen": (tube(500, 2000, 24, 20, 10, 7, filters=("narrowband", "hbeta")), 21.8),
    "500 desert": (tube(500, 2000, 24, 17, 10, filters=("oiii", "narrowband")), 21.8),
}


@cache
def night_of(name, kit, date):
    made, sky_mag = KITS[kit]
    site = Site(name="A", latitude_deg=40, longitude_deg=15, timezone="Europe/Vienna", sky_brightness=sky_mag)
    sky = night_sky(open_sky(), Circumstances(date, site, made, Person()), [resolve(Target(name=name))])
    return equip(sky, made)


def told(name, kit, date):
    """Return the word, and the reason as it is said."""
    night = night_of(name, kit, date)
    verdict = verdicts(night)[0]
    return verdict.word, reason_text(verdict, night.site.zone)


@pytest.mark.parametrize(
    ("name", "date", "from_power"),
    [
        ("M 57", SUMMER, (15, 30)),
        ("NGC 7662", AUTUMN, (30, 60)),
        ("NGC 6543", SUMMER, (40, 80)),
        ("NGC 7009", AUTUMN, (25, 50)),
        ("NGC 6572", SUMMER, (80, 150)),
        ("NGC 3242", SPRING, (20, 40)),
    ],
)
def test_a_small_bright_nebula_is_a_star_in_binoculars_and_that_is_said(name, date, from_power):
    found, reason = told(name, "10x50", date)
    assert found in (Word.FAIR, Word.HARD)
    looks, disc = reason.split("; a disc from ")
    assert looks == "looks like a star at 10x"
    assert from_power[0] <= int(disc.removesuffix("x")) <= from_power[1]


def test_a_planet_that_shows_no_disc_is_told_in_the_same_words():
    found, reason = told("Uranus", "10x50", AUTUMN)
    assert found is Word.OUT
    assert reason.startswith("looks like a star at 10x; a disc from ")


@pytest.mark.parametrize("name", ["M 27", "M 13", "M 15", "M 31", "M 92"])
def test_what_shows_as_a_glow_at_ten_times_is_not_called_a_star(name):
    found, reason = told(name, "10x50", AUTUMN)
    assert found.shows
    assert "star at" not in reason


def test_more_power_makes_a_disc_of_it():
    night = night_of("NGC 6543", "114 suburb", SUMMER)
    combination = {round(one.power): one for one in night.targets[0].choices}
    at_s = night.targets[0].usable[0].start_s + 3600
    high = verdict_at(night, 0, at_s, combination[90])
    assert "star" not in reason_text(high, night.site.zone)
    low = verdict_at(night, 0, at_s, combination[36])
    assert low.word is Word.FAIR
    assert reason_text(low, night.site.zone) == "looks like a star at 36x; a disc from 66x"


BRIGHT_DISCS = [
    (name, date)
    for date, names in (
        (SUMMER, ("M 57", "NGC 6543", "NGC 6572", "NGC 6210", "NGC 6826", "NGC 6818", "NGC 7027")),
        (AUTUMN, ("NGC 7662", "NGC 7009", "IC 418")),
        (SPRING, ("NGC 2392", "NGC 3242", "NGC 2440")),
    )
    for name in names
]


@pytest.mark.parametrize("kit", ["114 suburb", "200 country", "500 desert"])
@pytest.mark.parametrize(("name", "date"), BRIGHT_DISCS)
def test_a_small_bright_planetary_wants_power_and_no_filter(name, date, kit):
    look = night_of(name, kit, date).targets[0].look
    assert look.filter is None
    assert look.combination.power >= 140


@pytest.mark.parametrize(
    ("name", "date"),
    [("M 27", SUMMER), ("M 97", SPRING), ("M 76", AUTUMN), ("NGC 246", AUTUMN), ("NGC 6781", SUMMER)],
)
def test_a_large_or_faint_planetary_wants_the_filter(name, date):
    assert night_of(name, "114 suburb", date).targets[0].look.filter == "oiii"


@pytest.mark.parametrize(
    ("name", "kit", "date", "help_"),
    [
        # A filter is the cheapest help for what shines in lines, where the telescope has none ...
        ("M 17", "70 city", SUMMER, r"fair with a narrowband filter"),
        # ... but none is named for a bright disc, for starlight, for binoculars, or where one is at hand.
        ("NGC 6210", "70 city", SUMMER, r"easy (in a sky of \d\d\.\d|with \d+ mm)"),
        ("M 33", "70 city", AUTUMN, r"needs a sky of \d\d\.\d"),
        ("NGC 6888", "10x50", SUMMER, r"needs a sky of .*"),
        ("NGC 6888", "200 country", SUMMER, r"easy with \d+ mm"),
        # What neither a sky nor an aperture alone would show gets both figures.
        ("NGC 520", "70 city", AUTUMN, r"needs \d+ mm in a sky of 21\.7"),
    ],
)
def test_what_would_help_is_said_with_its_figure(name, kit, date, help_):
    found, reason = told(name, kit, date)
    assert found is not Word.EASY
    assert re.fullmatch(help_, reason), reason


@pytest.mark.parametrize(
    ("name", "kit", "date"),
    [
        ("B 33", "10x50", WINTER),
        ("B 33", "114 suburb", WINTER),
        ("NGC 246", "10x50", AUTUMN),
        ("M 33", "70 city", WINTER),
    ],
)
def test_low_air_is_not_blamed_for_what_would_not_show_in_the_zenith(name, kit, date):
    found, reason = told(name, kit, date)
    assert found is Word.OUT
    assert not reason.startswith("only")


@pytest.mark.parametrize("name", ["NGC 2237", "NGC 1499", "IC 1396", "NGC 7000"])
def test_no_aperture_is_named_that_nobody_has(name):
    for kit in KITS:
        reason = told(name, kit, WINTER)[1]
        assert "more than" not in reason, kit


def test_what_stands_low_and_would_show_higher_up_is_told_to_be_low():
    found, reason = told("NGC 253", "10x50", AUTUMN)
    assert found in (Word.FAIR, Word.HARD)
    assert re.match(r"only \d\d° high", reason)


def test_what_is_low_only_when_the_moon_has_set_is_told_so_and_not_that_it_was_never_higher():
    # M 33 stands near the zenith early in the night, beside a Moon two thirds lit that sets at two.
    word_, reason = told("M 33", "10x50", dt.date(2026, 12, 18))
    assert word_ is Word.HARD
    assert re.fullmatch(r"only (2\d|1\d)° high once the Moon is down", reason)


@pytest.mark.parametrize(("kit", "filter_"), [("500 hydrogen", "hbeta"), ("300 hydrogen", "hbeta")])
def test_the_horsehead_is_looked_for_with_a_wide_beam(kit, filter_):
    look = night_of("B 33", kit, WINTER).targets[0].look
    assert look.filter == filter_
    assert 4.0 <= look.combination.exit_pupil_mm <= 6.0


@pytest.mark.parametrize("name", ["B 142", "B 143"])
def test_a_dark_nebula_that_nothing_makes_easy_is_little_darker_than_the_sky(name):
    assert told(name, "200 country", SUMMER) == (Word.FAIR, "little darker than the sky around it")


#: The word through 200 mm under a dark sky, by how far a full Moon is away, 0 for one that is down.
MOONLIT = [
    ("M 37", {0: "easy", 60: "fair", 20: "fair"}),
    ("M 36", {0: "easy", 60: "easy", 20: "fair"}),
    ("M 45", {0: "easy", 60: "easy", 20: "easy"}),
    ("NGC 7789", {0: "easy", 60: "fair", 20: "fair"}),
    ("NGC 1907", {0: "easy", 60: "fair", 20: "hard"}),
    ("NGC 2158", {0: "fair", 60: "hard", 20: "out of reach"}),
    ("M 13", {0: "easy", 60: "easy", 20: "easy"}),
    ("M 81", {0: "easy", 60: "fair", 20: "fair"}),
    ("M 51", {0: "easy", 60: "hard", 20: "out of reach"}),
    ("M 33", {0: "fair", 60: "out of reach", 20: "out of reach"}),
    ("M 57", {0: "easy", 60: "easy", 20: "fair"}),
]


@pytest.mark.parametrize(("name", "words"), MOONLIT)
def test_a_full_moon_takes_from_each_about_what_observers_tell(name, words):
    light = lights_of([resolve(Target(name=name))])
    glass = Glass(aperture_mm=200.0, magnification=40.0, true_field_deg=1.7, obstruction_mm=47.0)
    harder = []
    for apart_deg, expected in words.items():
        moon = {"moon_phase_angle_deg": 5.0, "moon_separation_deg": apart_deg, "moon_altitude_deg": 50.0}
        where = Conditions(21.3, 60.0, **(moon if apart_deg else {}))
        found = margin(light, where.sky_mag(), where.loss_mag(), glass)
        ours = word(found.margin_dex).tolist()[0]
        assert abs(ours.rank - Word(expected).rank) <= 1, (apart_deg, found.margin_dex)
        harder.append(ours.rank)
    assert harder == sorted(harder)


@pytest.mark.parametrize(
    ("name", "date", "words"),
    [
        ("NGC 1435", WINTER, {Word.HARD, Word.OUT}),
        ("NGC 7023", AUTUMN, {Word.HARD, Word.OUT}),
        ("M 78", WINTER, {Word.FAIR, Word.HARD}),
        ("NGC 2023", WINTER, {Word.OUT}),
        ("NGC 1788", WINTER, {Word.HARD, Word.OUT}),
        ("NGC 281", AUTUMN, {Word.HARD, Word.OUT}),
        ("NGC 6888", SUMMER, {Word.HARD, Word.OUT}),
        ("IC 5146", AUTUMN, {Word.OUT}),
        ("NGC 7000", SUMMER, {Word.FAIR}),
    ],
)
def test_faint_nebulae_and_those_around_a_star_are_no_gift_in_binoculars(name, date, words):
    assert told(name, "10x50", date)[0] in words


def test_what_the_moon_takes_is_said_with_the_word_that_it_leaves_without():
    found, reason = told("M 51", "200 country", dt.date(2027, 3, 22))
    assert found in (Word.FAIR, Word.HARD)
    assert re.fullmatch(r"Moon \d+ % lit, \d+° away; easy without it", reason)


def test_the_moon_is_not_blamed_for_what_would_be_out_of_reach_without_it():
    found, reason = told("M 101", "70 city", dt.date(2027, 3, 22))
    assert found is Word.OUT
    assert re.fullmatch(r"needs a sky of \d\d\.\d without Moon", reason)
