"""The printed sheet: whole, valid, self-contained, in walk order, with the sky's own heights."""

import datetime as dt
import math
import re
from html import escape

import ephem
import html5lib
import pytest

from nightmode.aim.frame import altitude_azimuth
from nightmode.catalog.resolve import resolve
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.model.kit import Eyepiece, Kit, Telescope
from nightmode.model.observer import Observer, Person
from nightmode.model.plan import Plan
from nightmode.model.site import Site
from nightmode.model.target import Body, Target
from nightmode.night.aiming import zenith_then
from nightmode.night.circumstances import Circumstances, circumstances_on
from nightmode.night.opening import open_night
from nightmode.night.verdict import verdicts
from nightmode.report.sheet import sheet_html, sheet_text
from nightmode.report.sheet_rows import sheet_of
from nightmode.report.shown_tonight import shown_tonight
from nightmode.sky.kernel import open_sky
from nightmode.wording.reasons import reason_text

HOSTILE = '<script>alert("1")</script> & "quoted" \''


@pytest.fixture(scope="module")
def sky():
    return open_sky()


def night_of(sky, plan, date=None):
    where = circumstances_on(plan, Observer(), date or plan.night)
    return open_night(sky, where, [resolve(target) for target in plan.target])


@pytest.fixture(scope="module", params=["hillside", "balcony"])
def opened(request, sky):
    plan = read_toml(shipped("plans") / f"{request.param}.toml", Plan)
    return plan, night_of(sky, plan)


@pytest.fixture(scope="module")
def sheet(opened):
    plan, night = opened
    return sheet_of(night, plan.title, plan.note)


def texts(page, tag):
    return ["".join(node.itertext()) for node in page.iter(f"{{http://www.w3.org/1999/xhtml}}{tag}")]


def test_the_page_loads_nothing_and_runs_nothing(sheet):
    assert not re.search(r"<script|<link|<img|src=|href=|url\(|@import|https?:", sheet_html(sheet))


def test_the_page_is_valid_and_every_target_stands_there_once_in_walk_order(opened, sheet):
    _, night = opened
    names = [night.targets[row].subject.name for row in night.in_walk_order()]
    page = html5lib.HTMLParser(strict=True).parse(sheet_html(sheet))
    spans = [node for node in page.iter("{http://www.w3.org/1999/xhtml}span") if node.get("class") == "name"]
    assert [span.text for span in spans] == names
    text = sheet_text(sheet)
    places = [re.search(rf"\n\n{name}(,|\n)", text).start() for name in names]
    assert places == sorted(places)


def test_each_target_has_three_boxes_and_a_line_for_notes(sheet):
    html = sheet_html(sheet)
    lists = len(sheet.before_dark) + len(sheet.packing_up)
    assert html.count('class="box"') == 3 * len(sheet.rows) + lists
    assert html.count('class="notes"') == len(sheet.rows)
    assert sheet_text(sheet).count("at __:__") == len(sheet.rows)


def test_a_verdict_stands_there_with_its_reason(opened, sheet):
    _, night = opened
    judged = {
        target.subject.name: verdict for target, verdict in zip(night.targets, verdicts(night), strict=True)
    }
    text, page = " ".join(sheet_text(sheet).split()), sheet_html(sheet)
    not_easy = {
        name: verdict for name, verdict in judged.items() if verdict.word in ("fair", "hard", "out of reach")
    }
    assert not_easy
    for name, verdict in not_easy.items():
        told = reason_text(verdict, night.site.zone)
        assert f"{verdict.word}: {told}" in text, name
        assert escape(f"{verdict.word.capitalize()}: {told}") in page, name


def test_the_sun_is_warned_of_on_paper(sheet):
    assert "Never point telescope, finder or eye at the Sun" in sheet_html(sheet)
    assert "Never point telescope, finder or eye at the Sun" in " ".join(sheet_text(sheet).split())


def test_the_text_fits_a_terminal(sheet):
    assert max(map(len, sheet_text(sheet).splitlines())) <= 80


def test_heights_by_the_hour_agree_with_ephem(opened, sheet):
    plan, night = opened
    here = ephem.Observer()
    here.lat, here.lon = str(plan.site.latitude_deg), str(plan.site.longitude_deg)
    here.elevation, here.pressure = plan.site.elevation_m, 1010
    compared = 0
    for row in sheet.rows:
        subject = resolve(next(target for target in plan.target if target.name == row.name))
        if isinstance(subject, Body):
            continue
        body = ephem.FixedBody()
        body._ra, body._dec = math.radians(subject.ra_deg), math.radians(subject.dec_deg)
        for hour, height in zip(sheet.hours, row.heights, strict=True):
            day = night.date + dt.timedelta(days=int(hour) < 12)
            moment = dt.datetime.combine(day, dt.time(int(hour)), night.site.zone)
            here.date = moment.astimezone(dt.UTC).replace(tzinfo=None)
            body.compute(here)
            if math.degrees(body.alt) > 5:
                assert height.altitude_deg == pytest.approx(math.degrees(body.alt), abs=0.6)
                compared += 1
    assert compared > 100


def test_heights_are_bold_only_while_the_target_can_be_observed(opened, sheet):
    for row in sheet.rows:
        for height in row.heights:
            assert not height.usable or height.altitude_deg >= 7
    never = [row for row in sheet.rows if row.when == "not tonight"]
    assert len(never) == 1
    assert not any(height.usable for height in never[0].heights)


def test_what_a_plan_says_cannot_become_markup(sky):
    plan = read_toml(shipped("plans") / "hillside.toml", Plan)
    target = Target(name="M 31", look_for=HOSTILE, note=HOSTILE)
    night = night_of(sky, plan.model_copy(update={"target": (target,)}))
    html = sheet_html(sheet_of(night, HOSTILE, HOSTILE))
    html5lib.HTMLParser(strict=True).parse(html)
    assert "<script" not in html
    page = html5lib.parse(html)
    assert texts(page, "h1") == [HOSTILE]
    assert HOSTILE in "".join(page.itertext())


def test_a_night_without_darkness_still_makes_a_sheet(sky):
    plan = read_toml(shipped("plans") / "hillside.toml", Plan)
    north = plan.site.model_copy(update={"latitude_deg": 69.0, "horizon": ()})
    night = night_of(sky, plan.model_copy(update={"site": north}), dt.date(2026, 6, 21))
    sheet = sheet_of(night, plan.title)
    assert sheet.hours == ()
    assert all(row.when == "not tonight" for row in sheet.rows)
    html5lib.HTMLParser(strict=True).parse(sheet_html(sheet))


def test_a_polar_night_has_no_more_hours_than_fit(sky):
    plan = read_toml(shipped("plans") / "hillside.toml", Plan)
    north = plan.site.model_copy(update={"latitude_deg": 78.0, "horizon": ()})
    sheet = sheet_of(night_of(sky, plan.model_copy(update={"site": north})), plan.title)
    assert 10 <= len(sheet.hours) <= 15
    assert max(map(len, sheet_text(sheet).splitlines())) <= 80


@pytest.fixture(scope="module")
def charted(opened):
    plan, night = opened
    return night, sheet_of(night, plan.title, plan.note, with_charts=True)


def test_with_charts_every_target_that_can_be_observed_has_one(charted):
    night, sheet = charted
    page = sheet_html(sheet)
    html5lib.HTMLParser(strict=True).parse(page)
    assert page.count("<svg") == sum(bool(target.usable) for target in night.targets) > 5
    assert "http" not in page
    assert "<script" not in page
    for row in sheet.rows:
        assert (row.chart is not None) is bool(row.highest)
        if row.chart:
            assert len(row.chart.svg) < 6000
            assert {"stands", "begin"} <= {label for label, _ in row.chart.words}


def test_charts_are_left_out_unless_asked_for(sheet):
    assert "<svg" not in sheet_html(sheet)


def test_the_text_sheet_says_the_same_words(charted):
    _, sheet = charted
    text = " ".join(sheet_text(sheet).split())
    for row in sheet.rows:
        for _, words in row.chart.words if row.chart else ():
            assert " ".join(words.split()) in text


def test_a_chart_draws_circles_and_the_way_to_one_scale(charted):
    night, sheet = charted
    compared = 0
    for row in sheet.rows:
        svg = row.chart.svg if row.chart else ""
        rings = sorted(float(radius) for radius in re.findall(r'<circle [^>]*r="([\d.]+)"', svg))
        if not rings:
            continue
        given = sorted(night.kit.finders[1].rings_deg)
        for radius, ring in zip(rings, given, strict=True):
            assert radius / rings[-1] == pytest.approx(ring / given[-1], abs=0.02)
        compared += 1
    if len(night.kit.finders) > 1:
        assert compared > 10


def test_the_ticks_tell_where_the_zenith_goes(opened):
    # An hour on, the zenith stands 15 degrees of right ascension farther east, at the site's latitude: brute
    # force with the night's own turning an hour later, against what the turn of the Earth asks.
    _, night = opened
    at_s = night.twilights.dark_s[0] + 3600.0
    for hours, side in ((1.0, 90.0), (-1.0, 270.0)):
        altitude, azimuth = altitude_azimuth(zenith_then(night, at_s, at_s + hours * 3600.0))
        level = math.cos(math.radians(night.site.latitude_deg))
        apart = 2.0 * math.degrees(math.asin(math.sin(math.radians(7.52)) * level))
        assert 90.0 - altitude == pytest.approx(apart, abs=0.05)
        assert abs((azimuth - side + 180.0) % 360.0 - 180.0) < 10.0


def test_hostile_names_stay_words_in_a_chart(sky, opened):
    plan, _ = opened
    target = Target(name=HOSTILE, kind="galaxy", position="03h00m00s +40d00m00s")
    night = night_of(sky, plan.model_copy(update={"target": (target,)}))
    page = sheet_html(sheet_of(night, "T", with_charts=True))
    assert "<svg" in page
    assert "<script" not in page


def test_the_sheet_tells_what_moon_planets_and_pairs_show():
    where = Circumstances(
        date=dt.date(2027, 3, 17),
        site=Site(name="V", latitude_deg=48.2, longitude_deg=16.4, timezone="Europe/Vienna", bortle=5),
        kit=Kit(
            telescope=Telescope(name="t", aperture_mm=200, focal_length_mm=1200, obstruction_mm=50),
            eyepieces=(Eyepiece(name="e", focal_length_mm=10),),
        ),
        person=Person(),
    )
    names = ("Castor", "Plato", "Jupiter", "M 42")
    night = open_night(open_sky(), where, [resolve(Target(name=name)) for name in names])
    pair, plato, jupiter, nebula = (shown_tonight(night, row) for row in range(4))
    assert pair == "1.9 + 3.0, 5.8″ at 49° (2027); companion near half past 10, stars leaving at 3"
    assert plato.startswith("plain, 101 km, squeezed to 0.5")
    assert "light good until" in plato
    assert jupiter.startswith("43″, -2.4 mag")
    assert "19:44-22:38 Europa's shadow on the disc" in jupiter
    assert nebula == ""
