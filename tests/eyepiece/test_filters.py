"""Which filter observers screw on, and when none."""

import pytest
from eyepiece.carrying import flat, look, subject
from rows import rows

from nightmode.eyepiece.filters import Visibility
from nightmode.kinds import Kind, ShinesIn

FAIR_BARE = Visibility(0.2, 0.3)


def gaining(by_dex=0.0, by_extent=0.0, bare=FAIR_BARE):
    def judge(one, filter_):
        return bare if filter_ is None else Visibility(bare.contrast_dex + by_dex, bare.extent + by_extent)

    return judge


@rows("kind, expected", [
    (Kind.PLANETARY_NEBULA, "o3"),
    (Kind.SUPERNOVA_REMNANT, "o3"),
    (Kind.EMISSION_NEBULA, "nb"),
    (Kind.CLUSTER_NEBULA, "nb"),
    (Kind.GALAXY, None),
    (Kind.GLOBULAR_CLUSTER, None),
    (Kind.OPEN_CLUSTER, None),
    (Kind.REFLECTION_NEBULA, None),
])  # fmt: skip
def test_filters_only_for_what_shines_in_lines(kind, expected):
    # Common practice, no published source.
    assert look(subject(kind, size_arcmin=10.0), judge=gaining(0.4)).filter == expected


@pytest.mark.parametrize(("light", "expected"), [
    (ShinesIn.OXYGEN, "o3"), (ShinesIn.BOTH, "nb"), (ShinesIn.HYDROGEN, "nb"), (ShinesIn.STARLIGHT, None),
])  # fmt: skip
def test_the_light_of_a_nebula_decides_more_than_its_kind(light, expected):
    # Common practice: O III for what is strong in it, nothing for starlight.
    nebula = subject(Kind.EMISSION_NEBULA, size_arcmin=10.0, shines_in=light)
    assert look(nebula, judge=gaining(0.4)).filter == expected


def test_hydrogen_beta_is_for_what_nothing_else_makes_easy():
    # Common practice: the Horsehead and the California nebula; the Trifid is easy with less.
    nebula = subject(Kind.EMISSION_NEBULA, size_arcmin=10.0, shines_in=ShinesIn.HYDROGEN)

    def judge(bare):
        gains = {None: 0.0, "nb": 0.15, "hb": 0.3}
        return lambda one, filter_: Visibility(bare + gains.get(filter_ and filter_.name, -1.0), 0.5)

    assert look(nebula, judge=judge(-0.3)).filter == "hb"
    assert look(nebula, judge=judge(0.6)).filter == "nb"


def test_a_filter_must_gain_enough():
    nebula = subject(Kind.EMISSION_NEBULA, size_arcmin=10.0)
    assert look(nebula, judge=gaining(0.05)).filter is None
    assert look(nebula, judge=gaining(-0.2)).filter is None


def test_where_there_is_plenty_a_filter_is_only_for_more_of_the_extent():
    nebula, easy = subject(Kind.EMISSION_NEBULA, size_arcmin=10.0), Visibility(1.5, 0.4)
    assert look(nebula, judge=gaining(0.5, 0.05, easy)).filter is None
    assert look(nebula, judge=gaining(0.5, 0.0, Visibility(0.8, 0.4))).filter == "nb"
    assert look(nebula, judge=gaining(0.5, 0.3, easy)).filter == "nb"


def test_a_nebula_round_bright_stars_gains_by_a_filter_that_leaves_their_contrast_as_it_was():
    # Common practice: the Eagle Nebula with a narrowband filter, though its stars show without.
    def judge(one, filter_):
        return Visibility(1.5, 1.0, 0.85 if filter_ is None else 1.0)

    assert look(subject(Kind.CLUSTER_NEBULA, size_arcmin=28.0), judge=judge).filter == "nb"
    assert look(subject(Kind.EMISSION_NEBULA, size_arcmin=28.0), judge=judge).filter is None


def test_without_published_brightness_the_kind_decides():
    assert look(subject(Kind.EMISSION_NEBULA, size_arcmin=60.0), judge=flat(None)).filter == "nb"
    assert look(subject(Kind.DARK_NEBULA, size_arcmin=60.0), judge=flat(None)).filter is None
