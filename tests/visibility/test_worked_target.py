"""The worked target of docs/physics.md: its figures against plain arithmetic, and against the rooms."""

import math
import re
from pathlib import Path

import pytest

from nightmode import optics
from nightmode.visibility import extinction, eye, limits, photometry, sky
from nightmode.visibility.conditions import Conditions
from nightmode.visibility.glass import Glass
from nightmode.visibility.margin import margin, word
from nightmode.visibility.profile import Published, light_of
from nightmode.visibility.profile_laws import RADII
from nightmode.visibility.telling import told_of_scene_dex

PAGE = Path(__file__).parents[2] / "docs" / "physics.md"


@pytest.fixture(scope="module")
def page() -> dict[str, str]:
    text = PAGE.read_text(encoding="utf-8")
    block = text.split("```text\n", 1)[1].split("```", 1)[0]
    return dict(re.findall(r"^(.+?) +: +(.+?)(?: {2,}.*)?$", block, flags=re.MULTILINE))


def figure(page: dict[str, str], name: str) -> float:
    return float(page[name].split()[0])


def by_hand() -> dict[str, float]:
    """The whole chain in plain arithmetic from the published formulae, with nothing of the package."""
    height, k, zenith_mag = 50.0, 0.25, 18.8
    air = 1 / (math.sin(math.radians(height)) + 0.50572 * (height + 6.07995) ** -1.6364)
    glow_air = (1 - 0.96 * math.cos(math.radians(height)) ** 2) ** -0.5
    sky_mag = zenith_mag - 2.5 * math.log10(glow_air * 10 ** (-0.4 * k * (glow_air - 1)))
    power = 700 / 25
    beam = 70 / power
    background = 10 ** (0.4 * (12.58 - sky_mag)) * 0.85 * (beam / 6.0) ** 2
    radius_share, outside_share = 10 ** (-2 * (1 - 16 / 23)), 10 ** (-2 * (1 - 22 / 23))
    radius_arcmin = 8.25 * radius_share
    w = (radius_share / 0.28) ** 2
    inside = w / (1 + w)
    mean_mag = (
        5.8 + k * air - 2.5 * math.log10(inside) + 2.5 * math.log10(math.pi * (radius_arcmin * 60) ** 2)
    )
    even_mag = 5.8 + k * air + 2.5 * math.log10(math.pi * (8.25 * 60) ** 2)
    outside_mag = even_mag + 2.5 * math.log10(0.28**2 * (1 + (outside_share / 0.28) ** 2) ** 2)
    outside = 10 ** (-0.4 * (outside_mag - sky_mag))
    contrast = (10 ** (-0.4 * (mean_mag - sky_mag)) - outside) / (1 + outside)
    round_it = background * (1 + outside)
    quarter = round_it**-0.25
    a = (5.949e-08, -2.389e-07, 2.459e-07, 0.000412, -0.0004225)
    b = (9.606e-06, -4.112e-05, 5.019e-05, 0.004837, -0.004884)
    ricco = (math.sqrt(a[0] * quarter**2 + a[1] * quarter + a[2]) + a[3] * quarter + a[4]) ** 2
    large = math.sqrt(b[0] * quarter**2 + b[1] * quarter + b[2]) + b[3] * quarter + b[4]
    area = math.pi * (radius_arcmin * power / 60 * math.pi / 180) ** 2
    threshold = 2.4 * math.sqrt(2) * ((ricco / area) ** 0.6 + large**0.6) ** (1 / 0.6)
    return {
        "airmass": air, "lost in the air": k * air, "sky at the target": sky_mag, "power": power,
        "exit pupil": beam, "background at the eye": background * 1e6, "radius": radius_arcmin,
        "light inside": inside * 100, "mean brightness inside": mean_mag, "just outside": outside_mag,
        "contrast": contrast, "threshold": threshold, "contrast margin": math.log10(contrast / threshold),
    }  # fmt: skip


def test_the_page_shows_what_the_published_formulae_give(page):
    for name, value in by_hand().items():
        shown = page[name].split()[0]
        places = len(shown.partition(".")[2])
        assert f"{value:.{places}f}" == shown, name


def test_the_rooms_give_what_the_page_shows(page):
    light = light_of(Published("globular cluster", 5.8, 16.5))
    where = Conditions(zenith_mag=18.8, altitude_deg=50.0, mag_per_airmass=0.25)
    power = float(optics.magnification(700.0, 25.0))
    glass = Glass(aperture_mm=70.0, magnification=power, true_field_deg=50.0 / power)
    found = margin(light, where.sky_mag(), where.loss_mag(), glass)
    assert extinction.air_loss_mag(50.0, 0.25) == pytest.approx(figure(page, "lost in the air"), abs=0.0005)
    assert where.sky_mag() == pytest.approx(figure(page, "sky at the target"), abs=0.005)
    share = eye.eye_background_share(glass)
    at_eye = photometry.luminance_cd_m2(where.sky_mag()) * share * 1e6
    assert at_eye == pytest.approx(figure(page, "background at the eye"), abs=0.5)
    assert found.contrast_dex == pytest.approx(figure(page, "contrast margin"), abs=0.005)
    assert light.told_dex + told_of_scene_dex(light.told_of_kind, 70.0, where.sky_mag(), 1) == pytest.approx(
        figure(page, "told of its kind"), abs=0.005
    )
    assert found.margin_dex == pytest.approx(figure(page, "margin"), abs=0.005)
    assert word(found.margin_dex) == page["verdict"]
    assert found.seen_fraction * 16.5 == pytest.approx(figure(page, "shows across"), abs=0.05)
    assert float(limits.sky_needed_mag(light, where.loss_mag(), glass)) == pytest.approx(
        figure(page, "out of reach in a sky of"), abs=0.05
    )


def test_the_page_says_rightly_what_full_moon_and_an_even_disc_would_do(page):
    glass = Glass(aperture_mm=70.0, magnification=28.0, true_field_deg=50.0 / 28.0)
    where = Conditions(18.8, 50.0, 0.25, 0.0, 60.0, 45.0)
    light = light_of(Published("globular cluster", 5.8, 16.5))
    moonlit = margin(light, where.sky_mag(), where.loss_mag(), glass)
    assert moonlit.margin_dex == pytest.approx(figure(page, "margin under a full Moon"), abs=0.005)
    assert limits.limiting_cause(light, where, glass) == "Moon"
    even = light_of(Published("planetary nebula", 5.8, 16.5))
    dark = sky.sky_brightness_mag(18.8, 50.0)
    flat = margin(even, dark, extinction.air_loss_mag(50.0, 0.25), glass)
    assert flat.contrast_dex == pytest.approx(figure(page, "contrast as an even disc"), abs=0.005)
    assert RADII[16] * 8.25 == pytest.approx(figure(page, "radius"), abs=0.005)
