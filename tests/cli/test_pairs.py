"""Double stars in check: the night's separation and angle, and where the companion stands."""

import pytest

HEAD = """
[site]
name = "S"
latitude_deg = {latitude}
longitude_deg = 16.0
timezone = "Europe/Vienna"
bortle = 5
[telescope]
name = "t"
aperture_mm = 200
focal_length_mm = 1000
view = "{view}"
[[eyepiece]]
name = "10 mm"
focal_length_mm = 10
"""


def pair_of(command, plan, name, night="2027-01-01", view="turned", latitude=48):
    path = plan([name], night=night, head=HEAD.format(view=view, latitude=latitude))
    (target,) = command.json("check", path)["targets"]
    return target["pair"]


# Sixth Catalog of Orbits of Visual Binary Stars (U.S. Naval Observatory), its own ephemeris for 2027.0; Rigil
# Kentaurus: Akeson et al. 2021.
@pytest.mark.parametrize(
    ("name", "separation", "angle", "latitude"),
    [("Sirius", 11.03, 55.1, 30), ("70 Ophiuchi", 6.72, 115.9, 30), ("Rigil Kentaurus", 9.76, 14.5, -35)],
)
def test_fast_pairs_have_the_separation_and_the_angle_of_the_night(
    name, separation, angle, latitude, command, plan
):
    found = pair_of(command, plan, name, latitude=latitude)
    assert found["separation_arcsec"] == pytest.approx(separation, abs=0.02)
    assert found["position_angle_deg"] == pytest.approx(angle, abs=0.5)
    assert found["epoch"] == 2027.0


def test_a_pair_at_rest_says_when_it_was_measured(command, plan):
    found = pair_of(command, plan, "Albireo")
    # Gaia DR3: 34.59 arcsec at 54 degrees in 2016.
    assert (found["separation_arcsec"], found["position_angle_deg"], found["epoch"]) == (34.59, 54, 2016)


def test_the_companion_stands_elsewhere_in_a_mirrored_field(command, plan):
    # Albireo at 54 degrees: 3 - (54 + 90) / 30 and 3 + (54 + 90) / 30 hours (common practice).
    turned = pair_of(command, plan, "Albireo", view="turned")["companion_clock"]
    assert turned == pytest.approx(12 - 1.8, abs=0.1)
    assert pair_of(command, plan, "Albireo", view="upright")["companion_clock"] == turned
    assert pair_of(command, plan, "Albireo", view="mirrored")["companion_clock"] == pytest.approx(
        7.8, abs=0.1
    )


def test_a_star_tells_of_the_companion_that_its_name_does_not_mean(command, plan):
    # Regulus and its companion: 8.2 mag, 176 arcsec (from memory).
    path = plan(["Regulus", "Arcturus"], night="2027-03-01", head=HEAD.format(view="turned", latitude=48))
    assert "pair" not in command.json("check", path)["targets"][0]
    told = command("sheet", path)
    assert "Beside it 8.2 mag, 176″ off: STFB 6" in told
    assert told.count("Beside it") == 1


def test_a_pair_written_by_hand_has_what_the_plan_says(command, tmp_path):
    path = tmp_path / "own.toml"
    path.write_text(
        'title = "A plan"\nnight = 2027-01-01\n'
        + HEAD.format(view="turned", latitude=48)
        + '[[target]]\nname = "mine"\nkind = "double star"\nposition = "05h00m00s +30d00m00s"\n'
        + "separation_arcsec = 3.5\n",
        encoding="utf-8",
    )
    (target,) = command.json("check", path)["targets"]
    expected = {"position_angle_deg": None, "epoch": None, "companion_clock": None}
    assert target["pair"] == {"separation_arcsec": 3.5, **expected}
