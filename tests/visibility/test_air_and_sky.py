"""Airmass, extinction, moonlight, twilight and the sky's brightness against published figures."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.visibility import extinction, moonlight, photometry, sky
from nightmode.visibility import extinction as airmass
from nightmode.visibility.moonlight import Moon


def test_airmass_matches_kasten_and_young(checks):
    check = checks["airmass-kasten-young-1989"]
    altitude = 90.0 - np.array(check["inputs"]["zenith_deg"])
    assert airmass.airmass(altitude) == pytest.approx(check["expected"]["airmass"], rel=2e-4)


def test_glow_airmass_matches_krisciunas_and_schaefer(checks):
    check = checks["airmass-krisciunas-schaefer"]
    altitude = 90.0 - np.array(check["inputs"]["zenith_deg"])
    assert airmass.glow_airmass(altitude) == pytest.approx(check["expected"]["airmass"], rel=2e-4)


def test_magnitudes_lost_by_altitude(checks):
    check = checks["extinction-difference-example"]
    lost = extinction.air_loss_mag(check["inputs"]["altitude_deg"], check["inputs"]["k"])
    assert lost == pytest.approx(check["expected"]["magnitudes_lost"], abs=0.002)
    rounded = checks["extinction-encyclopedia"]
    lost = extinction.air_loss_mag(rounded["inputs"]["altitude_deg"], 0.28)
    assert lost == pytest.approx(rounded["expected"]["magnitudes_lost"], abs=0.15)


def test_pieces_of_the_moonlight_model(checks):
    check = checks["ks91-pieces-computed"]
    light = moonlight.moon_illuminance_fc(check["inputs"]["alpha_deg"])
    assert light == pytest.approx(check["expected"]["istar_fc"], rel=1e-4)
    scattered = moonlight.scattering(check["inputs"]["rho_deg"])
    assert scattered == pytest.approx(check["expected"]["f_rho"], rel=1e-4)


def test_moonlight_of_a_published_example(checks):
    check = checks["ks91-specsim-example"]
    example = check["inputs"]
    moon = Moon(example["phase_angle_deg"], example["separation_deg"], 90.0 - example["moon_zenith_deg"])
    glow = moonlight.moon_glow_nl(moon, 90.0 - example["sky_zenith_deg"], example["k"])
    found = photometry.mag_of_nanolambert(glow)
    assert found == pytest.approx(check["expected"]["moonlight_only_mag_arcsec2"], abs=0.001)


def test_moonlit_sky_over_a_grid_of_phases_and_places(checks):
    check = checks["ks91-grid-computed"]
    alpha, rho, moon_z, z, moon_nl, _, site_nl, total, _ = np.array(check["expected"]["rows"], float).T
    k = check["inputs"]["k"]
    moon = Moon(alpha, rho, 90.0 - moon_z)
    glow = moonlight.moon_glow_nl(moon, 90.0 - z, k)
    assert glow == pytest.approx(moon_nl, rel=5e-4)
    zenith = photometry.mag_of_nanolambert(check["inputs"]["B_zen_nl"])
    assert sky.site_glow_nl(zenith, 90.0 - z, k) == pytest.approx(site_nl, rel=5e-4)
    found = sky.sky_brightness_mag(zenith, 90.0 - z, mag_per_airmass=k, moon=moon)
    assert found == pytest.approx(total, abs=0.002)


def test_sky_at_real_targets_on_seven_nights(checks):
    check = checks["ks91-night-scenarios-computed"]
    rows = [row[3:] for row in check["expected"]["rows"]]
    altitude, moon_alt, sun_alt, apart, alpha, _, _, total = np.array(rows, float).T
    found = sky.sky_brightness_mag(
        check["inputs"]["dark_zenith_mag_arcsec2"],
        altitude,
        mag_per_airmass=check["inputs"]["k"],
        moon=Moon(alpha, apart, moon_alt),
        sun_altitude_deg=sun_alt,
    )
    assert found == pytest.approx(total, abs=0.01)


def test_twilight_matches_the_measured_zenith(checks):
    check = checks["twilight-patat-2006"]
    sun = np.array(check["inputs"]["sun_altitude_deg"], float)
    expected = np.array(check["expected"]["zenith_v_mag_arcsec2"])
    assert sky.measured_zenith_mag(sun) == pytest.approx(expected, abs=0.001)
    whole = sky.sky_brightness_mag(check["expected"]["night_mag"], 90.0, sun_altitude_deg=sun)
    assert whole == pytest.approx(expected, abs=0.001)


def test_twilight_is_over_at_18_degrees():
    sun = np.array([-17.9, -18.0, -40.0])
    glow = sky.twilight_glow_nl(sun)
    assert glow[0] < 0.05 * photometry.nanolambert(22.0)
    assert glow[1:].tolist() == [0.0, 0.0]


@given(st.floats(-30, 10), st.floats(0, 5))
def test_a_lower_sun_never_brightens_the_sky(sun_deg, lower_deg):
    assert sky.twilight_glow_nl(sun_deg - lower_deg) <= sky.twilight_glow_nl(sun_deg) * (1 + 1e-12)


@given(st.floats(0, 180), st.floats(0, 60), st.floats(0, 180), st.floats(0, 90), st.floats(0, 90))
def test_a_thinner_moon_never_brightens_the_sky(alpha, thinner, apart, moon_alt, alt):
    def at(phase_angle):
        return moonlight.moon_glow_nl(Moon(phase_angle, apart, moon_alt), alt, 0.25)

    assert at(alpha + thinner) <= at(alpha) * (1 + 1e-12)


def test_the_moon_below_the_horizon_gives_no_light():
    assert moonlight.moon_glow_nl(Moon(0.0, 90.0, -0.1), 60.0, 0.25) == 0.0


@pytest.mark.parametrize("apart", [0.0, 1e-9, 180.0])
def test_moonlight_is_a_number_right_beside_the_moon(apart):
    assert np.isfinite(moonlight.moon_glow_nl(Moon(0.0, apart, 45.0), 45.0, 0.25))


def test_units_of_sky_brightness(checks):
    check = checks["sky-brightness-units"]
    mag = check["inputs"]["mag_arcsec2"]
    assert photometry.nanolambert(mag) == pytest.approx(check["expected"]["nanolambert"], rel=5e-4)
    assert photometry.mag_of_nanolambert(check["expected"]["nanolambert"]) == pytest.approx(mag, abs=1e-4)
    assert photometry.luminance_cd_m2(mag) == pytest.approx(check["expected"]["cd_m2_crumey_12p58"], rel=5e-4)


def test_mean_surface_brightness_of_an_ellipse(checks):
    check = checks["integrated-to-surface-brightness"]
    magnitude, major, minor = np.array(check["inputs"]["cases"], float).T
    found = photometry.mean_surface_brightness_mag(magnitude, major, minor)
    assert found == pytest.approx(check["expected"]["mean_mag_arcsec2"], abs=0.002)


def test_naked_eye_limit_and_sky_brightness_turn_into_each_other(checks):
    check = checks["nelm-from-sky-brightness"]
    mag, limit = check["inputs"]["mu_sky"], check["expected"]["nelm"]
    assert sky.naked_eye_limit_of_mag(mag) == pytest.approx(limit, abs=0.002)
    assert sky.mag_of_naked_eye_limit(limit) == pytest.approx(mag, abs=0.01)


def test_an_impossible_naked_eye_limit_is_a_perfect_sky():
    assert sky.mag_of_naked_eye_limit([7.95, 9.0, -3.0]) == pytest.approx([22.2, 22.2, 14.0])


def test_bortle_classes_lie_within_the_published_ranges(checks):
    low, high = 5, 6
    for row in checks["bortle-scale"]["expected"]["rows"]:
        middle = sky.mag_of_bortle(row[0])
        if row[low] != "":
            assert middle >= row[low] - 0.3
        if row[high] != "":
            assert middle <= row[high] + 0.3


def test_a_moon_close_by_veils_the_field_and_far_away_it_does_not():
    """Holladay 1926: 10 E / angle^2; a full Moon gives about 0.2 lux through the air, half of it counts."""
    near, far = (float(moonlight.moon_veil_nl(Moon(0.0, angle, 60.0), 0.25)) for angle in (7.0, 30.0))
    assert far == 0.0
    assert near * 3.183e-6 == pytest.approx(5.0 * 0.2 / 49.0, rel=0.5)
    angles = np.linspace(1.0, 40.0, 80)
    assert (np.diff(moonlight.moon_veil_nl(Moon(0.0, angles, 60.0), 0.25)) <= 0.0).all()
    assert float(moonlight.moon_veil_nl(Moon(0.0, 7.0, -1.0), 0.25)) == 0.0
