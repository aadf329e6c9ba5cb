"""The text of observer.toml: every key with its value and half a line on what it means."""

import json
from typing import Any

from nightmode.model.base import Model
from nightmode.model.observer import Observer

HEAD = """\
# Who observes, where, and with what: read by every nightmode command.
# Plain TOML. Edit it by hand, or run `nightmode setup` again: it keeps what is here.
"""

#: What each key means, by table and key.
MEANING = {
    "observer": {
        "pupil_mm": "width of your dark-adapted pupil: about 7 when young, 5 at sixty",
        "experience": "1 is a practised eye at the very limit; larger asks for surer sightings",
        "min_altitude_deg": "below this nothing is offered, whatever the horizon",
        "seeing_arcsec": "usual steadiness of the air: 1 is excellent, 2 usual, 4 poor",
        "fist_deg": "width of your fist at arm's length: 8 to 12, measure it on two stars",
        "hours": "when you observe, local time; nights, draft and check judge by it",
        "site": "the site used where a plan names none",
        "telescope": "the telescope (or binoculars) used where a plan names none",
        "theme": "red theme of the screen",
        "red": "true: the day commands print in red as well",
        "dim_after_min": "the screen dims after so many minutes alone; 0 is never",
        "voice": "all: what happens by itself is spoken too; answers: only what you ask and do",
        "voice_words_per_min": "pace of the voice: 80 slow, 160 usual, 300 fast",
        "phrases": "keys 1 to 9 while observing",
        "before_dark": "checklist before dark",
        "packing_up": "checklist at the end of the night",
    },
    "site": {
        "latitude_deg": "north is positive",
        "longitude_deg": "east is positive",
        "elevation_m": "height above the sea",
        "timezone": "IANA name",
        "sky_brightness": "meter reading at the zenith, mag/arcsec2: 18 town, 21.5 dark country",
        "naked_eye_limit_mag": "faintest star seen overhead on a moonless night",
        "bortle": "1 is the darkest sky on Earth, 9 a city centre",
        "extinction": "light lost straight up, mag per airmass: 0.15 mountain, 0.25 plain, 0.35 haze",
        "horizon": "[azimuth, altitude] round the circle, degrees from north through east",
    },
    "telescope": {
        "obstruction_mm": "width of the secondary mirror in the way; 0 for a refractor",
        "transmission": "share of the light that mirrors and lenses pass on",
        "barrel_in": "width of the focuser: 1.25 or 2.0 inch",
        "view": "how it shows the field: upright, turned (by half a turn) or mirrored (left for right)",
    },
    "binoculars": {
        "true_field_deg": "width of the sky they show, degrees; 114 m at 1000 m is 6.5",
        "transmission": "share of the light that their prisms and lenses pass on",
        "mounted": "true on a tripod or the like, false in the hand",
    },
    "eyepiece": {
        "apparent_field_deg": "printed on most; 50 where it is not",
        "field_stop_mm": "where the maker states it: gives the truer field",
        "barrel_in": "1.25 or 2.0 inch",
    },
    "barlow": {"factor": "multiplies the power"},
    "filter": {"passband": "narrowband, oiii, hbeta, broadband, neutral or colour"},
    "finder": {
        "kind": "optical, or bullseye for a sight with circles",
        "rings_deg": "diameters of the circles, degrees",
        "view": "how it shows the field: upright, turned or mirrored",
    },
}

#: Written as a remark if nothing is given, so that the observer can find it.
OFFERED = {"site": {"horizon": "# horizon = [[0, 12], [90, 8], [180, 3], [270, 10]]"}}
_POINTS_A_LINE = 6


def observer_text(observer: Observer) -> str:
    """Return observer.toml for an observer, with comments; reading it back gives the same observer."""
    parts = [HEAD, table_text("[observer]", "observer", observer.observer)]
    for name in ("site", "telescope", "binoculars", "eyepiece", "barlow", "filter", "finder"):
        parts += [table_text(f"[[{name}]]", name, row) for row in getattr(observer, name)]
    return "\n".join(parts)


def table_text(heading: str, table: str, model: Model) -> str:
    """Return one table of a TOML file under its heading, with the meaning of each key beside it."""
    lines = [heading]
    meanings, offered = MEANING[table], OFFERED.get(table, {})
    for key in type(model).model_fields:
        value, meaning = getattr(model, key), meanings.get(key, "")
        if value is None or (value == () and not type(model).model_fields[key].default):
            lines += [f"{offered[key]}    # {meaning}"] if key in offered else []
        elif isinstance(value, tuple):
            lines += [f"# {meaning}:"] if meaning else []
            lines += value_lines(key, value)
        else:
            line = f"{key} = {toml_value(value)}"
            lines.append(f"{line:<34}# {meaning}" if meaning else line)
    return "\n".join(lines) + "\n"


def value_lines(key: str, value: Any, multiline: bool = True) -> list[str]:
    """Return the lines of a key and its value; with multiline an array takes several lines."""
    if not multiline or not isinstance(value, tuple) or not value:
        return [f"{key} = {toml_value(value)}"]
    return _array(key, value)


def _array(key: str, values: tuple[Any, ...]) -> list[str]:
    step = 1 if isinstance(values[0], str) else _POINTS_A_LINE
    rows = [values[start : start + step] for start in range(0, len(values), step)]
    return [f"{key} = [", *("  " + ", ".join(map(toml_value, row)) + "," for row in rows), "]"]


def toml_value(value: Any) -> str:
    """Return a text, number, truth value or row of numbers as TOML 1.0 writes it."""
    if isinstance(value, tuple):
        return "[" + ", ".join(map(toml_value, value)) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return repr(value)
    # A JSON string is also a TOML string, except for DEL, which models refuse in any text.
    return json.dumps(value, ensure_ascii=False)
