"""The whole catalogue as columns, for judging all of it at once."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from nightmode.catalog.database import all_rows
from nightmode.catalog.deepsky import constellation_of, corrections, own_deepsky, published
from nightmode.catalog.kinds import KINDS
from nightmode.catalog.names import shown
from nightmode.catalog.stars import stars
from nightmode.catalog.tables import number
from nightmode.model.kind import Kind
from nightmode.model.target import DeepSky, Double, Fixed

#: What becomes a row of the columns, in their order.
Row = tuple[Any, ...]


@dataclass(frozen=True, eq=False)
class Columns:
    """N objects, a column each; numbers are float64 (N,) with NaN where nothing is published.

    name is one that `resolve` finds again. J2000 degrees; magnitude is V, or B where is_blue; sizes in
    arcmin; separation in arcsec.
    """

    name: list[str]
    kind: list[Kind]
    constellation: list[str]
    hubble_type: list[str]
    ra_deg: np.ndarray
    dec_deg: np.ndarray
    magnitude: np.ndarray
    is_blue: np.ndarray
    size_arcmin: np.ndarray
    size_minor_arcmin: np.ndarray
    companion_magnitude: np.ndarray
    separation_arcsec: np.ndarray


def everything() -> Columns:
    """Return every object of a known kind: OpenNGC with our corrections, our deep-sky rows, our doubles."""
    rows = [row for raw in all_rows() if (row := _catalogued(raw)) is not None]
    doubles = {s.name: s for s in stars().values() if s.kind == Kind.DOUBLE}
    own = {s.name: s for s in own_deepsky().values()}
    rows += [_own(subject) for subject in (*own.values(), *doubles.values())]
    names, kinds, constellations, types, *numbers = zip(*rows, strict=True)
    ra, dec, magnitude, blue, major, minor, companion, separation = (
        np.array(column, dtype=float) for column in numbers
    )
    return Columns(
        list(names), list(kinds), list(constellations), list(types),
        ra, dec, magnitude, blue > 0, major, minor, companion, separation,
    )  # fmt: skip


def _catalogued(raw: Row) -> Row | None:
    name, type_, ra, dec, const, major, minor, b_mag, v_mag, hubble, messier = raw
    fix = corrections().get(name)
    kind = KINDS.get(type_)
    if type_ == "Dup" or (kind is None and fix is None):
        return None
    row = [
        f"M {int(messier)}" if messier else shown(name),
        kind,
        constellation_of(const),
        hubble or "",
        np.degrees(ra),
        np.degrees(dec),
        b_mag if v_mag is None else v_mag,
        v_mag is None and b_mag is not None,
        major or None,
        minor or None,
        None,
        None,
    ]
    return tuple(_fixed(row, fix) if fix else row)


def _fixed(row: list[Any], fix: dict[str, str]) -> list[Any]:
    row = list(row)
    if fix["kind"]:
        row[1] = Kind(fix["kind"])
    if fix["magnitude"]:
        row[6], row[7] = published(fix["magnitude"]), False
    if fix["hubble_type"]:
        row[3] = fix["hubble_type"]
    fields = {8: "size_arcmin", 9: "size_minor_arcmin", 10: "companion_magnitude", 11: "separation_arcsec"}
    for place, field in fields.items():
        if fix[field]:
            row[place] = number(fix[field])
    return row


def _own(subject: Fixed) -> Row:
    deep = subject if isinstance(subject, DeepSky) else None
    pair = subject if isinstance(subject, Double) else None
    return (
        subject.name,
        subject.kind,
        subject.constellation,
        deep.hubble_type if deep else "",
        subject.ra_deg,
        subject.dec_deg,
        subject.magnitude,
        False,
        deep.size_arcmin if deep else None,
        deep.size_minor_arcmin if deep else None,
        pair.companion_magnitude if pair else None,
        pair.separation_arcsec if pair else None,
    )
