import numpy as np
import pytest

from nightmode.errors import NightmodeError
from nightmode.model.site import Site
from nightmode.sky.bodies import PLANETS, refuse_sun
from nightmode.sky.constellation import constellation
from nightmode.sky.discs import disc
from nightmode.sky.place import body_path
from nightmode.sky.planets import moon_magnitude, planet_magnitude
from nightmode.sky.vantage import stand

#: Equatorial radii in km from IAU WGCCRE (Archinal et al. 2011), from memory.
RADII_KM = {
    "mercury": 2439.7, "venus": 6051.8, "mars": 3396.19, "jupiter": 71492, "saturn": 60268, "uranus": 25559,
    "neptune": 24764,
}  # fmt: skip


def magnitude(sky, site, planet, time_s):
    return planet_magnitude(stand(sky, site, np.array([time_s])), planet)[0]


def test_planets_look_as_two_other_libraries_say(sky, site_a, check, utc):
    case = check("planet-circumstances-computed")
    tolerance, au_km = case["tolerance"], check("constants")["expected"]["au_km"]
    for row in case["expected"]["rows"]:
        moment, name, elongation, distance_au, _, phase_deg, lit = row[:7]
        vantage = stand(sky, site_a, np.array([utc(moment)]))
        found, place = disc(vantage, name.lower()), body_path(vantage.see(name.lower()))
        assert found.elongation_deg == pytest.approx(elongation, abs=tolerance["elongation_deg"])
        assert found.distance_km / au_km == pytest.approx(distance_au, abs=tolerance["distance_au"])
        assert found.phase_angle_deg == pytest.approx(phase_deg, abs=tolerance["phase_angle_deg"])
        assert found.illuminated == pytest.approx(lit, abs=tolerance["fraction"])
        assert constellation(float(place.ra_deg[0]), float(place.dec_deg[0])) == row[10]
        expected_arcsec = 2 * np.degrees(np.arcsin(RADII_KM[name.lower()] / (distance_au * au_km))) * 3600
        assert found.diameter_arcsec == pytest.approx(expected_arcsec, abs=tolerance["arcsec"])


def test_diameters_are_those_of_another_library_as_far_as_its_radii_are_the_same(sky, site_a, check, utc):
    # That library keeps older radii: Venus with its clouds 1.4 % larger, Jupiter and Saturn 0.4 % smaller.
    for row in check("planet-circumstances-computed")["expected"]["rows"]:
        found = disc(stand(sky, site_a, np.array([utc(row[0])])), row[1].lower())
        assert found.diameter_arcsec == pytest.approx(row[9], rel=0.016)


def test_magnitudes_are_those_of_the_almanac_s_formulae(sky, check, utc):
    case = check("planet-magnitudes-2021")
    centre = Site(name="S", latitude_deg=0, longitude_deg=0)
    for name in PLANETS:
        found = magnitude(sky, centre, name, utc(case["inputs"]["utc"] + "Z"))
        assert found == pytest.approx(case["expected"][name], abs=case["tolerance"]["mag"]), name


def test_magnitudes_agree_with_the_authors_own_dated_examples(sky, check, utc):
    case = check("mallama-hilton-2018-dated")
    site = Site(name="S", latitude_deg=0, longitude_deg=0)
    for name, date, _, _, _, extra, published in case["expected"]["rows"]:
        if "globe alone" in extra:  # their Saturn without its rings is not what is seen
            continue
        found = magnitude(sky, site, name.lower(), utc(date + "T00:00:00Z"))
        # Which face Mars turns and its season are not followed here: the authors' own terms for them reach
        # less than 0.1. The dates have no hour: to 0.005 the day does not matter for the others.
        allowed = 0.1 if name == "Mars" else 0.005
        assert found == pytest.approx(published, abs=allowed), (name, date)


def test_the_full_moon_is_brighter_than_the_quarter_by_the_published_law():
    assert moon_magnitude(0) == -12.73
    assert moon_magnitude(90) == pytest.approx(-12.73 + 2.34 + 0.26, abs=0.005)


def test_mars_at_its_nearest_has_its_known_size(sky, site_a, utc):
    mars = disc(stand(sky, site_a, np.array([utc("2003-08-27T10:00:00Z")])), "mars")
    assert mars.diameter_arcsec[0] == pytest.approx(25.1, abs=0.1)


def test_every_planet_has_a_magnitude(sky, site_b, utc):
    for name in PLANETS:
        assert np.isfinite(magnitude(sky, site_b, name, utc("2026-12-12T12:00:00Z")))


def test_the_sun_is_refused_with_its_caution():
    with pytest.raises(NightmodeError, match="blinds"):
        refuse_sun("sun", "sun")


def test_a_body_unknown_to_the_ephemeris_is_refused_with_the_known_ones(sky):
    with pytest.raises(NightmodeError, match="saturn"):
        sky.body("vulcan")
