"""Transparency and dew in words."""

from nightmode.model.session import Dew


def air_text(transparency: int | None, dew: Dew | None) -> str:
    """Return a reading of the air: "transparency 4 of 5", "no dew", "heavy dew"; empty for none."""
    if transparency is not None:
        return f"transparency {transparency} of 5"
    if dew is not None:
        return "no dew" if dew == "none" else f"{dew} dew"
    return ""
