"""The whole catalogue as columns, for judging all of it at once."""

from collections.abc import Sequence
from functools import cache
from typing import Any

import numpy as np

from nightmode.catalog.corrections import corrections
from nightmode.catalog.database import all_rows
from nightmode.catalog.deepsky import constellation_of, own_deepsky, usual_name
from nightmode.catalog.kinds import KINDS
from nightmode.catalog.stars import stars
from nightmode.kinds import Kind, ShinesIn, usual_light
from nightmode.model.target import Double, Subject, shines_in
from nightmode.records import Record, field_names
from nightmode.sky.binary import of_year


class Columns(Record, eq=False):
    """N objects, a column each; numbers are float64 (N,) with NaN where nothing is published.

    name is a name that `resolve` knows. The columns are the fields of targets (`model.target`): J2000
    degrees; magnitude is V, or B where is_blue; sizes in arcmin; separation in arcsec.
    """

    name: list[str]
    kind: list[Kind]
    constellation: list[str]
    hubble_type: list[str]
    shines_in: list[ShinesIn]
    ra_deg: np.ndarray
    dec_deg: np.ndarray
    magnitude: np.ndarray
    is_blue: np.ndarray
    size_arcmin: np.ndarray
    size_minor_arcmin: np.ndarray
    half_light_arcmin: np.ndarray
    tenth_star_magnitude: np.ndarray
    surface_brightness_mag: np.ndarray
    opacity: np.ndarray
    told_dex: np.ndarray
    companion_magnitude: np.ndarray
    separation_arcsec: np.ndarray


_LISTS = {"name": "", "kind": Kind.ASTERISM, "constellation": "", "hubble_type": ""}
_NUMBERS = [name for name in field_names(Columns) if name not in {*_LISTS, "is_blue", "shines_in"}]


def all_objects(year: float | None = None) -> Columns:
    """Return every object of a known kind: OpenNGC without its stars and with our corrections, our own rows.

    Doubles with a known orbit are as they are in `year`, if one is given; else as they were measured.
    """
    pairs = {subject.name: subject for subject in stars().values() if isinstance(subject, Double)}
    doubles = {name: subject if year is None else of_year(subject, year) for name, subject in pairs.items()}
    own = {subject.name: subject for subject in own_deepsky().values()}
    return joined(_openngc(), columns_of([*own.values(), *doubles.values()]))


def joined(first: Columns, second: Columns) -> Columns:
    """Return the rows of first, then those of second."""
    return Columns(**{name: _joined(getattr(first, name), column) for name, column in vars(second).items()})


def columns_of(subjects: Sequence[Subject]) -> Columns:
    """Return subjects as columns; a field that their family does not have is empty or NaN."""
    lists: dict[str, Any] = {
        field: [getattr(subject, field, usual) for subject in subjects] for field, usual in _LISTS.items()
    }
    numbers: dict[str, Any] = {
        field: np.array([getattr(subject, field, None) for subject in subjects], dtype=float)
        for field in _NUMBERS
    }
    blue = np.array([getattr(subject, "magnitude_band", "") == "B" for subject in subjects], dtype=bool)
    return Columns(**lists, **numbers, is_blue=blue, shines_in=[shines_in(subject) for subject in subjects])


@cache
def _openngc() -> Columns:
    """Return the columns of OpenNGC, read once."""
    corrected = corrections()
    # Single stars once mistaken for nebulae are left out: there is nothing to see.
    kinds = {code for code, kind in KINDS.items() if kind is not Kind.STAR}
    rows = [row for row in all_rows() if row[1] in kinds or (row[0] in corrected and row[1] != "Dup")]
    keys, types, ra, dec, const, major, minor, b_mag, v_mag, hubble, messier = zip(*rows, strict=True)
    blue, visual = (np.array(magnitude, dtype=float) for magnitude in (b_mag, v_mag))
    is_blue = np.isnan(visual) & ~np.isnan(blue)
    count = len(rows)
    columns: dict[str, Any] = {
        **{field: np.full(count, np.nan) for field in _NUMBERS},
        "name": [f"M {int(m)}" if m else usual_name(key) for key, m in zip(keys, messier, strict=True)],
        "kind": [KINDS.get(type_, Kind.ASTERISM) for type_ in types],
        "constellation": [constellation_of(abbreviation) for abbreviation in const],
        "hubble_type": [hubble_type or "" for hubble_type in hubble],
        "shines_in": [None] * count,
        "ra_deg": np.degrees(np.array(ra, dtype=float)),
        "dec_deg": np.degrees(np.array(dec, dtype=float)),
        "magnitude": np.where(is_blue, blue, visual),
        "is_blue": is_blue,
        "size_arcmin": _sizes(major),
        "size_minor_arcmin": _sizes(minor),
    }
    for row, key in enumerate(keys):
        if key in corrected:
            _correct(columns, row, corrected[key])
    lights = zip(columns["shines_in"], columns["kind"], strict=True)
    columns["shines_in"] = [light or usual_light(kind) for light, kind in lights]
    return Columns(**columns)


def _sizes(cells: Sequence[float | None]) -> np.ndarray:
    """Return sizes; OpenNGC leaves an unknown size empty or writes zero."""
    return np.array([cell or None for cell in cells], dtype=float)


def _correct(columns: dict[str, Any], row: int, update: dict[str, Any]) -> None:
    for field, value in update.items():
        if field == "magnitude_band":
            columns["is_blue"][row] = value == "B"
        elif field in columns:
            columns[field][row] = value


def _joined(first: Any, second: Any) -> Any:
    return first + second if isinstance(first, list) else np.concatenate([first, second])
