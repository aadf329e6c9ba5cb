"""Some 900 open clusters by their names in smaller catalogues: Berkeley 1, Ruprecht 18, Haffner 8."""

import re

from nightmode.catalog.deepsky import own_deepsky, own_row
from nightmode.catalog.names import designation_key, plain_key
from nightmode.catalog.searched import row_with_key
from nightmode.kinds import Kind
from nightmode.model.target import Fixed

#: How catalogues of clusters are written for short -> their names in the table.
_SHORT = {
    "alessi": "alessi", "bar": "barkhatova", "bas": "basel", "biur": "biurakan", "boch": "bochum",
    "cz": "czernik", "do": "dolidze", "dol": "dolidze", "dodz": "dol dzim", "dolidze dzim": "dol dzim",
    "dolidze dzimselejsvili": "dol dzim", "haf": "haffner", "loden": "loden", "lyn": "lynga",
    "lat": "latysev", "latyshev": "latysev", "may": "mayer", "pis": "pismis", "pi": "pismis",
    "ros": "roslund", "rosl": "roslund", "st": "stock", "tom": "tombaugh", "to": "tombaugh",
    "upg": "upgren", "vdbh": "bh", "van den bergh hagen": "bh", "westerlund": "westerlund",
    "wes": "westerlund",
}  # fmt: skip
_NUMBERED = re.compile(r"^(.+?) ?0*(\d{1,4})$")


def cluster_named(name: str) -> Fixed | None:
    """Return the open cluster of that name, with any usual way of writing its catalogue, or None."""
    key = cluster_key(name)
    row = row_with_key("open_clusters", key)
    if row:
        return own_row({**row, "kind": Kind.OPEN_CLUSTER})
    # "St 2" is written for short like the others, but Stock 2 stands among our own objects.
    return own_deepsky().get(designation_key(key) or key)


def cluster_key(name: str) -> str:
    """Return a name in the form of the table: "Haf 08" and "Haffner 8" are "haffner 8"."""
    if key := designation_key(name):
        return key.casefold()
    key = plain_key(name)
    numbered = _NUMBERED.match(key)
    return f"{_SHORT.get(numbered[1], numbered[1])} {numbered[2]}" if numbered else key
