"""What observers look with at double stars, and at single ones."""

from eyepiece.carrying import kit, look, subject

from nightmode.catalog.resolve import resolve
from nightmode.eyepiece.why import Why
from nightmode.kinds import Kind
from nightmode.model.target import Target


def test_doubles_get_the_lowest_power_that_shows_them_at_ease():
    # 5.5 arcsec at 7.5 arcmin: 82x; the kit has 60x, 86x ... (geometric optics, common practice)
    castor = subject(Kind.DOUBLE, magnitude=1.9, companion_magnitude=3.0, separation_arcsec=5.5)
    assert look(castor).combination.eyepiece == "14 mm"
    close = subject(Kind.DOUBLE, magnitude=5.0, companion_magnitude=5.0, separation_arcsec=0.4)
    assert look(close).why is Why.TOO_CLOSE


def test_a_large_telescope_shows_a_pair_in_a_beam_that_leaves_the_stars_crisp():
    # Common practice: beams of 4 mm and more show the faults of the eye. Far apart, that is no matter.
    large = kit(500.0, 2250.0, focals=(20, 13, 8), barlows=())
    almach = subject(Kind.DOUBLE, magnitude=2.3, companion_magnitude=5.0, separation_arcsec=9.6)
    assert look(almach, large).combination.eyepiece == "13 mm"
    albireo = subject(Kind.DOUBLE, magnitude=3.1, companion_magnitude=5.1, separation_arcsec=34.5)
    assert look(albireo, large).combination.eyepiece == "20 mm"


def test_a_pair_of_pairs_is_looked_at_for_the_close_ones():
    # Epsilon Lyrae (209 arcsec) is known for its two pairs of 2.3 arcsec: 100x and more.
    double = resolve(Target(name="Epsilon Lyrae"))
    chosen = look(double, kit(focals=(25, 10, 7)))
    assert (chosen.combination.eyepiece, chosen.why) == ("7 mm", Why.SPLITS_BOTH)
    tiny = look(double, kit(40.0, 400.0, focals=(25, 10, 7), barlows=()))  # splits 2.9 arcsec, not 2.3
    assert (tiny.combination.eyepiece, tiny.why) == ("25 mm", Why.SPLITS)


def test_a_companion_in_the_glare_gets_more_power():
    rigel = subject(Kind.DOUBLE, magnitude=0.2, companion_magnitude=6.8, separation_arcsec=9.4)
    equal = subject(Kind.DOUBLE, magnitude=6.8, companion_magnitude=6.8, separation_arcsec=9.4)
    assert look(rigel).combination.power > 1.5 * look(equal).combination.power


def test_a_dim_companion_gets_a_darker_sky():
    # M 40, 9.7 and 10.2 mag, 52 arcsec apart, is two stars at 20x already, but dim ones: 50 to 60x darkens
    # the sky for them (common practice). Two magnitudes brighter they need none of that.
    small = kit(80.0, 600.0, focals=(25, 10, 6), barlows=())
    winnecke = subject(Kind.DOUBLE, magnitude=9.7, companion_magnitude=10.2, separation_arcsec=52.0)
    bright = subject(Kind.DOUBLE, magnitude=7.7, companion_magnitude=8.2, separation_arcsec=52.0)
    assert look(winnecke, small).combination.eyepiece == "10 mm"
    assert look(bright, small).combination.eyepiece == "25 mm"


def test_a_faint_star_gets_power_and_a_bright_one_the_widest_field():
    # Common practice: low power for a bright variable among its neighbours, 150x for a quasar of 12.9.
    mirror = kit(300.0, 1500.0, focals=(30, 20, 10, 7))
    bright, quasar = (subject(Kind.STAR, magnitude=magnitude) for magnitude in (6.5, 12.9))
    assert (look(bright, mirror).combination.eyepiece, look(bright, mirror).why) == ("30 mm", Why.LOW_POWER)
    assert look(quasar, mirror).combination.power >= 150.0
    assert look(quasar, mirror).why is Why.MORE_STARS
    unknown = subject(Kind.STAR)
    assert look(unknown, mirror).why is Why.LOW_POWER


def test_doubles_take_a_plain_eyepiece_where_one_splits_them():
    # 3 arcsec: 150x wanted, 120x is near enough. 25 mm with the Barlow gives 96x; the plain 10 mm gives 120x.
    pair = subject(Kind.DOUBLE, magnitude=5.0, companion_magnitude=5.5, separation_arcsec=3.0)
    chosen = look(pair, kit(focals=(25, 10))).combination
    assert (chosen.eyepiece, chosen.barlow) == ("10 mm", None)
    only = look(pair, kit(focals=(25,))).combination
    assert only.barlow == "2.0x"


def test_glare_is_the_reason_only_where_the_lowest_power_leaves_the_companion_in_it():
    # 60x shows 107 arcsec at 107 arcmin: nobody looks for that companion in the glare (geometric optics).
    wide = subject(Kind.DOUBLE, magnitude=3.8, companion_magnitude=7.0, separation_arcsec=107.0)
    close = subject(Kind.DOUBLE, magnitude=3.8, companion_magnitude=7.0, separation_arcsec=7.0)
    assert (look(wide).why, look(close).why) == (Why.SPLITS, Why.GLARE)
