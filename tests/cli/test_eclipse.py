"""An eclipse of the Moon is told wherever a night is told, and its light does not count in the umbra."""

import pytest

HEAD = """
[site]
name = "S"
latitude_deg = 48.2
longitude_deg = 16.4
timezone = "Europe/Vienna"
sky_brightness = 21.3
[telescope]
name = "t"
aperture_mm = 150
focal_length_mm = 750
[[eyepiece]]
name = "25 mm"
focal_length_mm = 25
"""
#: Total eclipse of 2028-12-31: greatest 16:52 UTC, total for 71 minutes (NASA's catalogue, from memory).
NIGHT = "2028-12-31"


def test_check_tells_an_eclipse_in_words_and_as_data(command, plan):
    path = plan(["M 31"], night=NIGHT, head=HEAD)
    assert "total eclipse of the Moon: in the umbra 16:08-19:37, total 17:16-18:28" in command("check", path)
    found = command.json("check", path)["moon"]["eclipse"]
    assert (found["kind"], found["greatest"][:16]) == ("total", "2028-12-31T16:52")
    assert "eclipse" not in command.json("check", plan(["M 31"], night="2028-12-24", head=HEAD))["moon"]


def test_nights_tells_an_eclipse_of_the_coming_nights(command, tmp_path):
    sites = HEAD.replace("[site]", "[[site]]").replace("[telescope]", "[[telescope]]")
    (tmp_path / "observer.toml").write_text(sites, encoding="utf-8")
    words = ("nights", "--from", "2028-12-28", "--days", "6", "--observer", tmp_path / "observer.toml")
    assert "31 Dec: total eclipse of the Moon" in " ".join(command(*words).split())
    told = {night["night"]: night.get("eclipse") for night in command.json(*words)["nights"]}
    assert told[NIGHT]["kind"] == "total"
    assert [night for night, eclipse in told.items() if eclipse] == [NIGHT]


@pytest.mark.parametrize("name", ["M 33"])
def test_in_the_umbra_the_moon_does_not_spoil_the_deep_sky(name, command, plan):
    path = plan([name], night=NIGHT, head=HEAD)
    margin = {
        at: command.json("check", path, "--at", at)["targets"][0]["verdict"]["margin_dex"]
        for at in ("18:20", "20:45")
    }
    assert margin["18:20"] > margin["20:45"] + 0.2
