"""What there is to see of pairs, features of the Moon and planets, as plain data."""

from collections.abc import Sequence
from typing import Any

from nightmode.model.sight import Moment, Pair
from nightmode.night.table import SkyTable
from nightmode.sky.eclipse import LunarEclipse
from nightmode.sky.globes import PlanetTonight
from nightmode.sky.selene import colongitude_deg
from nightmode.visibility.relief import FeatureTonight
from nightmode.wording.figures import utc_iso
from nightmode.wording.planets import moment_text


def pair_json(pair: Pair) -> dict[str, Any]:
    """Return a double star's figures; null for what is not known."""
    return {
        "separation_arcsec": round(pair.separation_arcsec, 2),
        "position_angle_deg": _rounded(pair.position_angle_deg, 1),
        "epoch": _rounded(pair.epoch_year, 1),
        "companion_clock": _rounded(pair.companion_clock, 1),
    }


def face_json(night: SkyTable, at_s: float) -> dict[str, float]:
    """Return how the Moon is turned to the site and where the Sun rises on it, at one moment."""
    face = night.face
    return {
        "libration_lon_deg": round(night.along(face.libration_lon_deg, at_s), 2),
        "libration_lat_deg": round(night.along(face.libration_lat_deg, at_s), 2),
        "colongitude_deg": round(colongitude_deg(night.along_circle(face.sun_lon_deg, at_s)), 2),
    }


def eclipse_json(eclipse: LunarEclipse | None) -> dict[str, Any]:
    """Return an eclipse of the Moon under its key, or nothing where there is none."""
    if eclipse is None:
        return {}
    spans = {"umbra": eclipse.umbra, "total": eclipse.total}
    return {
        "eclipse": {
            "kind": eclipse.kind,
            "greatest": utc_iso(eclipse.greatest),
            "magnitude": round(eclipse.magnitude, 3),
            **{name: [utc_iso(at_s) for at_s in span] if span else None for name, span in spans.items()},
        }
    }


def light_json(night: SkyTable, tonight: FeatureTonight, at_s: float) -> dict[str, Any]:
    """Return the Sun over a feature of the Moon at one moment, and the stretch of good light then or next."""
    begins, ends = tonight.light_at(at_s) or (None, None)
    return {
        "sun_altitude_deg": round(night.along(tonight.sun_deg, at_s), 2),
        "from": utc_iso(begins),
        "until": utc_iso(ends),
    }


def disc_json(tonight: PlanetTonight, at_s: float) -> dict[str, Any]:
    """Return a planet's disc at one moment; null where a planet has no such thing.

    The meridian is a number for Mars, by system of longitudes for Jupiter.
    """
    tilt = tonight.at(tonight.ring_tilt_deg, at_s)
    meridians = {system: round(tonight.meridian_deg(system, at_s), 1) for system in tonight.meridians_deg}
    return {
        "diameter_arcsec": round(tonight.at(tonight.diameter_arcsec, at_s), 2),
        "illuminated": round(tonight.at(tonight.illuminated, at_s), 3),
        "ring_tilt_deg": round(tilt, 2) if tonight.planet == "saturn" else None,
        "central_meridian_deg": meridians.get("", meridians or None),
    }


def moments_json(moments: Sequence[Moment]) -> list[dict[str, Any]]:
    """Return what happens at a planet while it can be observed, in order."""
    return [
        {"begins": utc_iso(moment.begins), "ends": utc_iso(moment.ends), "words": moment_text(moment)}
        for moment in moments
    ]


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)
