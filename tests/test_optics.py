"""Optics against worked examples, definitions and common practice."""

import tomllib
from pathlib import Path

import numpy as np
import pytest

from nightmode import optics

FILE = Path(__file__).parent / "reference" / "optics.toml"
CHECKS = {check["id"]: check for check in tomllib.loads(FILE.read_text(encoding="utf-8"))["check"]}


def test_power_exit_pupil_and_field_match_worked_examples():
    check = CHECKS["magnification-exit-pupil"]
    aperture, focal, eyepiece, barlow, apparent, stop = np.array(check["inputs"]["rows"], float).T
    power_out, pupil_out, by_power, by_stop, _ = np.array(check["expected"]["rows"], float).T
    within = check["tolerance"]["relative"]
    power = optics.magnification(focal, eyepiece, barlow)
    assert power == pytest.approx(power_out, rel=within)
    assert optics.exit_pupil_mm(aperture, power) == pytest.approx(pupil_out, rel=within)
    plain = optics.true_field_deg(focal, eyepiece, apparent, barlow_factor=barlow)
    assert plain == pytest.approx(by_power, rel=within)
    with_stop = optics.true_field_deg(focal, eyepiece, apparent, field_stop_mm=stop, barlow_factor=barlow)
    assert with_stop == pytest.approx(by_stop, rel=within)


def test_field_stop_counts_where_it_is_known_and_apparent_field_elsewhere():
    fields = optics.true_field_deg(1000.0, 25.0, 52.0, field_stop_mm=[22.5, np.nan])
    assert fields == pytest.approx([1.2892, 1.3], rel=5e-4)


def test_resolution_limits_match_the_published_constants():
    check = CHECKS["resolution-limits"]
    aperture, within = check["inputs"]["D_mm"], check["tolerance"]["arcsec"]
    dawes, rayleigh = check["expected"]["dawes_arcsec"], check["expected"]["rayleigh_550nm_arcsec"]
    assert optics.dawes_limit_arcsec(aperture) == pytest.approx(dawes, abs=within)
    assert optics.rayleigh_limit_arcsec(aperture) == pytest.approx(rayleigh, abs=within)


def test_highest_power_is_twice_the_aperture_and_leaves_half_a_millimetre():
    check = CHECKS["highest-useful-magnification"]
    aperture = check["inputs"]["D_mm"]
    highest = optics.highest_useful_magnification(aperture)
    assert highest == pytest.approx(check["expected"]["two_per_mm"])
    assert optics.exit_pupil_mm(aperture, highest) == pytest.approx(check["expected"]["exit_pupil_mm"])


def test_seeing_caps_the_power_of_a_large_aperture_only():
    assert optics.highest_useful_magnification([70.0, 400.0], seeing_arcsec=1.0) == pytest.approx(
        [140.0, 450.0]
    )


def test_lowest_power_fills_the_pupil():
    check = CHECKS["lowest-magnification-for-pupil"]
    lowest = optics.lowest_useful_magnification(check["inputs"]["D_mm"], check["inputs"]["pupil_mm"])
    assert lowest == pytest.approx(check["expected"]["M"], rel=check["tolerance"]["relative"])


def test_the_power_on_the_box_of_a_70_mm_telescope_is_far_too_much():
    check = CHECKS["box-power-70mm"]
    kit = check["inputs"]
    power = optics.magnification(kit["focal_length_mm"], kit["eyepiece_mm"], kit["barlow"])
    assert power == pytest.approx(check["expected"]["magnification"])
    assert power > 3 * optics.highest_useful_magnification(kit["aperture_mm"])


def test_power_that_splits_a_double_comfortably():
    check = CHECKS["comfortable-split"]
    given = check["inputs"]
    power = optics.power_to_show(given["separation_arcsec"], given["apparent_arcmin"])
    assert power == pytest.approx(check["expected"]["magnification"])


def test_unequal_pairs_need_the_room_lewis_found():
    """4.8, 16.5 and 36 arcsec for one inch at 0.7, 3.3 and 5.7 magnitudes (T. Lewis 1914, from memory)."""
    ratio = optics.unequal_limit_arcsec(100.0, [3.3, -5.7]) / optics.dawes_limit_arcsec(100.0)
    assert ratio == pytest.approx([16.5 / 4.8, 36.0 / 4.8], rel=0.1)


def test_an_unknown_difference_counts_as_equal():
    assert optics.unequal_limit_arcsec(100.0, None) == optics.dawes_limit_arcsec(100.0)
