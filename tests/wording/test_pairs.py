from nightmode.kinds import Kind
from nightmode.model.kit import Binoculars, Telescope, View
from nightmode.model.target import Double
from nightmode.night.pairs import pair_in
from nightmode.records import replace
from nightmode.wording.figures import hour_text
from nightmode.wording.pairs import IN_ITS_GLARE, two_stars, what_parts_them, where_it_stands
from nightmode.wording.spoken.sights import pair_said

CASTOR = Double(
    name="Castor", kind=Kind.DOUBLE, ra_deg=113.65, dec_deg=31.89, magnitude=1.9, companion_magnitude=3.0,
    separation_arcsec=5.82, position_angle_deg=49.0, epoch_year=2027.04,
)  # fmt: skip


def test_a_pair_is_told_in_three_lines():
    # 120 and 240 over 5.82 arcsec: 21x and 41x (common practice); clock by 3 + (49 + 90) / 30.
    telescope = Telescope(name="t", aperture_mm=100, focal_length_mm=900, view=View.MIRRORED)
    pair = pair_in(telescope, CASTOR, 1.8e9)
    assert two_stars(CASTOR, pair) == "1.9 + 3.0, 5.8″ at 49° (2027)"
    assert what_parts_them(pair) == "21x shows two, 41x with room; 50 mm enough"
    assert where_it_stands(pair) == "companion near half past 7, stars leaving at 3"
    assert not pair.in_glare


def test_glare_is_told_of_a_companion_that_low_power_leaves_close_to_its_star():
    telescope = Telescope(name="t", aperture_mm=150, focal_length_mm=1800)
    faint = replace(CASTOR, companion_magnitude=6.0)
    wide = replace(faint, separation_arcsec=107.0)
    near, far = (pair_in(telescope, double, 1.8e9, lowest_power=45.0) for double in (faint, wide))
    assert near.in_glare
    assert not far.in_glare
    assert IN_ITS_GLARE[3:] in " ".join(pair_said(faint, near))


def test_a_pair_without_an_angle_says_nothing_of_where():
    telescope = Telescope(name="t", aperture_mm=100, focal_length_mm=900)
    pair = pair_in(telescope, replace(CASTOR, position_angle_deg=None), 1.8e9)
    assert where_it_stands(pair) is None
    assert pair_in(telescope, replace(CASTOR, separation_arcsec=None), 1.8e9) is None


def test_where_stars_leave_is_told_only_of_what_stands_still():
    # Common practice, no published source: the drift through the field shows where west is, on a mount alone.
    in_hand = Binoculars(name="b", magnification=10, aperture_mm=50, true_field_deg=6.5)
    for binoculars in (in_hand, in_hand.model_copy(update={"mounted": True})):
        pair = pair_in(binoculars, CASTOR, 1.8e9)
        told = where_it_stands(pair), *pair_said(CASTOR, pair)
        assert any("leav" in part for part in told if part) is binoculars.mounted
        assert two_stars(CASTOR, pair) == "1.9 + 3.0, 5.8″ at 49° (2027)"


def test_hours_are_told_to_the_half():
    assert hour_text(0.1, halves=True) == hour_text(11.9, halves=True) == "12 o'clock"
    assert hour_text(7.63, halves=True) == "half past 7"
    assert hour_text(11.6, halves=True) == "half past 11"
    assert hour_text(11.6) == "12 o'clock"
