"""What there is to see of pairs, features of the Moon and planets, as plain data."""

from typing import Any

from nightmode.model.sight import Pair


def pair_json(pair: Pair) -> dict[str, Any]:
    """Return a double star's figures; null for what is not known."""
    return {
        "separation_arcsec": round(pair.separation_arcsec, 2),
        "position_angle_deg": _rounded(pair.position_angle_deg, 1),
        "epoch": _rounded(pair.epoch_year, 1),
        "companion_clock": _rounded(pair.companion_clock, 1),
    }


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)
