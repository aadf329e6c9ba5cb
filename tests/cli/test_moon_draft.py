"""An evening on the Moon: drafted from its features, those in their light, whether it waxes or wanes."""

import pytest
from turns import rarely

OBSERVER = """
[observer]
min_altitude_deg = 10
[[site]]
name = "North"
latitude_deg = 48.2
longitude_deg = 16.4
timezone = "Europe/Vienna"
bortle = 6
[[site]]
name = "South"
latitude_deg = -33.0
longitude_deg = 149.0
timezone = "Australia/Sydney"
bortle = 4
[[telescope]]
name = "150 mm"
aperture_mm = 150
focal_length_mm = 900
[[eyepiece]]
name = "6 mm"
focal_length_mm = 6
"""


@pytest.fixture
def drafted(command, tmp_path):
    def draft(night, site, *more):
        (tmp_path / "observer.toml").write_text(OBSERVER, encoding="utf-8")
        plan, observer = tmp_path / "moon.toml", tmp_path / "observer.toml"
        command(
            "draft", "--observer", observer, "--night", night, "--site", site, *more, "-o", plan, "--force"
        )
        return command.json("check", plan, "--observer", observer)["targets"]

    return draft


# First quarter 2027-03-15, last quarter 2027-01-29 and 2027-03-30 (any almanac).
@pytest.mark.parametrize(
    ("night", "site"), [rarely("2027-03-15", "North"), ("2027-01-28", "North"), ("2027-03-27", "South")]
)
def test_a_moon_evening_holds_features_in_their_light(night, site, drafted):
    targets = drafted(night, site, "--kinds", "moon", "--count", "12")
    features = [target for target in targets if target["kind"] == "lunar feature"]
    assert len(targets) == 12
    assert len(features) >= 11
    for target in features:
        assert target["usable"], target["name"]
        assert target["verdict"]["word"] in ("easy", "fair"), target["name"]
        assert target["light"]["from"] < target["usable"][0][1]
    ends = [target["usable"][0][1] for target in targets if target["ends_by"] == "light"]
    assert ends == sorted(ends)


def test_a_draft_from_the_list_of_the_moon_leaves_out_what_is_dark(drafted):
    from nightmode.files.places import shipped

    listed = shipped("plans") / "lists" / "moon.toml"
    targets = drafted("2027-03-15", "North", "--from-list", listed, "--count", "8")
    assert len(targets) == 8
    assert all(target["usable"] and target["verdict"]["word"] in ("easy", "fair") for target in targets)
    assert "Copernicus" not in [target["name"] for target in targets]
