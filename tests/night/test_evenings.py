"""Whole evenings against what observers would tell of them: the words that `check` has of them.

The tellings of the first table are those that the steps of the words, the few figures of
`visibility/margin` and `visibility/telling`, and `tellings.csv` were fitted to; it takes long. Those of the
second, of twelve instruments, and the third, lists laid before four observers, had no part in them but for
the levels of galaxies, globulars, planetaries and open clusters in `visibility/telling`, set with a view of
all.
"""

import datetime as dt
import tomllib
from pathlib import Path

import numpy as np
import pytest
import tomli_w

from nightmode.night.loading import load_night
from nightmode.night.verdict import words

REFERENCE = Path(__file__).parents[1] / "reference"
#: A word that says nothing is never right.
RANK = {"easy": 0, "fair": 1, "hard": 2, "out of reach": 3, "unknown": 9}
TOLD = "efho"
TABLES = (
    pytest.param("sights_evenings", marks=pytest.mark.long),
    "sights_evenings_apart",
    pytest.param("sights_lists", marks=pytest.mark.long),
)


def plan_of(kit: dict, night: dt.date, names: list[str]) -> str:
    """A plan that travels alone: site, instrument and targets in one file."""
    plan = {"title": "Evening", "night": night, "target": [{"name": name} for name in names]}
    where = {key: kit[key] for key in ("latitude_deg", "longitude_deg")}
    plan["site"] = {"name": "A", "timezone": "UTC", "sky_brightness": kit["sky"], **where}
    if "power" in kit:
        glass = {key: kit[key] for key in ("aperture_mm", "true_field_deg")}
        mounted = kit.get("mounted", False)
        return tomli_w.dumps(
            plan | {"binoculars": {"name": "B", "magnification": kit["power"], "mounted": mounted, **glass}}
        )
    lengths = ("aperture_mm", "focal_length_mm", "obstruction_mm")
    plan["telescope"] = {"name": "T", **{key: kit[key] for key in lengths if key in kit}}
    plan["eyepiece"] = [
        {"name": f"{length} mm", "focal_length_mm": length, "apparent_field_deg": kit["apparent_field_deg"]}
        for length in kit["eyepieces_mm"]
    ]
    plan["filter"] = [{"name": passband, "passband": passband} for passband in kit.get("filters", ())]
    plan["barlow"] = [{"name": "B", "factor": kit["barlow"]}] if "barlow" in kit else []
    return tomli_w.dumps(plan)


@pytest.fixture(scope="module", params=TABLES)
def judged(request, tmp_path_factory):
    """The table's check, and for each word told: the kit, the kind, and by how many words ours is harder."""
    (check,) = tomllib.loads((REFERENCE / f"{request.param}.toml").read_text(encoding="utf-8"))["check"]
    path, found = tmp_path_factory.mktemp("evening") / "plan.toml", []
    for evening in check["evening"]:
        kit, told = check["kits"][evening["kit"]], evening["told"]
        path.write_text(plan_of(kit, evening["night"], [name for name, _ in told]), encoding="utf-8")
        night = load_night(path, None, None, 0.0).night
        for target, word, (_, letters) in zip(night.targets, words(night), told, strict=True):
            ours, kind = RANK[word], target.subject.kind.value
            found += [(evening["kit"], kind, ours - TOLD.index(letter)) for letter in letters]
    return check["tolerance"], found


def harder(found, which=lambda kit, kind: True):
    return np.array([off for kit, kind, off in found if which(kit, kind)])


def test_most_targets_of_an_evening_get_the_word_that_observers_give(judged):
    tolerance, found = judged
    off = harder(found)
    assert off.size > 1800, "the table is read"
    assert np.mean(off == 0) >= tolerance["same"]
    assert np.mean(np.abs(off) <= 1) >= tolerance["within_one"]


def test_nebulae_of_an_evening_are_within_a_word_of_what_observers_tell(judged):
    tolerance, found = judged
    off = harder(found, lambda _, kind: kind.endswith(("nebula", "remnant")))
    assert np.mean(np.abs(off) <= 1) >= tolerance["nebulae_within_one"]


def test_words_of_an_evening_lean_to_neither_side_in_all_and_in_no_kit_by_much(judged):
    tolerance, found = judged
    assert abs(harder(found).mean()) <= tolerance["leaning"]
    for kit in {kit for kit, *_ in found}:
        leaning = harder(found, lambda one, _, kit=kit: one == kit).mean()
        assert abs(leaning) <= tolerance["leaning_of_a_kit"], kit
