"""Queries of `nightmode draft` as a user types them; place and kit are invented."""

import re

import pytest

from nightmode.files.toml import read_toml
from nightmode.model.plan import Plan
from nightmode.night.loading import load_night

OBSERVER = """
[[site]]
name = "Hill"
latitude_deg = 46.0
longitude_deg = 10.0
timezone = "Europe/Rome"
sky_brightness = 21.3
[[telescope]]
name = "250 mm"
aperture_mm = 250
focal_length_mm = 1250
obstruction_mm = 60
[[eyepiece]]
name = "20 mm"
focal_length_mm = 20
"""


@pytest.fixture
def draft(command, tmp_path):
    (tmp_path / "observer.toml").write_text(OBSERVER)

    def run(*words, code=0):
        out = tmp_path / "plan.toml"
        told = command(
            "draft", "--observer", tmp_path / "observer.toml", "--night", "2027-04-05",
            *words, "-o", out, "--force", code=code,
        )  # fmt: skip
        return told if code else (out, read_toml(out, Plan), told)

    return run


def test_queries_work_together_with_kinds_hours_and_difficulty(draft):
    path, plan, _ = draft(
        "--in", "Vir,Com", "--brighter", "10.5", "--kinds", "galaxies", "--hours", "22:00-00:30",
        "--count", "8", "--not-below", "40", "--difficulty", "hard",
    )  # fmt: skip
    head = " ".join(line.strip("# ") for line in path.read_text().splitlines()[:4])
    assert "in Com, Vir; brighter than 10.5; not below 40°" in head
    night = load_night(path, path.parent / "observer.toml", None, 0.0).night
    assert len(plan.target) >= 4
    for row, target in enumerate(night.targets):
        assert target.subject.constellation in {"Vir", "Com"}
        assert target.subject.kind.value == "galaxy"
        assert target.subject.magnitude <= 10.5
        assert night.altitude_deg[row].max() >= 40
    heights = [int(one) for one in re.findall(r"# galaxy in .* at (\d+)°", path.read_text())]
    assert min(heights) >= 40


def test_a_query_leaves_the_solar_system_out_and_says_why(draft):
    _, plan, told = draft("--near", "M 87", "6", "--count", "6", "--why", "M 3", "--why", "Jupiter")
    assert not {"Moon", "Jupiter"} & {target.name for target in plan.target}
    assert re.search(r"M 3: is \d+\.\d° from M 87\.", told)
    assert "Jupiter: is no object of the catalogue" in told


def test_nothing_that_answers_is_said_in_a_sentence(draft):
    assert "nothing fits these hours and wishes" in draft("--in", "Vir", "--larger", "300", code=2)
