"""Some 3,000 stars that no other table has, by letter, number or name."""

from nightmode.catalog.lunar import lunar_features
from nightmode.catalog.searched import row_with_key
from nightmode.catalog.stars import star_key, stars
from nightmode.catalog.tables import star_values, words
from nightmode.kinds import Kind
from nightmode.model.target import Fixed, fixed


def bright_star(name: str) -> Fixed | None:
    """Return the star of that name ("12 CVn", "o Cet", "HIP 27989", "HD 39801", "Dschubba"), or None.

    A star that our tables of stars and doubles have under another name is returned as they have it. Names of
    features of the Moon are left to those: Copernicus is the crater.
    """
    key = star_key(name)
    row = None if key in lunar_features() else row_with_key("bright_stars", key)
    if row is None:
        return None
    names = (row["name"], *words(row["other_names"]))
    known = next((found for name in names if (found := stars().get(star_key(name)))), None)
    return known or fixed(Kind.STAR, star_values(row))
