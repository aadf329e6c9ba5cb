"""What there is to see of pairs, variable stars, features of the Moon and planets, as plain data."""

from collections.abc import Sequence
from typing import Any

from nightmode.model.sight import Moment, Pair
from nightmode.night.table import SkyTable
from nightmode.sky.globes import PlanetTonight
from nightmode.sky.selene import colongitude_deg
from nightmode.sky.varying import VariableTonight
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
    """Return the Moon's libration and colongitude at one instant."""
    face = night.face
    return {
        "libration_lon_deg": round(night.along(face.libration_lon_deg, at_s), 2),
        "libration_lat_deg": round(night.along(face.libration_lat_deg, at_s), 2),
        "colongitude_deg": round(colongitude_deg(night.along_circle(face.sun_lon_deg, at_s)), 2),
    }


def light_json(night: SkyTable, tonight: FeatureTonight, at_s: float) -> dict[str, Any]:
    """Return the Sun's height over a feature of the Moon at one instant, and its good light then or next."""
    begins, ends = tonight.light_at(at_s) or (None, None)
    return {
        "sun_altitude_deg": round(night.along(tonight.sun_deg, at_s), 2),
        "from": utc_iso(begins),
        "until": utc_iso(ends),
    }


def disc_json(tonight: PlanetTonight, at_s: float) -> dict[str, Any]:
    """Return a planet's disc at one instant; null for what a planet does not have.

    The meridian is a number for Mars, and an object by system of longitudes for Jupiter.
    """
    tilt = tonight.at(tonight.ring_tilt_deg, at_s)
    meridians = {system: round(tonight.meridian_deg(system, at_s), 1) for system in tonight.meridians_deg}
    return {
        "diameter_arcsec": round(tonight.at(tonight.diameter_arcsec, at_s), 2),
        "illuminated": round(tonight.at(tonight.illuminated, at_s), 3),
        "ring_tilt_deg": round(tilt, 2) if tonight.planet == "saturn" else None,
        "central_meridian_deg": meridians.get("", meridians or None),
    }


def variable_json(tonight: VariableTonight, at_s: float) -> dict[str, Any]:
    """Return the figures of a variable star and what is expected at one instant; null where not foreseen.

    next is the next minimum of an eclipsing star, else the next maximum, with its error in minutes.
    """
    star, next_s = tonight.star, tonight.next_instant(at_s)
    is_foreseen = next_s is not None and tonight.is_foreseen(next_s)
    return {
        "type": star.type,
        "brightest_mag": star.brightest_mag,
        "faintest_mag": star.faintest_mag,
        "period_days": star.period_d,
        "phase": _rounded(tonight.phase_at(at_s), 4),
        "expected_mag": round(tonight.magnitude_at(at_s), 2) if tonight.is_foreseen(at_s) else None,
        "next": utc_iso(next_s) if is_foreseen else None,
        "error_minutes": round(tonight.error_s(next_s) / 60.0)
        if next_s is not None and is_foreseen
        else None,
        "elements": star.source,
    }


def moments_json(moments: Sequence[Moment]) -> list[dict[str, Any]]:
    """Return the moments of a planet or a star while it can be observed, in order of time."""
    return [
        {
            "begins": utc_iso(moment.begins_s),
            "ends": utc_iso(moment.ends_s),
            "words": moment_text(moment),
            **_deepest(moment),
        }
        for moment in moments
    ]


def _deepest(moment: Moment) -> dict[str, Any]:
    """Return when a star in eclipse is faintest, with the error; an empty object for other moments."""
    if moment.deepest_s is None:
        return {}
    return {"faintest": utc_iso(moment.deepest_s), "error_minutes": round(moment.error_s / 60.0)}


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)
