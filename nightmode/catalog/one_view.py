"""Objects that are looked at together in one view."""

from functools import cache

from nightmode.catalog.tables import table


@cache
def _views_arcmin() -> dict[str, float]:
    return {row["name"]: float(row["view_arcmin"]) for row in table("one_view")}


def view_arcmin(name: str) -> float | None:
    """Return the width of the view that holds an object and its companions, None where it stands alone."""
    return _views_arcmin().get(name)
