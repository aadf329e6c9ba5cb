"""Objects that have a name of their own in use: a small measure of fame."""

import re
from functools import cache

from nightmode.catalog.tables import table


@cache
def nicknamed() -> frozenset[str]:
    """Return the designations of objects with a name, in small letters without blanks: "ngc457"."""
    return frozenset(re.sub(r"(?<=[a-z])0+", "", row["object"].casefold()) for row in table("nicknames"))
