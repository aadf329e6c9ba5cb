"""Makes a subject of a row of the catalogue's columns."""

from typing import Any

import numpy as np

from nightmode.arrays import known
from nightmode.catalog.columns import Columns
from nightmode.model.target import Fixed, fixed


def subject_at(columns: Columns, row: int, min_altitude_deg: float | None = None) -> Fixed:
    """Return one row of the catalogue's columns as a subject."""
    values = {field: _given(column[row]) for field, column in vars(columns).items() if field != "is_blue"}
    values |= {"magnitude_band": "B" if columns.is_blue[row] else "V", "min_altitude_deg": min_altitude_deg}
    return fixed(columns.kind[row], values)


def _given(cell: Any) -> Any:
    return known(float(cell)) if isinstance(cell, np.floating) else cell
