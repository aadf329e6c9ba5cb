import pytest
from skyfield.positionlib import position_of_radec

from nightmode.sky.constellation import constellation


def to_j2000(sky, ra_hours, dec_deg, equinox):
    """Carry a place from another equinox by the library's precession alone."""
    if equinox == "J2000":
        return ra_hours * 15, dec_deg
    year = float(equinox[1:])
    julian_date = 2415020.31352 + (year - 1900) * 365.242198781
    place = position_of_radec(ra_hours, dec_deg, epoch=sky.timescale.tt_jd(julian_date))
    ra, dec, _ = place.radec()
    return ra.hours * 15, dec.degrees


def test_roman_s_own_examples(sky, check):
    case = check("roman-1987-constellations")
    given = zip(case["inputs"]["ra_hours"], case["inputs"]["dec_deg"], strict=True)
    found = [constellation(*to_j2000(sky, ra, dec, "B1950")) for ra, dec in given]
    assert found == case["expected"]["constellation"]


def test_places_near_a_boundary_lie_on_their_side_of_it(sky, check):
    for equinox, ra, dec, expected in check("constellation-boundary-cases")["expected"]["rows"]:
        assert constellation(*to_j2000(sky, ra, dec, equinox)) == expected, (equinox, ra, dec)


@pytest.mark.parametrize(
    ("ra", "dec", "name"), [(0.0, 90.0, "UMi"), (0.0, -90.0, "Oct"), (359.999, 0.0, "Psc")]
)
def test_the_ends_of_the_sky_belong_somewhere(ra, dec, name):
    assert constellation(ra, dec) == name
