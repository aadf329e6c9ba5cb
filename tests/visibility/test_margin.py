"""Is it seen: facts of the trade, rules that hold for every object, and what the figures mean."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.records import replace
from nightmode.visibility import filters, limits, photometry, sky
from nightmode.visibility.conditions import Conditions
from nightmode.visibility.eye import star_limit_mag
from nightmode.visibility.glass import Glass
from nightmode.visibility.margin import EASY_DEX, FAIR_DEX, FLOOR_DEX, HARD_DEX, margin, word
from nightmode.visibility.moonlight import Moon
from nightmode.visibility.profile import Light, Published, light_of
from nightmode.words import Cause

EXIT_PUPILS_MM = np.array([6.0, 5.0, 4.0, 3.0, 2.0, 1.3, 1.0, 0.7, 0.5])
APPARENT_FIELD_DEG = 50.0
AIR_MAG = 0.3
SMALL_MM = 100.0


def light_in(rows: list) -> Light:
    _, kind, magnitude, major, minor, hubble = zip(*rows, strict=True)
    return light_of(Published(kind, magnitude, major, [value or None for value in minor], hubble))


def at_best(light: Light, sky_mag: float, aperture_mm: float, loss_mag: float = AIR_MAG) -> np.ndarray:
    """Margins at the best of a row of eyepieces from the lowest to the highest useful power.

    The usual small telescope is one of f/10 with a narrow barrel: its beam is never wider than 3.5 mm.
    """
    pupils_mm = EXIT_PUPILS_MM[EXIT_PUPILS_MM <= 3.5] if aperture_mm < SMALL_MM else EXIT_PUPILS_MM
    power = (aperture_mm / pupils_mm)[:, None]
    glass = Glass(aperture_mm=aperture_mm, magnification=power, true_field_deg=APPARENT_FIELD_DEG / power)
    tried = margin(light, sky_mag, loss_mag, glass)
    return tried.margin_dex.max(axis=0)


def seen(checks: dict, names: list[str], sky_mag: float, aperture_mm: float) -> list[bool]:
    rows = [row for row in checks["catalogue-values"]["expected"]["rows"] if row[0] in names]
    assert len(rows) == len(names)
    return (word(at_best(light_in(rows), sky_mag, aperture_mm)) != "out of reach").tolist()


def test_from_a_suburb_70_mm_shows_what_beginners_see(checks):
    fact = checks["facts-of-the-trade"]
    for sky_mag in fact["inputs"]["suburb_mag"]:
        assert all(seen(checks, fact["expected"]["seen_70mm_suburb"], sky_mag, 70.0)), sky_mag


def test_from_a_suburb_70_mm_does_not_show_the_faint_spirals(checks):
    fact = checks["facts-of-the-trade"]
    for sky_mag in fact["inputs"]["suburb_mag"]:
        assert not any(seen(checks, fact["expected"]["not_seen_70mm_suburb"], sky_mag, 70.0)), sky_mag


def test_from_a_dark_site_200_mm_shows_them(checks):
    fact = checks["facts-of-the-trade"]
    assert all(seen(checks, fact["expected"]["seen_200mm_dark"], fact["inputs"]["dark_mag"], 200.0))


def test_virgo_galaxies_are_not_for_a_small_telescope_in_a_city(checks):
    light = light_in(checks["catalogue-values"]["expected"]["virgo"])
    for sky_mag in checks["facts-of-the-trade"]["inputs"]["city_mag"]:
        assert (at_best(light, sky_mag, 70.0) < FAIR_DEX).all(), sky_mag
    assert (at_best(light, 21.5, 200.0) >= FAIR_DEX).all()


def test_full_moon_leaves_only_the_bright_objects(checks):
    fact = checks["facts-of-the-trade"]
    moonlit = sky.sky_brightness_mag(fact["inputs"]["dark_mag"], 60.0, moon=Moon(3.0, 60.0, 50.0))
    assert all(seen(checks, fact["expected"]["full_moon_leaves"], moonlit, 100.0))
    assert not any(seen(checks, fact["expected"]["full_moon_takes"], moonlit, 100.0))


def test_an_even_disc_of_the_same_light_is_far_harder(checks):
    rows = checks["catalogue-values"]["expected"]["rows"][:2]
    as_it_is = light_in(rows)
    even = light_in([[name, "supernova remnant", *rest] for name, _, *rest in rows])
    assert (at_best(as_it_is, 18.75, 70.0) - at_best(even, 18.75, 70.0) > 0.2).all()


KINDS = st.sampled_from(
    [
        "galaxy",
        "globular cluster",
        "open cluster",
        "planetary nebula",
        "emission nebula",
        "cluster with nebula",
    ]
)
OBJECTS = st.builds(
    Published,
    KINDS,
    st.floats(2, 15),
    st.floats(0.3, 180),
    st.none() | st.floats(0.3, 180),
    st.sampled_from(["", "E", "S0", "Sb", "SBc"]),
).map(light_of)
SKIES = st.floats(12, 22)
APERTURES = st.floats(40, 500)
POWERS = st.floats(8, 400)
EXACT_DEX = 1e-4


def dex(light: Light, sky_mag: float, loss_mag: float = AIR_MAG, **glass: float) -> float:
    return float(margin(light, sky_mag, loss_mag, Glass(**{"true_field_deg": 1.0, **glass})).margin_dex)


def contrast_dex(light: Light, sky_mag: float, loss_mag: float = AIR_MAG, **glass: float) -> float:
    return float(margin(light, sky_mag, loss_mag, Glass(**{"true_field_deg": 1.0, **glass})).contrast_dex)


@given(OBJECTS, SKIES, st.floats(0, 3), APERTURES, POWERS)
def test_a_darker_sky_never_hurts(light, sky_mag, darker, aperture, power):
    glass = {"aperture_mm": aperture, "magnification": power}
    assert dex(light, sky_mag + darker, **glass) >= dex(light, sky_mag, **glass) - EXACT_DEX


@given(OBJECTS, SKIES, APERTURES, POWERS, st.floats(1, 4))
def test_a_larger_aperture_at_the_same_power_never_hurts(light, sky_mag, aperture, power, times):
    small = dex(light, sky_mag, aperture_mm=aperture, magnification=power)
    assert dex(light, sky_mag, aperture_mm=aperture * times, magnification=power) >= small - EXACT_DEX


@given(OBJECTS, SKIES, APERTURES, POWERS, st.floats(1, 4))
def test_a_larger_aperture_at_the_same_exit_pupil_never_hurts(light, sky_mag, aperture, power, times):
    small = dex(light, sky_mag, aperture_mm=aperture, magnification=power)
    large = dex(light, sky_mag, aperture_mm=aperture * times, magnification=power * times)
    assert large >= small - EXACT_DEX


@given(OBJECTS, SKIES, APERTURES, POWERS, st.floats(0.05, 5), st.floats(1, 4))
def test_a_wider_field_never_hurts(light, sky_mag, aperture, power, field, times):
    glass = {"aperture_mm": aperture, "magnification": power}
    narrow = dex(light, sky_mag, true_field_deg=field, **glass)
    assert dex(light, sky_mag, true_field_deg=field * times, **glass) >= narrow - EXACT_DEX


@given(OBJECTS, st.floats(16, 22), st.floats(3, 90), st.floats(0, 60), st.floats(0.1, 0.6), POWERS)
def test_a_higher_target_is_never_worse(light, zenith, low, higher, k, power):
    def at(altitude):
        where = Conditions(zenith, altitude, k)
        return dex(light, where.sky_mag(), where.loss_mag(), aperture_mm=100.0, magnification=power)

    assert at(min(low + higher, 90.0)) >= at(low) - EXACT_DEX


@given(OBJECTS, st.floats(0, 180), st.floats(0, 90), st.floats(10, 170), st.floats(5, 85))
def test_a_thinner_moon_never_hurts(light, alpha, thinner, apart, moon_altitude):
    def at(phase_angle):
        where = Conditions(
            21.0,
            50.0,
            moon_phase_angle_deg=phase_angle,
            moon_separation_deg=apart,
            moon_altitude_deg=moon_altitude,
        )
        return dex(light, where.sky_mag(), where.loss_mag(), aperture_mm=100.0, magnification=30.0)

    assert at(min(alpha + thinner, 180.0)) >= at(alpha) - EXACT_DEX


@given(OBJECTS, SKIES, st.floats(0.5, 4), st.floats(1, 3))
def test_a_more_practised_eye_never_sees_less(light, sky_mag, field_factor, times):
    glass = {"aperture_mm": 100.0, "magnification": 30.0}
    practised = dex(light, sky_mag, field_factor=field_factor, **glass)
    assert practised >= dex(light, sky_mag, field_factor=field_factor * times, **glass) - EXACT_DEX


def test_more_of_the_object_shows_in_a_darker_sky(checks):
    light = light_in(checks["catalogue-values"]["expected"]["rows"][:1])
    found = margin(
        light, [18.0, 20.0, 22.0], AIR_MAG, Glass(aperture_mm=100.0, magnification=25.0, true_field_deg=2.0)
    )
    assert 0.0 < found.seen_fraction[0] < found.seen_fraction[1] < found.seen_fraction[2] <= 1.0


def test_nothing_shows_of_what_is_out_of_reach():
    found = margin(
        light_of(Published("galaxy", 14.0, 3.0)),
        17.0,
        AIR_MAG,
        Glass(aperture_mm=60.0, magnification=20.0, true_field_deg=2.0),
    )
    assert found.margin_dex < 0.0
    assert found.seen_fraction == 0.0


def test_without_published_brightness_or_size_the_word_is_unknown():
    light = light_of(Published("emission nebula", [None, 6.0, 6.0], [40.0, None, 40.0]))
    found = margin(light, 21.0, AIR_MAG, Glass(aperture_mm=100.0, magnification=20.0, true_field_deg=2.5))
    assert word(found.margin_dex).tolist() == ["unknown", "unknown", "easy"]


def test_what_has_no_glow_of_its_own_is_not_judged_by_glow():
    light = light_of(Published(["dark nebula", "planet", "double star", "star", "moon"], 5.0, 5.0))
    found = margin(light, 21.0, AIR_MAG, Glass(aperture_mm=100.0, magnification=20.0, true_field_deg=2.5))
    assert set(word(found.margin_dex).tolist()) == {"unknown"}


def test_an_even_nebula_larger_than_the_field_is_found_by_sweeping_and_is_harder_than_one_that_fits():
    light = light_of(Published("supernova remnant", 5.0, 120.0))
    glass = {"aperture_mm": 100.0, "magnification": 50.0}
    framed, spilling = (
        margin(light, 21.5, AIR_MAG, Glass(true_field_deg=field, **glass)).margin_dex for field in (3.0, 1.0)
    )
    assert FLOOR_DEX < spilling < framed - 0.05


def test_a_long_nebula_shows_against_the_sky_at_its_sides():
    glass = {"aperture_mm": 400.0, "magnification": 72.0}
    veil = light_of(Published("supernova remnant", 7.0, 60.0, 8.0))
    within, beyond = (
        margin(veil, 21.7, AIR_MAG, Glass(true_field_deg=f, **glass)).margin_dex for f in (1.2, 0.83)
    )
    assert word(beyond) != "out of reach"
    assert beyond <= within
    narrow = margin(veil, 21.7, AIR_MAG, Glass(true_field_deg=0.1, **glass))
    assert narrow.margin_dex < beyond


def test_a_cluster_shows_its_stars_and_a_galaxy_none():
    light = light_of(Published(["open cluster", "galaxy"], 5.8, 12.0))
    found = margin(light, 21.0, AIR_MAG, Glass(aperture_mm=100.0, magnification=50.0, true_field_deg=1.0))
    assert found.stars_seen[0] > 10
    assert found.stars_seen[1] == 0


def test_an_asterism_is_judged_by_its_stars_alone():
    light = light_of(Published("asterism", 4.0, None))
    found = margin(light, 20.0, AIR_MAG, Glass(aperture_mm=60.0, magnification=15.0, true_field_deg=3.0))
    assert found.margin_dex > 0.0
    assert found.seen_fraction == 0.0


def test_a_cluster_far_wider_than_the_field_is_no_longer_one():
    """Coma's cluster fills binoculars; the less of it a telescope holds, the more its stars stand singly."""
    coma = light_of(Published("open cluster", 1.8, 275.0, tenth_star_mag=6.6))
    through = [(50.0, 10.0, 6.5), (70.0, 28.0, 1.8), (200.0, 40.0, 1.7), (500.0, 65.0, 1.27)]
    found = [
        word(
            margin(
                coma, 21.0, AIR_MAG, Glass(aperture_mm=mm, magnification=power, true_field_deg=field)
            ).margin_dex
        )
        for mm, power, field in through
    ]
    assert found == ["easy", "easy", "easy", "fair"]


@pytest.mark.parametrize("field_deg", [0.2, 0.4])
def test_what_glows_is_not_lost_with_the_field_and_a_bright_cluster_never_wholly(field_deg):
    """M 42 and the star cloud M 24 shine in any field; of the Pleiades there is always a star in view."""
    glass = Glass(aperture_mm=203.0, magnification=120.0, true_field_deg=field_deg)
    orion = light_of(Published("cluster with nebula", 4.0, 65.0, 60.0, half_light_arcmin=3.0))
    cloud = light_of(Published("open cluster", 4.6, 95.0, 35.0, surface_brightness_mag=21.3))
    pleiades = light_of(Published("open cluster", 1.2, 110.0, tenth_star_mag=5.7))
    assert word(margin(orion, 21.0, AIR_MAG, glass).margin_dex) == "easy"
    assert not margin(cloud, 21.0, AIR_MAG, glass).is_bound
    lost = margin(pleiades, 21.0, AIR_MAG, glass)
    assert lost.is_bound
    assert word(lost.margin_dex) in ("fair", "hard")
    where = Conditions(zenith_mag=21.0, altitude_deg=60.0)
    assert limits.limiting_cause(pleiades, where, glass) == Cause.FIELD


@given(st.floats(1.0, 9.0), st.floats(20.0, 300.0), st.floats(0.2, 7.0))
def test_whatever_the_field_bounds_is_the_fields_doing(magnitude, size_arcmin, field_deg):
    cluster = light_of(Published("open cluster", magnitude, size_arcmin))
    glass = Glass(aperture_mm=120.0, magnification=40.0, true_field_deg=field_deg)
    where = Conditions(zenith_mag=20.5, altitude_deg=50.0)
    found = margin(cluster, where.sky_mag(), where.loss_mag(), glass)
    free = margin(cluster, where.sky_mag(), where.loss_mag(), replace(glass, true_field_deg=90.0))
    assert found.margin_dex <= free.margin_dex + 1e-9
    if found.is_bound and found.margin_dex < EASY_DEX:
        assert limits.limiting_cause(cluster, where, glass) == Cause.FIELD
    if free.margin_dex >= HARD_DEX:
        assert word(found.margin_dex) != "out of reach"


def test_words_change_at_their_steps():
    assert word([0.69, 0.68, 0.24, 0.23, -0.17, -0.18, np.nan]).tolist() == [
        "easy", "fair", "fair", "hard", "hard", "out of reach", "unknown"
    ]  # fmt: skip


def test_objects_and_minutes_broadcast():
    light = light_of(Published(["galaxy", "galaxy", "open cluster"], 9.0, 8.0))
    minutes = np.linspace(18.0, 21.0, 5)[:, None]
    found = margin(light, minutes, AIR_MAG, Glass(aperture_mm=100.0, magnification=30.0, true_field_deg=1.5))
    assert found.margin_dex.shape == found.seen_fraction.shape == found.stars_seen.shape == (5, 3)


def test_a_catalogue_of_13_000_is_judged_at_once():
    total = np.linspace(4.0, 16.0, 13_000)
    light = light_of(Published("galaxy", total, 5.0, 3.0, "Sb"))
    found = margin(light, 21.0, AIR_MAG, Glass(aperture_mm=200.0, magnification=60.0, true_field_deg=0.8))
    assert (np.diff(found.margin_dex) <= 0.0).all()


def test_a_small_object_is_no_easier_than_the_star_that_holds_its_light():
    """An even disc far below the eye's resolution must come out like a star of the same magnitude."""
    glass = {"aperture_mm": 100.0, "magnification": 20.0}
    limit = float(star_limit_mag(21.0, Glass(**glass)))
    tiny = light_of(Published("planetary nebula", limit - AIR_MAG, 0.05))
    assert contrast_dex(tiny, 21.0, **glass) == pytest.approx(0.0, abs=0.03)


def test_narrow_filters_help_what_shines_in_their_lines_and_nothing_else():
    def gain(shines_in: str, passband: str) -> float:
        light = light_of(Published("planetary nebula", 9.9, 3.5))
        glass = {"aperture_mm": 200.0, "magnification": 50.0}
        sky_loss, object_loss = filters.filter_loss_mag(passband, shines_in)
        filtered = contrast_dex(light, 20.0, sky_filter_mag=sky_loss, object_filter_mag=object_loss, **glass)
        return filtered - contrast_dex(light, 20.0, **glass)

    assert gain("oiii", "oiii") > gain("oiii", "narrowband") > 0.2
    assert gain("oiii", "oiii") > gain("both", "oiii") > 0.1
    assert gain("both", "narrowband") > 0.2
    assert gain("hbeta", "hbeta") > gain("hbeta", "narrowband") > 0.1
    assert gain("oiii", "hbeta") < 0.0
    assert gain("hbeta", "oiii") < 0.0
    assert gain("starlight", "narrowband") < 0.0
    assert gain("oiii", "broadband") == gain("starlight", "neutral") == 0.0


def test_what_filters_take_from_the_sky_follows_the_scotopic_curve(checks):
    curve = checks["cie-scotopic-v-prime"]
    wavelength, eye = np.array(curve["inputs"]["wavelength_nm"]), np.array(curve["expected"]["V_prime"])
    fine = np.arange(380.0, 781.0)
    sensitivity = np.interp(fine, wavelength, eye)
    for passband, (low, high) in {"narrowband": (482, 506), "oiii": (494, 506), "hbeta": (482, 490)}.items():
        inside = sensitivity[(fine >= low) & (fine < high)].sum() / sensitivity.sum()
        assert filters.SKY_SHARE[passband] == pytest.approx(inside, abs=0.006)


def test_skies_and_losses_reach_the_contrast_as_magnitudes():
    """One magnitude of extinction and one magnitude less of object are the same thing."""
    glass = {"aperture_mm": 100.0, "magnification": 30.0}
    bright, faint = (light_of(Published("globular cluster", magnitude, 8.0)) for magnitude in (7.0, 8.0))
    assert dex(bright, 20.0, 1.3, **glass) == pytest.approx(dex(faint, 20.0, 0.3, **glass), abs=1e-9)
    assert photometry.luminance_cd_m2(20.0) == pytest.approx(10 ** (0.4 * (12.58 - 20)))
