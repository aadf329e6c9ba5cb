"""Nine suggestions in ten are such as an experienced friend nods at: at any telescope, any kind of object."""

import datetime as dt
import tomllib
from collections import defaultdict
from pathlib import Path

import pytest
from night.carried import kit_of

from nightmode.catalog.resolve import resolve
from nightmode.kinds import GROUP_OF, SINGLE, Kind
from nightmode.model.observer import Person
from nightmode.model.site import Site
from nightmode.model.target import Fixed, Target
from nightmode.night.circumstances import Circumstances
from nightmode.night.equipping import equip
from nightmode.night.opening import night_sky
from nightmode.sky.kernel import open_sky

FILE = Path(__file__).parents[1] / "reference" / "nods.toml"
KITS = tomllib.loads(FILE.read_text(encoding="utf-8"))["kit"]
#: New Moons of spring and autumn, and the right ascension that is highest at midnight, in degrees.
NIGHTS = {195: dt.date(2027, 4, 6), 17: dt.date(2026, 10, 10)}
#: Of ten suggestions the friend nods at nine (the claim of the documents).
NODS = 0.9


def season(subject):
    """The night on which a target is highest at midnight; for what moves, any."""
    if not isinstance(subject, Fixed):
        return NIGHTS[195]
    return NIGHTS[min(NIGHTS, key=lambda ra_deg: abs((subject.ra_deg - ra_deg + 180.0) % 360.0 - 180.0))]


def suggested(name):
    """Return what is suggested for the cases of a kit, with the kind of each."""
    given = KITS[name]
    kit = kit_of(name, given)
    site = Site(
        name="A", latitude_deg=given["latitude_deg"], longitude_deg=0, sky_brightness=given["sky_mag"]
    )
    by_night = defaultdict(list)
    for case in given["cases"]:
        subject = resolve(Target(name=case[0]))
        by_night[season(subject)].append((case, subject))
    for date, of_night in by_night.items():
        where = Circumstances(date, site, kit, Person())
        night = equip(night_sky(open_sky(), where, [subject for _, subject in of_night]), kit)
        for (case, subject), target in zip(of_night, night.targets, strict=True):
            yield case, group(subject.kind), target.look


def group(kind):
    if kind is Kind.CLUSTER_NEBULA:
        return "clusters"
    return "single stars" if kind in SINGLE else GROUP_OF[kind]


def power(given, combination):
    focal_mm, _, barlow = combination.partition("x")
    return given["focal_length_mm"] / float(focal_mm) * float(barlow or 1.0)


def nods():
    """Return for each case: kit, group of kinds, whether the eyepiece and whether the filter is nodded at."""
    for name, given in KITS.items():
        for (target, eyepieces, filters), kind, look in suggested(name):
            powers = [power(given, combination) for combination in eyepieces]
            eyepiece = any(look.combination.power == pytest.approx(one, rel=0.01) for one in powers)
            yield name, kind, target, eyepiece, (look.filter or "") in filters


def test_at_any_telescope_and_any_kind_of_object_the_friend_nods_nine_times_in_ten():
    found = list(nods())
    assert len(found) >= 500
    parts = defaultdict(list)
    for kit, kind, target, eyepiece, filter_ in found:
        for part in ("all", kit, kind):
            parts[part, "eyepiece"].append((eyepiece, kit, target))
            parts[part, "filter"].append((filter_, kit, target))
    odd = {part: [case for case in cases if not case[0]] for part, cases in parts.items()}
    poor = {part: odd[part] for part, cases in parts.items() if len(odd[part]) > (1.0 - NODS) * len(cases)}
    assert not poor
    assert len(odd["all", "eyepiece"]) <= 0.05 * len(found)
    assert len(odd["all", "filter"]) <= 0.05 * len(found)
