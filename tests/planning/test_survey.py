"""The survey of the whole catalogue agrees with the check's verdicts, taken at the same moment."""

import datetime as dt
import itertools

import numpy as np
import pytest
from turns import rarely

from nightmode.catalog.columns import all_objects, columns_of
from nightmode.catalog.resolve import resolve
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.kinds import Kind
from nightmode.model.kit import Barlow, Binoculars, Eyepiece, Kit, Telescope
from nightmode.model.observer import Observer
from nightmode.model.plan import Plan
from nightmode.model.target import Double, Target
from nightmode.night.circumstances import circumstances_on
from nightmode.night.opening import open_night
from nightmode.night.verdict import verdict_at
from nightmode.planning.listing import subject_at
from nightmode.planning.survey import survey
from nightmode.records import replace
from nightmode.sky.kernel import open_sky

WORDS = ("easy", "fair", "hard", "out of reach")
NIGHT = dt.date(2026, 12, 6)


@pytest.fixture(scope="module")
def where():
    return circumstances_on(read_toml(shipped("plans") / "hillside.toml", Plan), Observer(), NIGHT)


def moment(where):
    return dt.datetime(2026, 12, 6, 20, 0, tzinfo=where.site.zone).timestamp()


@pytest.fixture(scope="module")
def surveyed(where):
    """The whole catalogue at one moment.

    Two instants a second apart: the survey then judges the very moment that the check is asked for.
    """
    columns, at_s = all_objects(), moment(where)
    return columns, survey(open_sky(), where, columns, at_s, at_s + 1.0)


def judged(where, surveyed, wanted, most=40):
    """What survey and check say of objects that stand well above the horizon at one moment."""
    (columns, coarse), sky, at_s = surveyed, open_sky(), moment(where)
    rows = [row for row in np.flatnonzero(coarse.highest_deg > 30).tolist() if wanted(columns, row)]
    rows = [row for row in rows if not np.isnan(coarse.margin_dex[row])]
    step = max(1, len(rows) // most)
    rows = rows[::step]
    subjects = [subject_at(columns, row, None) for row in rows]
    night = open_night(sky, where, subjects)
    told = [verdict_at(night, index, at_s) for index in range(len(rows))]
    return [(subjects[i].name, coarse, row, told[i]) for i, row in enumerate(rows)]


IN_HAND = Kit(telescope=Binoculars(name="10x50", magnification=10, aperture_mm=50, true_field_deg=6.5))
PLAIN = Eyepiece(name="25 mm", focal_length_mm=25, apparent_field_deg=50)
WIDE = Eyepiece(name="40 mm", focal_length_mm=40, apparent_field_deg=50)
LOW_POWER = Kit(telescope=Telescope(name="6in", aperture_mm=150, focal_length_mm=750), eyepieces=(PLAIN,))
BARLOW_ONLY = Kit(
    telescope=Telescope(name="8in", aperture_mm=200, focal_length_mm=800),
    eyepieces=(WIDE,),
    barlows=(Barlow(name="2x", factor=2),),
)


def invented_doubles():
    """Doubles of all widths, even and uneven, bright and faint, some without figures; near the zenith."""
    place = {"ra_deg": 45.0, "dec_deg": 45.0}
    widths = (None, *np.geomspace(0.4, 900.0, 40).tolist())
    lights = ((2.0, 2.1), (2.0, 6.5), (8.5, 8.7), (9.0, 11.5), (11.0, 14.5), (None, None))
    for number, (separation, (first, second)) in enumerate(itertools.product(widths, lights)):
        values = {"magnitude": first, "companion_magnitude": second, "separation_arcsec": separation}
        yield Double(name=f"Pair {number}", kind=Kind.DOUBLE, **place, **values)


@pytest.mark.parametrize("kit", [IN_HAND, rarely(LOW_POWER), rarely(BARLOW_ONLY), None])
def test_a_pair_gets_the_word_and_the_margin_that_check_gives(where, kit):
    there = replace(where, kit=kit or where.kit)
    doubles, at_s = list(invented_doubles()), moment(where)
    found = survey(open_sky(), there, columns_of(doubles), at_s, at_s + 1.0)
    night = open_night(open_sky(), there, doubles)
    assert {*WORDS, "unknown"} == set(found.word.tolist())
    for row, double in enumerate(doubles):
        exact = verdict_at(night, row, at_s)
        assert found.word[row] is exact.word, double
        exact_dex = np.nan if exact.margin_dex is None else exact.margin_dex
        assert found.margin_dex[row] == pytest.approx(exact_dex, abs=0.01, nan_ok=True), double


def test_power_decides_in_the_survey_which_pairs_binoculars_split(where):
    """10x makes 52", 97" and 74" of them: too close in a shaking hand (common practice, no source)."""
    pairs = columns_of([resolve(Target(name=name)) for name in ("Castor", "Almach", "Mesarthim")])
    at_s = moment(where) + 2 * 3600
    found = survey(open_sky(), replace(where, kit=IN_HAND), pairs, at_s, at_s + 1.0)
    assert found.word.tolist() == ["out of reach"] * 3


def test_what_has_a_blue_magnitude_only_is_judged_by_v_as_check_does(where, surveyed):
    found = judged(
        where, surveyed, lambda columns, row: columns.is_blue[row] and columns.kind[row] is Kind.GALAXY
    )
    assert len(found) > 10
    for name, coarse, row, exact in found:
        # The survey takes the best eyepiece of the moment, the check the one that suits the target's best
        # moment. Blue magnitudes taken for V would be 0.18 to 0.38 dex below the check.
        assert -0.01 <= coarse.margin_dex[row] - exact.margin_dex <= 0.12, name


def test_a_pair_that_check_calls_hard_is_not_out_of_reach_in_the_survey(where):
    rigel = columns_of([resolve(Target(name="Rigel"))])
    at_s = moment(where) + 4 * 3600
    telescope = where.kit.telescope.model_copy(update={"aperture_mm": 70.0, "obstruction_mm": 0.0})
    small = replace(where, kit=where.kit.model_copy(update={"telescope": telescope}))
    found = survey(open_sky(), small, rigel, at_s, at_s + 1.0)
    assert found.word.tolist() == ["hard"]


def test_what_the_horizon_line_hides_is_not_up_in_the_survey(where, surveyed):
    """The house in the way is 60° high all round but for a gap in the south."""
    walls = ((0, 60), (150, 60), (151, 0), (210, 0), (211, 60))
    hidden = replace(where, site=where.site.model_copy(update={"horizon": walls}))
    (columns, free), at_s = surveyed, moment(where)
    boxed = survey(open_sky(), hidden, columns, at_s, at_s + 1.0)
    night = open_night(open_sky(), hidden, [subject_at(columns, row) for row in range(0, 13000, 400)])
    for index, row in enumerate(range(0, 13000, 400)):
        assert night.targets[index].chance.is_up(at_s) == (not np.isnan(boxed.highest_deg[row]))
    low = ~np.isnan(free.highest_deg) & (free.highest_deg < 59.0)
    assert 0 < np.count_nonzero(low & ~np.isnan(boxed.highest_deg)) < np.count_nonzero(low) / 2


def test_moonlight_counts_in_the_survey_as_in_the_check(where):
    """The Moon past its first quarter (2026-12-17, any almanac): near it, beside it and on the other side."""
    names = ("M 74", "M 33", "M 77", "M 31", "NGC 7331", "M 1", "NGC 2403", "M 15", "Mu Cephei", "TX Psc")
    subjects = [resolve(Target(name=name)) for name in names]
    moonlit = replace(where, date=dt.date(2026, 12, 18))
    at_s = dt.datetime(2026, 12, 18, 20, 0, tzinfo=where.site.zone).timestamp()
    found = survey(open_sky(), moonlit, columns_of(subjects), at_s, at_s + 1.0)
    night = open_night(open_sky(), moonlit, subjects)
    for row, name in enumerate(names):
        exact = verdict_at(night, row, at_s).margin_dex
        assert -0.01 <= found.margin_dex[row] - exact <= 0.12, (name, found.margin_dex[row], exact)


def test_filters_count_in_the_survey_as_in_the_check(where):
    """The Veil's eastern half shows with O III where it does not without (common practice)."""
    veil = columns_of([resolve(Target(name=name)) for name in ("NGC 6992", "NGC 6960", "M 31")])
    at_s = dt.datetime(2026, 12, 6, 18, 30, tzinfo=where.site.zone).timestamp()
    bare = replace(where, kit=where.kit.model_copy(update={"filters": ()}))
    with_filters, without = (survey(open_sky(), one, veil, at_s, at_s + 1.0) for one in (where, bare))
    assert any(one.passband == "oiii" for one in where.kit.filters)
    gain = with_filters.margin_dex - without.margin_dex
    assert (gain[:2] > 0.1).all()
    assert gain[2] == 0.0
    night = open_night(open_sky(), where, [subject_at(veil, row) for row in range(3)])
    for row in range(3):
        exact = verdict_at(night, row, at_s).margin_dex
        assert -0.01 <= with_filters.margin_dex[row] - exact <= 0.12, veil.name[row]


def test_what_can_be_looked_at_through_a_barlow_only_is_judged_through_it(where):
    """40 mm in 800 mm of focal length is 20x, a beam of 10 mm: too wide for any eye; with the Barlow 40x."""
    there = replace(where, kit=BARLOW_ONLY)
    subjects = [resolve(Target(name=name)) for name in ("M 1", "M 31", "M 37", "M 77", "TX Psc")]
    at_s = moment(where)
    found = survey(open_sky(), there, columns_of(subjects), at_s, at_s + 1.0)
    night = open_night(open_sky(), there, subjects)
    for row, subject in enumerate(subjects):
        exact = verdict_at(night, row, at_s)
        assert found.word[row] is exact.word, subject.name
        assert found.margin_dex[row] == pytest.approx(exact.margin_dex, abs=0.01), subject.name


def test_the_faintest_of_the_catalogue_are_out_of_reach_and_not_unknown(where, surveyed):
    columns, found = surveyed
    faintest = (columns.magnitude > 17.5) & ~np.isnan(found.highest_deg) & ~columns.is_blue
    faintest &= ~np.isnan(columns.size_arcmin)
    assert faintest.any()
    assert set(found.word[faintest].tolist()) == {"out of reach"}
