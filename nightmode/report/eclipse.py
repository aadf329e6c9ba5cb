"""An eclipse of the Moon as plain data."""

from typing import Any

from nightmode.sky.eclipse import LunarEclipse
from nightmode.wording.figures import utc_iso


def eclipse_json(eclipse: LunarEclipse | None) -> dict[str, Any]:
    """Return an eclipse of the Moon under its key, or nothing where there is none."""
    if eclipse is None:
        return {}
    spans = {"umbra": eclipse.umbra, "total": eclipse.total}
    return {
        "eclipse": {
            "kind": eclipse.kind,
            "greatest": utc_iso(eclipse.greatest_s),
            "magnitude": round(eclipse.magnitude, 3),
            **{name: [utc_iso(at_s) for at_s in span] if span else None for name, span in spans.items()},
        }
    }
