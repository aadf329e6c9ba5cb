"""Objects that many know: in Messier's or Caldwell's list, or with a name of their own. A measure of fame."""

import re
from functools import cache

from nightmode.catalog.database import caldwell
from nightmode.catalog.tables import table


@cache
def well_known() -> frozenset[str]:
    """Return the designations of objects with a name in words or a place in a famous list: "ngc457", "m1"."""
    named = {row["object"] for row in table("nicknames") if not any(map(str.isdigit, row["name"]))}
    messier = {f"m{number}" for number in range(1, 111)}
    plain = {re.sub(r"(?<=[a-z])0+", "", name.casefold()) for name in named | caldwell()}
    return frozenset(messier | plain)
