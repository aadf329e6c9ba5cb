"""Contrast thresholds, star limits and the eye against Crumey 2014 and Bradley et al. 2011."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.visibility import contrast, eye, photometry
from nightmode.visibility.glass import Glass
from nightmode.visibility.margin import HARD_DEX, margin
from nightmode.visibility.profile import Published, light_of

# The tables of the paper are worked from its scotopic form; the full-range form used here differs by 1 to 10
# percent in contrast (entry crumey-contrast-grid-computed), by 0.05 mag at most over the skies of table 1.
FORMS_DIFFER_MAG = 0.05


def test_ricco_factor_on_both_sides_of_the_dip_that_is_held_level(checks):
    check = checks["crumey-point-source-model"]["expected"]["check_R_full"]
    assert contrast.ricco_factor_sr(check["B"]) == pytest.approx(check["R_sr"], rel=5e-4)


def test_threshold_contrast_over_sizes_and_skies(checks):
    check = checks["crumey-contrast-grid-computed"]
    area = np.array(check["inputs"]["area_arcmin2"], float)[:, None] * contrast.SR_PER_ARCMIN2
    found = contrast.contrast_threshold(photometry.luminance_cd_m2(check["inputs"]["mu_sky"]), area)
    assert found == pytest.approx(np.array(check["expected"]["full_range"]), rel=5e-4)


def test_bending_exponent_outside_the_night_sky():
    """At 1 cd/m2 q is 0.8861 and at 10 cd/m2 1.0575 (eqs 42, 43): worked through by hand from R and C_inf."""
    for luminance, q in ((1.0, 0.8861), (10.0, 1.0575)):
        small = contrast.ricco_factor_sr(luminance) / 1e-5
        large = contrast.large_target_threshold(luminance)
        by_hand = (small**q + large**q) ** (1 / q)
        assert contrast.contrast_threshold(luminance, 1e-5) == pytest.approx(by_hand, rel=1e-6)


def test_below_the_darkest_background_nothing_changes(checks):
    cutoff = checks["crumey-zero-background"]["inputs"]["cutoff_cd_m2"]
    zeta = checks["crumey-zero-background"]["expected"]["zeta_lux"]
    # 0.01 mag: the paper's figure is worked from its scotopic form.
    assert contrast.star_threshold_lux([0.0, cutoff / 3]) == pytest.approx([zeta, zeta], rel=0.0092)


def test_naked_eye_limits_by_experience(checks):
    expected = checks["crumey-naked-eye-stars"]["expected"]
    found = eye.naked_eye_limit_mag(
        checks["crumey-naked-eye-stars"]["inputs"]["mu_sky"], [1.0, 2.0, 1.4, 2.4, 0.94]
    )
    wanted = [expected[key] for key in ("m0_F1", "m0_F2", "m0_F1p4", "m0_F2p4", "m0_F0p94")]
    assert found == pytest.approx(wanted, abs=0.015)


def test_what_a_brighter_sky_costs_the_naked_eye(checks):
    mu, penalty, _ = np.array(checks["crumey-table-1"]["expected"]["rows"], float).T
    found = eye.naked_eye_limit_mag(22.0) - eye.naked_eye_limit_mag(mu)
    assert found == pytest.approx(penalty, abs=FORMS_DIFFER_MAG)


def test_telescope_limit_of_a_six_inch(checks):
    bowen = checks["crumey-telescope-stars"]["expected"]["bowen_1947"]
    pupil, sky_mag = bowen["p_mm"], bowen["mu_sky"]
    passes = bowen["B_over_Ft_cd_m2"] / float(photometry.luminance_cd_m2(sky_mag))
    beam = np.array([7.0, 5.2, 3.0, 1.0, 0.4])
    found = eye.star_limit_mag(
        sky_mag,
        Glass(
            aperture_mm=152.4,
            magnification=152.4 / beam,
            transmission=passes,
            pupil_mm=pupil,
            field_factor=bowen["F"],
        ),
    )
    # The lines of the paper in the exit pupil in metres, their own error up to 0.04 mag.
    metres = beam / 1000
    lines = [-5 * np.log10(metres[0]) + 1.02, *(-2.131 * np.log10(metres[1:3]) + 7.57), 13.96, 13.96]
    assert found == pytest.approx(lines, abs=0.06)


def test_deepest_limit_of_a_100_mm_telescope(checks):
    expected = checks["crumey-telescope-stars"]["expected"]["mcut_100mm_F2"]
    glass = Glass(aperture_mm=100, magnification=400, transmission=1 / 1.33, pupil_mm=7.0, field_factor=2.0)
    found = eye.star_limit_mag(21.5, glass)
    assert found == pytest.approx(expected, abs=0.02)


def test_pupil_by_age_keeps_to_the_measured_means(checks):
    for group, _, mean, low, high in checks["dark-adapted-pupil-bradley-2011"]["expected"]["rows"]:
        ages = [float(age) for age in group.split("-")]
        found = float(eye.pupil_mm(sum(ages) / len(ages)))
        assert found == pytest.approx(mean, abs=0.001)
        assert low <= found <= high


def share(aperture_mm: float, obstruction_mm: float, magnification) -> np.ndarray:
    """Through a glass that swallows nothing, before a pupil of 6 mm."""
    return eye.eye_background_share(
        Glass(
            aperture_mm=aperture_mm,
            obstruction_mm=obstruction_mm,
            magnification=magnification,
            transmission=1.0,
            pupil_mm=6.0,
        )
    )


def test_light_that_misses_the_pupil_is_lost():
    powers = np.array([10.0, 100.0 / 6.0, 50.0])
    assert share(100, 0.0, powers) == pytest.approx([1.0, 1.0, 1.0 / 9.0])


def test_obstruction_takes_its_area_and_more_when_the_pupil_is_overfilled():
    assert share(200, 50, 200 / 6.0) == pytest.approx(1 - (50 / 200) ** 2)
    assert share(200, 50, 20.0) == pytest.approx(1 - (2.5 / 6.0) ** 2)


@pytest.mark.filterwarnings("error")
def test_where_the_shadow_fills_the_pupil_nothing_shows():
    """At so low a power the beam is wider than the eye, and so is the shadow in it."""
    glass = Glass(aperture_mm=20.0, obstruction_mm=19.0, magnification=0.5, pupil_mm=7.0, true_field_deg=5.0)
    found = margin(light_of(Published("galaxy", 3.4, 178.0, 63.0)), 22.0, 0.2, glass)
    assert share(20, 19, 0.5) == eye.LEAST_SHARE
    assert found.margin_dex < HARD_DEX
    assert np.isfinite(eye.star_limit_mag(22.0, glass))


@pytest.mark.filterwarnings("error")
def test_what_is_brighter_than_the_sun_has_a_threshold_all_the_same():
    assert np.isfinite(contrast.contrast_threshold(10.0 ** np.array([8.0, 12.0, 13.0, 20.0]), 1e-9)).all()


@given(st.floats(-8, 2), st.floats(0, 2), st.floats(-9, 0))
def test_a_brighter_background_never_helps(log_b, brighter, log_area):
    background = 10.0 ** np.array([log_b, log_b + brighter])
    seen_as = np.maximum(background, contrast.DARKEST_CD_M2)
    light = contrast.contrast_threshold(background, 10.0**log_area) * seen_as
    assert light[1] >= light[0] * (1 - 2e-5)
    stars = contrast.star_threshold_lux(background)
    assert stars[1] >= stars[0] * (1 - 2e-5)


@given(st.floats(-6, 1), st.floats(-9, -1), st.floats(0, 2))
def test_a_larger_target_never_needs_more_contrast(log_b, log_area, larger):
    found = contrast.contrast_threshold(10.0**log_b, 10.0 ** np.array([log_area, log_area + larger]))
    assert found[1] <= found[0] * (1 + 1e-12)
