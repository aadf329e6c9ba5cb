"""Reads the answers of `setup`: short texts in, checked values out. It asks no questions."""

import math
import re
from collections.abc import Callable, Sequence
from typing import Any, TypeVar, get_args

from pydantic import ValidationError

from nightmode.constants import COMPASS
from nightmode.errors import NightmodeError
from nightmode.model.base import Model
from nightmode.model.kit import (
    WIDEST_FIELD_DEG,
    Barlow,
    Binoculars,
    Eyepiece,
    Filter,
    Finder,
    Passband,
    View,
    Zoom,
)

M = TypeVar("M", bound=Model)

#: The apparent field of binoculars for which none is given, in degrees (common practice).
USUAL_APPARENT_DEG = 62.0
#: Other words for filters that everybody uses.
_FILTERS_CALLED = {
    "moon": "neutral",
    "grey": "neutral",
    "gray": "neutral",
    "nd": "neutral",
    "color": "colour",
}
_FILTER_NAMES = {"oiii": "O III filter", "hbeta": "H-beta filter"}
#: Bortle classes by the words of Bortle 2001 (Sky & Telescope, February, 126).
_SKIES = {"inner city": 9, "city": 8, "suburb": 5, "rural": 3}
#: How a number lies to a limit that it breaks, by the limit's name.
_LIMITS = {"ge": "less than", "gt": "not more than", "le": "more than", "lt": "not less than"}
#: Between both ends of a zoom; a sign at the beginning is none.
_ENDS = re.compile(r"(?<=\S)\s*[-–]\s*")
_INCH = {"1.25in": 1.25, "2in": 2.0, "2.0in": 2.0, "0.965in": 0.965}


def make(model: type[M], where: str, **values: Any) -> M:
    """Return a model of values; NightmodeError at `where` if one of them does not fit."""
    try:
        return model(**values)
    except ValidationError as error:
        from nightmode.model.explain import explain  # loaded only for an error

        told = explain(where, values, model, error)
        raise NightmodeError(where, _beyond(error.errors()[0]) or told.what, told.instead) from None


def _beyond(problem: Any) -> str:
    """Return which limit a number is beyond, empty for a problem of another sort."""
    for key, words in _LIMITS.items():
        if key in problem.get("ctx", {}):
            return f"{problem['input']:g} is {words} {problem['ctx'][key]:g}"
    return ""


def number(text: str, where: str, *units: str) -> float:
    """Return the number in text; one of `units` may follow it, and a decimal comma is read as a point."""
    bare = text.strip().lower()
    for unit in units:
        bare = bare.removesuffix(unit)
    try:
        return float(bare.strip().replace(",", "."))
    except ValueError:
        raise NightmodeError(where, f"{text.strip()!r} is not a number", "write digits like 12.5") from None


_BORTLE = re.compile(r"(?P<named>bortle)?(?:\s*(?:class|=|:))*\s*(?P<value>\S+)", re.IGNORECASE)


def darkness(text: str, where: str) -> dict[str, float | int]:
    """Return the figure for the sky's brightness, under the key that a site has for it.

    A whole number from 1 to 9, "Bortle" before it or not, is a Bortle class, and so are a few words; 14 to
    22.2 is a meter reading in mag/arcsec²; a number with "mag" the faintest star seen.
    """
    bare = text.strip().lower()
    if bare in _SKIES:
        return {"bortle": _SKIES[bare]}
    if bare.endswith("mag"):
        return {"naked_eye_limit_mag": number(text, where, "mag")}
    match = _BORTLE.fullmatch(bare.removesuffix("mag/arcsec²").removesuffix("mag/arcsec2").strip())
    try:
        value = number(match["value"], where) if match else math.nan
    except NightmodeError:
        value = math.nan
    if match and not match["named"] and value >= 14:
        return {"sky_brightness": value}
    if value.is_integer() and 1 <= value <= 9:
        return {"bortle": int(value)}
    raise NightmodeError(
        where,
        f"{text.strip()!r} is neither a Bortle class nor a meter reading",
        "write 1 to 9, or a reading like 20.8, or the faintest star like 5.5mag",
    )


_OPEN = re.compile(r"open\s+([^\s:-]+)\s*-\s*([^\s:-]+)(?:\s*:\s*(\S+))?", re.IGNORECASE)
#: How high the walls beside an open part are said to be, and the width of their edges, degrees.
_WALL_DEG, _EDGE_DEG = 89.0, 1.0


def horizon(text: str, where: str) -> tuple[tuple[float, float], ...]:
    """Return the horizon line (azimuth, altitude) in degrees from "azimuth:altitude" pairs.

    "none" is a flat horizon; "open NE-SW:10" or "open 45-225:10" one that is 10 degrees high between these
    directions, through east, and walled all round beside them, as seen from a balcony.
    """
    bare = text.strip()
    if bare.lower() == "none":
        return ()
    if match := _OPEN.fullmatch(bare):
        return _opening(_azimuth(match[1], where), _azimuth(match[2], where), number(match[3] or "0", where))
    points = []
    for pair in bare.replace(",", " ").split():
        azimuth, colon, altitude = pair.partition(":")
        if not colon:
            instead = "write pairs like 0:12 90:8 180:3, or from a balcony what is open, like open NE-SW"
            raise NightmodeError(where, f"{pair!r} is not azimuth:altitude", instead)
        points.append((_azimuth(azimuth, where), number(altitude, where, "°")))
    return tuple(sorted(points))


def _azimuth(text: str, where: str) -> float:
    point = text.strip().upper()
    return COMPASS.index(point) * 22.5 if point in COMPASS else number(text, where, "°")


def _opening(first_deg: float, last_deg: float, altitude_deg: float) -> tuple[tuple[float, float], ...]:
    edges = ((first_deg - _EDGE_DEG) % 360.0, (last_deg + _EDGE_DEG) % 360.0)
    walls = [(edge, _WALL_DEG) for edge in edges]
    return tuple(sorted([*walls, (first_deg, altitude_deg), (last_deg, altitude_deg)]))


def eyepiece(text: str, where: str) -> Eyepiece | Zoom:
    """Return an eyepiece from "25", "25/50", "25/50/2in" or "name=25/50", a zoom from "8-24/60-40"."""
    name, equals, figures = text.rpartition("=")
    parts = [part.strip().lower() for part in figures.split("/")]
    barrel = _INCH.get(parts[-1])
    sizes = parts if barrel is None else parts[:-1]
    try:
        lengths, fields = (
            [number(end, where, "mm", "°", "deg") for end in _ENDS.split(size)] for size in (*sizes, "50")[:2]
        )
    except NightmodeError:
        lengths, fields = [], []
    if not 1 <= len(sizes) <= 2 or not 1 <= len(fields) <= len(lengths) <= 2:
        instead = (
            "write its mm like 25, or with the apparent field 25/50, a zoom 8-24/60-40, several with commas"
        )
        raise NightmodeError(where, f"{text.strip()!r} is not an eyepiece", instead)
    lengths = sorted(lengths)
    called = name.strip() if equals else _usual_name(lengths)
    both = {"name": called, "barrel_in": barrel or 1.25}
    if len(lengths) == 1:
        return make(Eyepiece, where, focal_length_mm=lengths[0], apparent_field_deg=fields[0], **both)
    # Every zoom has its widest field at its shortest end.
    ends = max(fields), min(fields)
    return make(Zoom, where, focal_length_mm=tuple(lengths), apparent_field_deg=ends, **both)


def _usual_name(lengths_mm: Sequence[float]) -> str:
    figures = "-".join(f"{length:g}" for length in lengths_mm)
    return f"{figures} mm {'zoom' if len(lengths_mm) > 1 else 'eyepiece'}"


def barlow(text: str, where: str) -> Barlow:
    """Return a Barlow from its factor: "2", "2x", "2x Barlow" or "name=2"."""
    name, equals, factor = text.rpartition("=")
    factor = factor.strip().lower().removesuffix("barlow")
    value = number(factor, where, "x", "×")
    return make(Barlow, where, name=name.strip() if equals else f"{value:g}x Barlow", factor=value)


def filter_of(text: str, where: str) -> Filter:
    """Return a filter from its passband, or "name=passband"."""
    name, equals, band = text.rpartition("=")
    band = band.strip().lower().replace(" ", "").replace("-", "").removesuffix("filter")
    band = _FILTERS_CALLED.get(band, band)
    if band not in get_args(Passband):
        words = ", ".join(get_args(Passband))
        raise NightmodeError(where, f"{text.strip()!r} is not a kind of filter", f"write one of {words}")
    plain = _FILTER_NAMES.get(band, f"{band} filter")
    return make(Filter, where, name=name.strip() if equals else plain, passband=band)


def finder(text: str, where: str) -> Finder:
    """Return an optical finder from "8x50", "8x50/5.5" with its field in degrees, or "8x50/5.5 upright"."""
    figures, _, last = text.strip().rpartition(" ")
    seen = view(last, where) if figures and last.isalpha() else None
    text = figures if seen else text
    match = re.fullmatch(r"\s*([\d.]+)\s*[x×]\s*([\d.]+)\s*(?:/\s*([\d.]+))?\s*", text)
    if not match:
        raise NightmodeError(where, f"{text.strip()!r} is not a finder", "write power x aperture like 8x50")
    power, aperture, field = (number(part, where) if part else None for part in match.groups())
    name = f"{power:g}x{aperture:g} finder"
    return make(
        Finder,
        where,
        name=name,
        kind="optical",
        magnification=power,
        aperture_mm=aperture,
        field_deg=field,
        view=seen,
    )


def binoculars(text: str, where: str) -> Binoculars:
    """Return binoculars from "10x50", "10x50/6.5" (field in degrees), "10x50/6.5 mounted", "name=10x50".

    A zoom is "20-60x80/2.2-1.1", several powers are "20+40x80/2.2+1.3"; "one eye" is for a spotting scope.
    """
    name, equals, figures = text.rpartition("=")
    match = _BINOCULARS.fullmatch(figures)
    if not match:
        what = f"{text.strip()!r} is not a pair of binoculars"
        raise NightmodeError(where, what, "write power x aperture/field like 10x50/6.5 or 20-60x80/2.2-1.1")
    powers, aperture = _row_of_numbers(match["powers"], where), number(match["aperture"], where)
    usual = "-".join(f"{_usual_field_deg(power):.2f}" for power in powers)
    fields = tuple(round(field, 2) for field in _row_of_numbers(match["fields"] or usual, where))
    held, is_scope = (" mounted" if match["mounted"] else ""), match["one"] is not None
    sort = "spotting scope" if is_scope else "binoculars"
    key = "magnifications" if "+" in match["powers"] else "magnification"
    return make(
        Binoculars,
        where,
        name=name.strip() if equals else f"{match['powers']}x{aperture:g} {sort}{held}",
        aperture_mm=aperture,
        mounted=bool(match["mounted"]),
        eyes=1 if is_scope else 2,
        **{key: powers[0] if len(powers) == 1 else powers},
        true_field_deg=fields[0] if len(fields) == 1 else fields,
    )


_ROW = r"[\d.]+(?:\s*[-+]\s*[\d.]+)*"
_BINOCULARS = re.compile(
    rf"\s*(?P<powers>{_ROW})\s*[x×]\s*(?P<aperture>[\d.]+)\s*(?:/\s*(?P<fields>{_ROW})\s*°?)?"
    r"\s*(?P<mounted>mounted)?\s*(?P<one>one eye)?\s*",
    re.IGNORECASE,
)


def _usual_field_deg(power: float) -> float:
    """Return the true field of binoculars for which none is given; no power is too small to ask for one."""
    return USUAL_APPARENT_DEG / max(power, USUAL_APPARENT_DEG / WIDEST_FIELD_DEG)


def _row_of_numbers(text: str, where: str) -> tuple[float, ...]:
    return tuple(number(part, where) for part in re.split("[-+]", text))


def view(text: str, where: str) -> View:
    """Return how an instrument shows the field, from its word."""
    words = {view.value: view for view in View}
    if text.strip().lower() not in words:
        raise NightmodeError(where, f"{text.strip()!r} is not a view", f"write one of {', '.join(words)}")
    return words[text.strip().lower()]


def bullseye(text: str, where: str) -> Finder:
    """Return a bullseye sight from the diameters of its circles in degrees: "1 2.5 5"; "dot" has none."""
    if text.strip().lower() in ("dot", "red dot"):
        return make(Finder, where, name="red dot sight", kind="bullseye")
    rings = tuple(sorted(number(part, where) for part in text.replace(",", " ").split()))
    return make(Finder, where, name="bullseye sight", kind="bullseye", rings_deg=rings)


def several(text: str, where: str, read: Callable[[str, str], M]) -> tuple[Sequence[M], Sequence[M] | None]:
    """Return what to add and what to remove, from a list with commas; "-" before an item removes it.

    "none" says that there are none: what to remove is then None, which stands for all.
    """
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if "none" in (part.lower() for part in parts):
        if len(parts) > 1:
            raise NightmodeError(
                where, f"{text.strip()!r} is none and some", "write none alone, or leave it out"
            )
        return [], None
    add = [read(part, where) for part in parts if not part.startswith("-")]
    return add, [read(part[1:], where) for part in parts if part.startswith("-")]


def merged(
    existing: Sequence[M], add: Sequence[M], away: Sequence[M] | None, same: Callable[[M], Any]
) -> tuple[M, ...]:
    """Return existing without `away` (None: all); each of `add` replaces the same one or goes to the end."""
    gone = {same(part) for part in (existing if away is None else away)}
    fresh = {same(part): part for part in add}
    kept = [fresh.pop(same(part), part) for part in existing if same(part) not in gone or same(part) in fresh]
    return (*kept, *fresh.values())
