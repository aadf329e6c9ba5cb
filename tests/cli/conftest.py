"""The real command in a folder of its own."""

import json

import pytest

from nightmode.cli.main import main


class Command:
    """Runs nightmode and keeps what it printed."""

    def __init__(self, capsys):
        self._capsys = capsys

    def __call__(self, *words, code=0):
        self._capsys.readouterr()
        got = main([str(word) for word in words])
        out, err = self._capsys.readouterr()
        assert got == code, (got, out, err)
        return out if code == 0 else err

    def json(self, *words):
        return json.loads(self(*words, "--json"))


@pytest.fixture
def command(capsys):
    return Command(capsys)


SITE_A = """
[site]
name = "A"
latitude_deg = 47.0
longitude_deg = 11.0
elevation_m = 900.0
timezone = "Europe/Vienna"
sky_brightness = 21.0
[telescope]
name = "150 mm reflector"
aperture_mm = 150
focal_length_mm = 750
[[eyepiece]]
name = "25 mm"
focal_length_mm = 25
apparent_field_deg = 50
[[eyepiece]]
name = "10 mm"
focal_length_mm = 10
apparent_field_deg = 60
"""


@pytest.fixture
def plan(tmp_path):
    """Return a function that writes a plan: its targets, the floor, more TOML before the targets."""

    def write(targets, minimum_deg=0, night="2026-12-12", head=SITE_A):
        rows = [
            f"[[target]]\nname = {json.dumps(name)}\nmin_altitude_deg = {minimum_deg}\n" for name in targets
        ]
        path = tmp_path / "plan.toml"
        path.write_text(f'title = "A plan"\nnight = {night}\n{head}\n' + "\n".join(rows), encoding="utf-8")
        return path

    return write
