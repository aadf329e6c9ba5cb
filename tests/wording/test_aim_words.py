"""The words that lead to a target, followed to the letter."""

import re

import numpy as np
import pytest
from aim.skies import view
from rows import rows
from turns import rarely

from nightmode.aim.figure import Form, follow
from nightmode.aim.frame import bearing_deg, direction, frame, point_at
from nightmode.aim.pointing import Extent, Pointing
from nightmode.aim.shows import Air
from nightmode.catalog.resolve import lookup
from nightmode.sky.vectors import angle_between_deg
from nightmode.wording.aim import clock_words, go_words, plainly, sky_words, why_bright
from nightmode.wording.place import fists

MESSIER = [f"M {number}" for number in range(1, 111)]
SOUTHERN = ["NGC 104", "NGC 5139", "NGC 2070", "NGC 3372", "NGC 5128", "NGC 6752", "NGC 2516", "NGC 253"]
SOUTHERN += ["NGC 6397", "NGC 3201", "NGC 1365", "NGC 6231", "NGC 2451", "NGC 4945", "NGC 55", "IC 2602"]
NIGHT = Air(21.0, 0.25, -50.0, direction(-50.0, 0.0), -50.0, 90.0)


def told(name, latitude_deg, limit_mag):
    """Return what points to a target, and its words by label."""
    subject = lookup(name)
    seen = view(subject.ra_deg, subject.dec_deg, latitude_deg, -20.0, limit_mag)
    one = Pointing(
        name=name,
        stars=seen.stars,
        called=tuple(seen.words),
        guide=seen.guide,
        air=NIGHT,
        rings_deg=(0.5, 2.0, 4.0),
        fist_deg=10.0,
        pole=direction(latitude_deg, 0.0),
        horizon=(),
        extent=Extent(),
        finder=None,
        finder_margin_mag=None,
        chain=None,
    )
    return one, dict(reversed(sky_words(one)))


def followed(one, words):
    """Return where somebody comes out who does what the words say: degrees and clock, from the star."""
    if "the target is there" in words["go"]:
        return one.stars.direction[one.guide.begin.star]
    degrees = float(re.search(r"([\d.]+)°", words["go"])[1])
    half, hour = re.search(r"(half past )?(\d+)(?: o'clock)?\)$", words["go"]).groups()
    home = frame(one.stars.direction[one.guide.begin.star])
    return point_at(home, degrees, (int(hour) + (0.5 if half else 0.0)) * 30.0)


@pytest.mark.parametrize(
    ("names", "latitude_deg", "limit_mag"),
    [
        (MESSIER[::2], 40.0, 5.0),
        (SOUTHERN[::2], -34.0, 6.2),
        (SOUTHERN[1::2], -34.0, 4.0),
        *(rarely(MESSIER, 40.0, limit_mag) for limit_mag in (6.2, 5.0, 4.0)),
        *(rarely(SOUTHERN, -34.0, limit_mag) for limit_mag in (6.2, 5.0, 4.0)),
    ],
)
def test_words_followed_to_the_letter_lead_there(names, latitude_deg, limit_mag):
    misses = []
    for name in names:
        one, words = told(name, latitude_deg, limit_mag)
        if one.guide.begin is None:
            misses.append(90.0)
            continue
        led_to = [followed(one, words)]
        led_to += [follow(one.stars, one.guide.figure)] if one.guide.figure else []
        misses.append(min(float(angle_between_deg(place, one.guide.target)) for place in led_to))
    assert np.mean(np.array(misses) <= 2.0) >= 0.85


def test_the_andromeda_galaxy_is_told_as_at_the_telescope():
    _, words = told("M 31", 46.0, 6.2)
    assert words["begin"].startswith("Mirach, ")
    assert words["figure"] == "from Mirach through μ And and as far again"
    assert re.fullmatch(r"2 large circles up .*\(7\.7°, .*\)", words["go"])
    assert "ν And inside the large circle at" in words["sight"]
    assert plainly(words["figure"]) == "from Mirach through mu And and as far again"


def test_circles_are_told_on_the_side_where_the_star_stands():
    one, _ = told("M 57", 46.0, 6.2)
    for star in one.guide.ring_stars:
        bearing = float(bearing_deg(one.guide.closer, one.stars.direction[star.star]))
        assert clock_words(star.bearing_deg) == clock_words(bearing)


@rows(
    "bearing, halves, words",
    [
        (0, False, "12 o'clock"),
        (359, False, "12 o'clock"),
        (90, False, "3 o'clock"),
        (104, True, "half past 3"),
        (345, True, "half past 11"),
        (15, True, "half past 12"),
        (353, True, "12 o'clock"),
    ],
)
def test_a_bearing_is_told_by_the_clock(bearing, halves, words):
    assert clock_words(bearing, halves) == words


@rows("degrees, words", [(1, "½ fist"), (7, "½ fist"), (8, "1 fist"), (45, "4½ fists"), (90, "9 fists")])
def test_heights_are_told_in_fists(degrees, words):
    assert fists(degrees, 10.0) == words
    assert plainly(words).isascii()


def test_a_smaller_fist_counts_more_of_them():
    assert fists(40, 8.0) == "5 fists"


def test_what_hides_the_stars_is_named():
    target = direction(45.0, 180.0)
    up = Air(21.0, 0.25, -50.0, direction(40.0, 160.0), 40.0, 5.0)
    dusk = Air(21.0, 0.25, -8.0, direction(-50.0, 0.0), -50.0, 90.0)
    town = Air(18.7, 0.25, -50.0, direction(-50.0, 0.0), -50.0, 90.0)
    assert why_bright(dusk, target) == "it is still twilight"
    assert why_bright(up, target).startswith("moonlight")
    assert why_bright(town, target).startswith("this sky shows stars to 4.")


def test_a_sky_without_stars_says_so():
    one, words = told("M 57", 46.0, -3.0)
    assert one.guide.begin is None
    assert words["begin"].startswith("no star near it shows: ")
    assert "go" not in words


def test_every_form_of_figure_has_words():
    forms = set()
    for name in MESSIER[::3]:
        one, words = told(name, 40.0, 4.6)
        if one.guide.figure:
            forms.add(one.guide.figure.form)
            assert one.called[one.guide.figure.first] in words["figure"]
            assert one.called[one.guide.figure.second] in words["figure"]
            if one.guide.figure.side is not None:
                assert re.search(r"on the side (of|away from) ", words["figure"])
    assert forms >= {Form.BETWEEN, Form.BEYOND, Form.TOWARDS}


def test_go_counts_circles_fists_or_degrees_as_suits_the_way():
    one, _ = told("M 57", 46.0, 6.2)
    begin = one.guide.begin
    units = {0.8: "0.8° ", 2.0: "½ large circle ", 4.0: "1 large circle ", 15.0: "1½ fists "}
    for away, unit in units.items():
        assert go_words(one, type(begin)(begin.star, away, 90.0)).startswith(unit + "right")
