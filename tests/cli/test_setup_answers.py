"""The answers of setup are taken as people write them, by flag and by question alike."""

from contextlib import nullcontext

import numpy as np
import pytest
from cli.test_setup import FIRST, interview, observer, run
from hypothesis import given
from hypothesis import strategies as st

from nightmode.cli.main import main, values_joined
from nightmode.errors import NightmodeError
from nightmode.model.observer import Observer
from nightmode.model.site import Site
from nightmode.setup import answers
from nightmode.setup.interview import filled
from nightmode.setup.observer_from import observer_from
from nightmode.setup.questions import questions
from nightmode.walk.usable import horizon_altitude_deg


@pytest.fixture
def path(tmp_path):
    return tmp_path / "observer.toml"


@pytest.mark.parametrize("text", ["30.2 S", "30 12 S", "30 12 00 s", "30°12'S", "s 30.2", "-30.2"])
def test_a_southern_latitude_stays_south_by_flag_and_by_question(path, text, capsys):
    run("--observer", path, *FIRST, "--latitude", text, "--longitude", "70 48 W")
    assert "-30.200, -70.800" in capsys.readouterr().out
    answered, _ = interview(None, "Garden", text, "70 48 W", *[""] * 5, "", "100", "900", *[""] * 9)
    assert observer_from(Observer(), answered, questions("UTC")).site[0].latitude_deg == pytest.approx(-30.2)


@pytest.mark.parametrize(
    ("flag", "text", "read"),
    [
        ("--latitude", "-30.2S", lambda made: made.site[0].latitude_deg == -30.2),
        ("--latitude", "-30:12", lambda made: made.site[0].latitude_deg == -30.2),
        ("--longitude", "-70d48m", lambda made: made.site[0].longitude_deg == -70.8),
        ("--barlows", "-2x", lambda made: made.barlow == ()),
        ("--eyepieces", "-14,6/60", lambda made: [e.focal_length_mm for e in made.eyepiece] == [30, 9, 6]),
    ],
)
def test_a_value_that_begins_with_a_minus_needs_no_sign_of_equality(path, flag, text, read, capsys):
    run("--observer", path, *FIRST)
    assert main(["setup", "--observer", str(path), flag, text]) == 0
    assert values_joined([flag, text]) == [f"{flag}={text}"]
    assert read(observer(path))
    assert main(["setup", "--observer", str(path), "-x", "5"]) == 2
    assert "-x" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("flag", "text", "read"),
    [
        ("--horizon", "N:12,SE:8 270:3°", lambda made: made.site[0].horizon == ((0, 12), (135, 8), (270, 3))),
        ("--barrel", '1,25"', lambda made: made.telescope[0].barrel_in == 1.25),
        ("--barrel", "2 inch", lambda made: made.telescope[0].barrel_in == 2),
        ("--filters", "Moon filter", lambda made: made.filter[-1].passband == "neutral"),
        (
            "--eyepieces",
            "25mm, 10 mm/60°",
            lambda made: [e.focal_length_mm for e in made.eyepiece][-2:] == [25, 10],
        ),
    ],
)
def test_answers_are_taken_in_the_words_of_the_trade(path, flag, text, read):
    run("--observer", path, *FIRST)
    run("--observer", path, flag, text)
    assert read(observer(path))


@pytest.mark.parametrize(
    ("text", "name", "lengths", "fields"),
    [
        ("8-24/60-40", "8-24 mm zoom", (8, 24), (60, 40)),
        ("24-8 mm / 40-60°", "8-24 mm zoom", (8, 24), (60, 40)),  # a zoom is widest at its shortest end
        ("Grey zoom=7.2-21.5/58-40/2in", "Grey zoom", (7.2, 21.5), (58, 40)),
        ("8-24", "8-24 mm zoom", (8, 24), (50, 50)),
    ],
)
def test_a_zoom_is_one_eyepiece_with_two_ends(path, text, name, lengths, fields):
    run("--observer", path, *FIRST)
    before = observer(path).eyepiece
    run("--observer", path, "--eyepieces", text)
    *kept, zoom = observer(path).eyepiece
    assert tuple(kept) == before
    assert (zoom.name, zoom.focal_length_mm, zoom.apparent_field_deg) == (name, lengths, fields)
    run("--observer", path, f"--eyepieces=-{lengths[0]}-{lengths[1]}")
    assert observer(path).eyepiece == before


@pytest.mark.parametrize("text", ["8-", "8-24-30", "8-24/60-40-20", "25/50-60", "zoom"])
def test_what_is_no_zoom_is_told_how_one_is_written(path, text):
    run("--observer", path, *FIRST)
    with pytest.raises(NightmodeError, match="8-24/60-40"):
        run("--observer", path, "--eyepieces", text)


@pytest.mark.parametrize(
    "text",
    [
        "-33.45, -70.66",
        "-33.45,-70.66",
        "-33.45 -70.66",
        "33.45S, 70.66W",
        "33,45 S; 70,66 W",
        "-33,45 -70,66",
        "33 27S, 70 39,6W",
        "33°27'S 70°39'36\"W",
        "S33.45 W70.66",
    ],
)
def test_both_coordinates_as_a_map_gives_them_answer_two_questions(path, text):
    answered, told = interview(None, "Garden", text, "", "", "", "", "", "100", "900", *[""] * 9)
    assert not any(line.startswith("  L") for line in told)
    site = observer_from(Observer(), answered, questions("UTC")).site[0]
    run("--observer", path, *FIRST[:2], *FIRST[6:], f"--latitude={text}")
    for found in (site, observer(path).site[0]):
        assert (found.latitude_deg, found.longitude_deg) == pytest.approx((-33.45, -70.66))


@pytest.mark.parametrize(
    ("text", "latitude_deg", "longitude_deg"),
    [
        ("48,21 16,37", 48.21, 16.37),
        ("48 12,6 16 22,2", 48.21, 16.37),
        ("48 12 36,16 22 12", 48.21, 16.37),
    ],
)
def test_a_comma_that_may_part_two_angles_or_be_of_a_fraction_is_what_makes_them_alike(
    path, text, latitude_deg, longitude_deg
):
    run("--observer", path, *FIRST[:2], *FIRST[6:], f"--latitude={text}")
    found = observer(path).site[0]
    assert (found.latitude_deg, found.longitude_deg) == pytest.approx((latitude_deg, longitude_deg))


@pytest.mark.parametrize("text", ["30 75", "30 12", "95", "30 N 20 N", "30,", "30, ", "30.5, 400"])
def test_what_is_not_two_coordinates_is_not_taken_for_two(path, text):
    flags = [*FIRST[:2], *FIRST[6:], "--latitude", text]
    with pytest.raises(NightmodeError, match=r"longitude|latitude"):
        run("--observer", path, *flags)


@pytest.mark.parametrize(
    ("text", "zone"),
    [
        ("Berlin", "Europe/Berlin"),
        ("europe/berlin", "Europe/Berlin"),
        ("New York", "America/New_York"),
        ("America/Lima", "America/Lima"),
    ],
)
def test_a_time_zone_is_understood_by_its_city(path, text, zone):
    run("--observer", path, *FIRST, "--timezone", text)
    assert observer(path).site[0].timezone == zone


@pytest.mark.parametrize(
    ("text", "instead"),
    [
        ("Viena", "did you mean Europe/Vienna? Else write the name of a large city"),
        ("Xyzzy", "write the name of a large city in it"),
        ("GMT+1", "is not a time zone"),
        ("Pacific", "Canada/Pacific or US/Pacific"),
        ("Europe", "is not a time zone"),
    ],
)
def test_a_time_zone_that_is_not_known_is_told_with_what_comes_near(path, text, instead):
    with pytest.raises(NightmodeError, match="--timezone") as problem:
        run("--observer", path, *FIRST, "--timezone", text)
    assert instead in str(problem.value)


@pytest.mark.parametrize(("text", "bortle"), [("city", 8), ("Suburb", 5), (" inner city", 9), ("rural", 3)])
def test_the_sky_is_understood_by_the_word_of_its_bortle_class(path, text, bortle):
    """Bortle 2001, Sky & Telescope, February, page 126: the titles of the classes."""
    run("--observer", path, *FIRST, "--dark", text)
    assert observer(path).site[0].bortle == bortle


def test_a_red_dot_is_kept_as_a_sight_without_circles(path):
    run("--observer", path, *FIRST, "--finder", "none", "--bullseye", "red dot", "--barlows", "3x Barlow")
    for _ in range(2):
        made = observer(path)
        assert [(finder.kind, finder.rings_deg) for finder in made.finder] == [("bullseye", ())]
        assert [barlow.factor for barlow in made.barlow] == [3]
        answered, _ = interview(made, *[""] * 21)
        assert answered["bullseye"] == "dot"
        run("--observer", path, "--pupil", "5")


@given(
    first=st.integers(0, 359),
    width=st.integers(5, 340),
    height=st.integers(0, 40),
    aside=st.floats(2.0, 358.0),
)
def test_a_balcony_sees_what_is_open_and_nothing_beside_it(first, width, height, aside):
    """In whatever direction one looks: open sky above the height given, within; walls outside."""
    line = answers.horizon(f"open {first}-{(first + width) % 360}:{height}", "--horizon")
    assert Site(name="Balcony", latitude_deg=0, longitude_deg=0, horizon=line).horizon == line
    (floor,) = horizon_altitude_deg(line, np.array([(first + aside) % 360.0])).ravel().tolist()
    if aside <= width:
        assert floor == pytest.approx(height)
    elif width + 1 <= aside <= 359:
        assert floor > 88


def test_a_balcony_may_be_named_by_the_points_of_the_compass(path):
    run("--observer", path, *FIRST, "--horizon", "open ne-sw:10")
    assert observer(path).site[0].horizon == ((44, 89), (45, 10), (225, 10), (226, 89))
    with pytest.raises(NightmodeError, match="open NE-SW"):
        run("--observer", path, "--horizon", "south-east")


@given(st.integers(20, 2000), st.integers(0, 1500))
def test_an_obstruction_is_taken_where_it_is_narrower_than_its_own_aperture(aperture, width):
    asked, fits = questions("UTC"), width < aperture
    flags = {"site": "Garden", "latitude": "48", "longitude": "16", "telescope": "T"}
    flags |= {"focal_length": "2250", "aperture": f"{aperture} mm", "obstruction": str(width)}
    says = f"{width} mm lets no light past in an aperture of {aperture} mm"
    with nullcontext() if fits else pytest.raises(NightmodeError, match=f"^--obstruction: {says}"):
        made = observer_from(Observer(), filled(Observer(), flags, asked), asked)
        assert (made.telescope[0].aperture_mm, made.telescope[0].obstruction_mm) == (aperture, width)
    typed = ["Garden", "48", "16", *[""] * 4, "T", str(aperture), "2250", f"{width} mm"]
    answered, said = interview(None, *typed, *[""] * 9)
    assert answered["obstruction"] == (f"{width} mm" if fits else "0")
    assert any(says in line for line in said) is not fits


def test_an_obstruction_is_held_against_the_aperture_in_the_file(path):
    run("--observer", path, *FIRST, "--aperture", "500", "--obstruction", "100")
    run("--observer", path, "--obstruction", "110")
    assert observer(path).telescope[0].obstruction_mm == 110
    with pytest.raises(NightmodeError, match=r"--obstruction: 110 mm lets no light past .* 90 mm"):
        run("--observer", path, "--aperture", "90")
    there = observer(path)
    answers = [""] * 8 + ["90", "", "", "30"] + [""] * 9
    answered, said = interview(there, *answers)
    assert (answered["aperture"], answered["obstruction"]) == ("90", "30")
    assert sum("lets no light past" in line for line in said) == 1


@pytest.mark.parametrize("word", ["none", " None "])
def test_none_takes_every_list_as_empty(path, word):
    run("--observer", path, *FIRST)
    before = observer(path)
    run("--observer", path, "--barlows", word, "--filters", word)
    assert observer(path) == before.model_copy(update={"barlow": (), "filter": ()})
    run("--observer", path, "--eyepieces", word, "--barlows", word)
    assert observer(path).eyepiece == ()
    with pytest.raises(NightmodeError, match="none alone"):
        run("--observer", path, "--barlows", "2, none")


def test_what_a_question_offers_in_its_bracket_may_be_typed():
    answers = ["Garden", "48.2", "16.4", *[""] * 4, "T", "100", "900", "", ""]
    typed, said = interview(None, *answers, *["none"] * 5, *[""] * 4)
    entered, _ = interview(None, *answers, *[""] * 9)
    asked = questions("Europe/Vienna")
    assert observer_from(Observer(), typed, asked) == observer_from(Observer(), entered, asked)
    assert sum(prompt.endswith("[none]: ") for prompt in said) >= 5


def test_who_has_binoculars_alone_is_asked_nothing_about_telescopes(path, capsys):
    answers = ["Field", "34 S", "151 E", *[""] * 4, "none", "10x50/6.5", "6.5", "", ""]
    answered, said = interview(None, *answers)
    assert [prompt.split(" (")[0] for prompt in said if "]: " in prompt][-4:] == [
        "Binoculars", "Dark pupil", "Lowest altitude", "Hours",
    ]  # fmt: skip
    made = observer_from(Observer(), answered, questions("UTC"))
    assert (made.telescope, made.eyepiece, made.finder, made.observer.pupil_mm) == ((), (), (), 6.5)
    run("--observer", path, *FIRST, "--finder", "8x50")
    before = observer(path)
    run("--observer", path, "--telescope", "none", "--binoculars", "10x50")
    assert (observer(path).eyepiece, observer(path).finder) == (before.eyepiece, before.finder)
    run("--observer", path, "--telescope", "none", "--eyepieces", "7")
    assert len(observer(path).eyepiece) == len(before.eyepiece) + 1


def test_without_any_instrument_one_is_asked_for(path):
    with pytest.raises(NightmodeError, match="nothing to observe with; add --binoculars"):
        run(
            *("--observer", path, "--site", "A", "--latitude", "48", "--longitude", "16"),
            *("--telescope", "none", "--binoculars", "none"),
        )
    assert not path.exists()


@pytest.mark.parametrize(
    ("text", "figure"),
    [
        ("Bortle 6", {"bortle": 6}),
        ("bortle 6", {"bortle": 6}),
        ("Bortle class 4", {"bortle": 4}),
        ("BORTLE6", {"bortle": 6}),
        ("6", {"bortle": 6}),
        ("20.8 mag/arcsec²", {"sky_brightness": 20.8}),
        ("20.8mag/arcsec2", {"sky_brightness": 20.8}),
        ("20,8", {"sky_brightness": 20.8}),
        ("5.5 mag", {"naked_eye_limit_mag": 5.5}),
    ],
)
def test_how_dark_is_taken_in_its_three_ways(path, text, figure):
    run("--observer", path, *FIRST, "--dark", text)
    none = {"bortle": None, "sky_brightness": None, "naked_eye_limit_mag": None}
    site = observer(path).site[0]
    assert {key: getattr(site, key) for key in none} == none | figure


@pytest.mark.parametrize("text", ["Bortle 12", "Bortle 20.8", "Bortle", "dark", "12", "4.5", "nan", ""])
def test_another_word_for_how_dark_is_answered_with_the_three_ways(path, text):
    with pytest.raises(NightmodeError, match=r"write 1 to 9, or a reading like 20\.8, .* 5\.5mag"):
        run("--observer", path, *FIRST, "--dark", text)
