"""Jupiter's moons against Meeus's examples and against theory L1.2."""

import numpy as np
import pytest

from nightmode.sky.galilean import MOONS, beside_jupiter, passages


def test_jupiters_moons_stand_as_in_meeus_example_44a(check):
    case = check("meeus-44-moons-of-jupiter")
    seen, _ = beside_jupiter(case["jde"])
    assert seen.x[:, 0] == pytest.approx(case["x"], abs=case["tolerance"])
    assert seen.y[:, 0] == pytest.approx(case["y"], abs=case["tolerance"])


def test_the_exercise_of_the_same_chapter(check, utc, sky):
    case = check("meeus-44-moons-of-jupiter")
    for moment, moon, y in case["exercise"]:
        seen, _ = beside_jupiter(sky.time(np.array([utc(moment)])).tt)
        place = MOONS.index(moon)
        assert seen.x[place, 0] == pytest.approx(0, abs=0.07)
        assert seen.y[place, 0] == pytest.approx(y, abs=case["tolerance"])


def test_the_theory_of_high_accuracy_is_near(check):
    case = check("meeus-44b-moons-of-jupiter")
    seen, _ = beside_jupiter(case["jde"])
    assert seen.x[:, 0] == pytest.approx(case["x"], abs=case["tolerance"])
    assert seen.y[:, 0] == pytest.approx(case["y"], abs=case["tolerance"])


def test_places_agree_with_theory_l12(check, utc, sky):
    case = check("jupiter-moons-l12")
    for moment, moon, x, y, z in case["rows"]:
        place = MOONS.index(moon)
        seen, _ = beside_jupiter(sky.time(np.array([utc(moment)])).tt)
        assert -seen.x[place, 0] == pytest.approx(x, abs=case["tolerance_x"][place]), (moment, moon)
        assert seen.y[place, 0] == pytest.approx(y, abs=case["tolerance_y"][place]), (moment, moon)
        assert np.sign(seen.z[place, 0]) == np.sign(z), (moment, moon)


def test_passages_begin_and_end_as_theory_l12_has_them(check, utc, sky):
    case = check("jupiter-events-l12")
    times = np.arange(utc("2027-03-14T12:00:00Z"), utc("2027-03-18T12:00:00Z"), 60.0)
    found = passages(times, sky.time(times).tt)
    for moon, event, begins, ends in case["rows"]:
        allowed = 60 * case["tolerance_min"][moon]
        same = [
            one for one in found
            if (one.moon, one.event) == (moon, event) and abs(one.begins_s - utc(begins)) <= allowed
        ]  # fmt: skip
        assert len(same) == 1, (moon, event, begins)
        assert same[0].ends_s == pytest.approx(utc(ends), abs=allowed), (moon, event, begins)


def test_before_opposition_shadows_run_ahead_and_after_it_behind(utc, sky):
    # Opposition 2027-02-10 (any almanac).
    for moment, way in (("2027-01-05T00:00:00Z", -1), ("2027-03-15T00:00:00Z", 1)):
        times = utc(moment) + np.arange(0.0, 4 * 86400.0, 60.0)
        found = [one for one in passages(times, sky.time(times).tt) if one.moon == "Io"]
        transits = [one for one in found if one.event == "transit" and one.begins_s > times[0]]
        shadows = [one.begins_s for one in found if one.event == "shadow"]
        for transit in transits:
            nearest = min(shadows, key=lambda begins, at=transit.begins_s: abs(begins - at))
            assert np.sign(nearest - transit.begins_s) == way
