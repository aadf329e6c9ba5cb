"""Between the catalogue's columns and single subjects, both ways."""

from collections.abc import Sequence

import numpy as np

from nightmode.catalog.columns import Columns
from nightmode.model.target import Fixed, fixed


def subject_at(columns: Columns, row: int, min_altitude_deg: float | None = None) -> Fixed:
    """Return one row of the catalogue's columns as a subject."""

    def given(column: np.ndarray) -> float | None:
        return None if np.isnan(column[row]) else float(column[row])

    return fixed(
        columns.kind[row],
        {
            "name": columns.name[row],
            "ra_deg": float(columns.ra_deg[row]),
            "dec_deg": float(columns.dec_deg[row]),
            "constellation": columns.constellation[row],
            "magnitude": given(columns.magnitude),
            "magnitude_band": "B" if columns.is_blue[row] else "V",
            "companion_magnitude": given(columns.companion_magnitude),
            "size_arcmin": given(columns.size_arcmin),
            "size_minor_arcmin": given(columns.size_minor_arcmin),
            "separation_arcsec": given(columns.separation_arcsec),
            "hubble_type": columns.hubble_type[row],
            "min_altitude_deg": min_altitude_deg,
        },
    )


def columns_of(subjects: Sequence[Fixed]) -> Columns:
    """Return fixed subjects as columns, for a list in the place of the whole catalogue."""

    def numbers(field: str) -> np.ndarray:
        return np.array([getattr(one, field, None) for one in subjects], dtype=float)

    return Columns(
        name=[one.name for one in subjects],
        kind=[one.kind for one in subjects],
        constellation=[one.constellation for one in subjects],
        hubble_type=[getattr(one, "hubble_type", "") for one in subjects],
        is_blue=np.array([one.magnitude_band == "B" for one in subjects], dtype=bool),
        ra_deg=numbers("ra_deg"),
        dec_deg=numbers("dec_deg"),
        magnitude=numbers("magnitude"),
        size_arcmin=numbers("size_arcmin"),
        size_minor_arcmin=numbers("size_minor_arcmin"),
        companion_magnitude=numbers("companion_magnitude"),
        separation_arcsec=numbers("separation_arcsec"),
    )
