"""Verdicts through the real command, against what observers agree on."""

import re
import tomllib
from pathlib import Path

import pytest
from turns import by_turns, rarely

from nightmode.visibility.ranking import rounded_down_dex

TRADE = {
    check["id"]: check
    for check in tomllib.loads(
        (Path(__file__).parent.parent / "reference" / "trade.toml").read_text(encoding="utf-8")
    )["check"]
}
SITE = """
[site]
name = "A"
latitude_deg = 47.0
longitude_deg = 11.0
timezone = "Europe/Vienna"
sky_brightness = {sky}
[telescope]
name = "t"
aperture_mm = {aperture}
focal_length_mm = {focal}
"""
EYEPIECE = """
[[eyepiece]]
name = "{0} mm"
focal_length_mm = {0}
apparent_field_deg = 50
"""


def head(sky, aperture, more=""):
    """A site of 47 degrees north, and three eyepieces with exit pupils of 2.5 to 1 mm or 5 to 1.7 mm."""
    focal, eyepieces = (10 * aperture, (25, 15, 10)) if aperture <= 100 else (6 * aperture, (30, 20, 10))
    return (
        SITE.format(sky=sky, aperture=aperture, focal=focal) + "".join(map(EYEPIECE.format, eyepieces)) + more
    )


@pytest.fixture
def verdict(command, plan):
    """Return a function from names, night and head to verdicts by name."""

    def check(names, night, head, *words):
        found = command.json("check", plan(names, minimum_deg=15, night=night, head=head), *words)
        return {target["name"]: target["verdict"] for target in found["targets"]}

    return check


def is_seen(one):
    return one["word"] in ("easy", "fair", "hard")


def evenings():
    """Return the rows of what is seen and what is not, put together by night, sky and telescope."""
    found = {}
    for name, night, sky, aperture, seen in TRADE["seen-and-not-seen"]["rows"]:
        found.setdefault((night, sky, aperture), {})[name] = seen
    return found.items()


@pytest.mark.parametrize(("evening", "expected"), evenings())
def test_what_is_seen_with_which_telescope_under_which_sky(verdict, evening, expected):
    night, sky, aperture = evening
    found = verdict(list(expected), night, head(sky, aperture))
    assert {name: is_seen(one) for name, one in found.items()} == expected


@pytest.mark.parametrize("sky", [18.5, 19.6, 20.7, 21.8])
def test_the_margin_told_is_of_the_word_beside_it(verdict, sky):
    """docs/eyepiece-and-verdict.md has the steps."""
    names = [f"M {number}" for number in (1, 15, 27, 31, 33, 42, 57, 74, 76, 77, 78, 79, 81, 101, 103)]
    for one in verdict(names, "2026-11-10", head(sky, 114)).values():
        steps = (("easy", 0.69), ("fair", 0.24), ("hard", -0.17))
        assert one["word"] == next(
            (word for word, least in steps if one["margin_dex"] >= least), "out of reach"
        )


@pytest.mark.parametrize("aperture", [rarely(76), 114, rarely(127), 203])
def test_an_aperture_that_is_named_is_a_step_above_the_one_in_use(verdict, aperture):
    """Nobody is sent for 115 mm who has 114 (common practice, no published source)."""
    names = [f"M {number}" for number in range(1, 111)] + [
        "NGC 2392",
        "Sirius",
        "Plato",
        "Linné",
        "NGC 2419",
        "Pal 2",
        "3C 273",
    ]
    told = [one["reason"] for one in verdict(names, "2026-12-19", head(19.0, aperture)).values()]
    named = [int(found[1]) for reason in told if (found := re.search(r"(?:needs|with) (\d+) mm", reason))]
    assert named
    assert min(named) >= 1.1 * aperture


@pytest.mark.parametrize(("margin", "told"), [(0.2399, 0.23), (0.24, 0.24), (0.69, 0.69), (-0.1701, -0.18)])
def test_a_margin_is_never_rounded_up_into_the_next_word(margin, told):
    assert rounded_down_dex(margin) == told


def test_virgo_galaxies_are_not_for_a_small_telescope_in_a_city(verdict):
    fact = TRADE["virgo"]
    for sky in fact["city_mag"]:
        found = verdict(fact["names"], fact["night"], head(sky, fact["small_mm"]))
        assert {one["word"] for one in found.values()} == {"out of reach"}
        assert all("sky" in one["reason"] or one["reason"].endswith("mm") for one in found.values())
    found = verdict(fact["names"], fact["night"], head(fact["dark_mag"], fact["large_mm"]))
    assert all(map(is_seen, found.values()))


def test_full_moon_leaves_bright_objects_and_takes_faint_ones(verdict):
    fact = TRADE["full-moon"]
    found = verdict(
        fact["leaves"] + fact["takes"],
        fact["night"],
        head(fact["sky_mag"], fact["aperture_mm"]),
        "--at",
        fact["at"],
    )
    assert [name for name in fact["leaves"] if not is_seen(found[name])] == []
    assert [name for name in fact["takes"] if is_seen(found[name])] == []
    for name in fact["takes"]:
        assert found[name]["reason"].startswith("Moon 100 % lit"), name


def test_what_the_moon_takes_comes_back_on_a_named_night(command, plan):
    fact = TRADE["full-moon"]
    at = head(fact["sky_mag"], fact["aperture_mm"])
    first = command.json("check", plan(["NGC 891"], 15, fact["night"], at))["targets"][0]
    assert first["verdict"]["word"] == "out of reach"
    assert fact["night"] < first["next_fit"] <= "2027-01-22"
    then = command.json("check", plan(["NGC 891"], 15, first["next_fit"], at))["targets"][0]
    assert is_seen(then["verdict"])
    assert "next_fit" not in then


@pytest.mark.parametrize(
    ("name", "arcsec", "bright", "faint", "aperture", "split"), TRADE["test-pairs"]["rows"]
)
def test_pairs_by_which_telescopes_are_tried(verdict, name, arcsec, bright, faint, aperture, split):
    pair = f"""
[[target]]
name = "pair"
kind = "double star"
position = "05h30m00s +40d00m00s"
magnitude = {bright}
companion_magnitude = {faint}
separation_arcsec = {arcsec}
"""
    barlow = '[[barlow]]\nname = "2x"\nfactor = 2.0\n'
    found = verdict(["M 36"], "2026-12-12", head(19.0, aperture, barlow + pair))
    assert is_seen(found["pair"]) == split


def test_planets_and_doubles_are_not_touched_by_city_light(verdict):
    names = ["Saturn", "Jupiter", "Uranus", "Almach", "Albireo", "Moon"]
    city, country = (verdict(names, "2026-12-12", head(sky, 100)) for sky in (16.5, 21.8))
    assert city == country
    assert city["Jupiter"]["word"] == "easy"
    assert "sky glow" in city["Jupiter"]["reason"]


def test_what_has_no_published_brightness_is_unknown_and_the_plan_may_give_one(verdict):
    target = '[[target]]\nname = "patch"\nkind = "emission nebula"\nposition = "05h30m00s +40d00m00s"\n'
    bare = verdict(["M 36"], "2026-12-12", head(21.5, 200, target + "size_arcmin = 10\n"))
    assert bare["patch"] == {"word": "unknown", "margin_dex": None, "reason": "no published brightness"}
    given = verdict(["M 36"], "2026-12-12", head(21.5, 200, target + "size_arcmin = 10\nmagnitude = 8.0\n"))
    assert given["patch"]["word"] == "easy"


def test_a_dark_nebula_of_which_nothing_is_known_is_unknown(verdict):
    target = '[[target]]\nname = "hole"\nkind = "dark nebula"\nposition = "05h30m00s +40d00m00s"\n'
    found = verdict(["Barnard 33"], "2026-12-12", head(21.5, 200, target + "size_arcmin = 10\n"))
    assert found["hole"]["word"] == "unknown"
    assert found["Barnard 33"]["word"] == "out of reach"


def test_low_targets_say_how_high_they_get(command, plan):
    found = command.json("check", plan(["NGC 253"], minimum_deg=25, head=head(21.5, 200)))
    low = found["targets"][0]
    # It culminates at 90 - 47 - 25.3 = 17.7 degrees (OpenNGC: declination -25.3).
    assert low["verdict"]["reason"] == "at most 17° high in the dark; floor 25°"
    assert low["next_fit"] is None


def test_at_a_time_the_verdict_is_that_moment_s(verdict):
    best = verdict(["M 2"], "2026-12-12", head(20.5, 100))["M 2"]
    low = verdict(["M 2"], "2026-12-12", head(20.5, 100), "--at", "20:15")["M 2"]
    assert low["margin_dex"] < best["margin_dex"]


@pytest.mark.parametrize(("name", "at"), by_turns(("hillside", "balcony"), ("best", "22:00")))
def test_the_table_of_a_demo_plan_tells_fits_limits_and_misfits(command, name, at):
    path = Path(__file__).parents[2] / "plans" / f"{name}.toml"
    table = command("check", path, *([] if at == "best" else ["--at", at]))
    assert max(map(len, table.splitlines())) <= 80
    assert "Fits tonight: " in table
    assert "Does not fit: " in table
    assert "…" not in "".join(line for line in table.splitlines() if "mm eyepiece" not in line)
    found = command.json("check", path)
    for target in found["targets"]:
        assert len(target["verdict"]["reason"]) <= 48, target["verdict"]
        assert len(target["look"]["reason"].split()) <= 6
        assert ("next_fit" in target) == (target["verdict"]["word"] == "out of reach")


def test_the_page_about_verdicts_shows_what_the_commands_print(command):
    home = Path(__file__).parents[2]
    page = (home / "docs" / "eyepiece-and-verdict.md").read_text(encoding="utf-8")
    blocks = [line for block in page.split("```")[1::2] for line in block.splitlines()[1:] if line]
    shown = [line for line in blocks if not line.startswith("$")]
    plan = home / "plans" / "balcony.toml"
    printed = command("check", plan) + command("kit", plan) + command("kit", plan, "--claim", "525")
    assert len(shown) > 10
    assert [line for line in shown if line.rstrip() not in printed.splitlines()] == []


@pytest.mark.parametrize(
    ("name", "night", "word", "says"),
    [
        # First quarter 2026-12-17, full 2026-12-24 (any almanac): Copernicus has sunrise a day or two after
        # first quarter, Tycho and Langrenus long before full Moon; of what has rays, those show then.
        ("Copernicus", "2026-12-16", "out of reach", "shadow"),
        ("Copernicus", "2026-12-18", "easy", "long shadows"),
        ("Langrenus", "2026-12-20", "fair", "no shadows"),
        ("Copernicus", "2026-12-23", "fair", "no shadows: rays"),
        ("Reiner Gamma", "2026-12-25", "easy", "rays"),
        # Under a high Sun a plain of 80 km is seen still, though it shows little.
        ("Archimedes", "2026-12-23", "fair", "good light on"),
    ],
)
def test_features_of_the_moon_want_a_low_sun(verdict, name, night, word, says):
    found = verdict([name], night, head(18.5, 70))[name]
    assert (found["word"], says in found["reason"]) == (word, True), found
