"""Double stars by any of their names: those of `stars`, and some 1,900 more."""

import re
from collections.abc import Mapping

from nightmode.catalog.bright import bright_star
from nightmode.catalog.searched import COMPONENTS, row_with_component, row_with_key
from nightmode.catalog.stars import orbit_in, star_key, star_subject
from nightmode.catalog.tables import pair_values, star_values
from nightmode.kinds import Kind
from nightmode.model.target import Double, Fixed

#: A name and the letters of components: "Gamma Andromedae BC", "STF 1196 AB,C".
_COMPONENTS = re.compile(rf"^(.+?) ({COMPONENTS})$")
#: Components that are the whole of a pair, or one of its stars: of three stars the near two are one.
_THE_PAIR = frozenset({"a", "b", "ab", "abc", "a bc", "ab c"})


def pair_named(name: str) -> Double | None:
    """Return the double star of that name ("Eta CrB", "STF 1937", "Gamma Andromedae BC"), or None.

    Only those that the tables of stars and showpieces do not have.
    """
    key = star_key(name)
    row = row_with_key("pairs", key)
    if row is None and (parted := _COMPONENTS.match(key)):
        components = "ab" if parted[2] == "b" else parted[2]
        row = row_with_key("pairs", f"{star_key(parted[1])} {components}")
    return None if row is None else _double(row)


def beside(star: Fixed) -> Double | None:
    """Return a star with the companion that its name does not mean, under the pair's own name, or None."""
    keys = map(star_key, (star.name, *star.other_names))
    row = next((found for key in keys if (found := row_with_component("pairs", key))), None)
    return None if row is None else _double(row)


def _double(row: Mapping[str, str]) -> Double:
    orbit = orbit_in(row) if row["period_years"] else None
    values = star_values(row) | pair_values(row)
    return Double(kind=Kind.DOUBLE, orbit=orbit, **values)


def known_star(name: str) -> Fixed | None:
    """Return a star or double star by its own name, from whichever table has it, or None."""
    return star_subject(name) or pair_named(name) or bright_star(name)


def pair_of(name: str) -> Fixed | None:
    """Return the double star of which a name is one of the stars or the two together, or None.

    "Sirius B", "Gamma Andromedae AB": whoever looks for the companion looks at the pair.
    """
    parted = _COMPONENTS.match(star_key(name))
    if not parted or parted[2] not in _THE_PAIR:
        return None
    found = known_star(parted[1])
    return found if found is not None and found.kind is Kind.DOUBLE else None
