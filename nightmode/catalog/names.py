"""Names as people write them, brought to one form. Pure text work."""

import re
import unicodedata

_GREEK = (
    *("alpha", "beta", "gamma", "delta", "epsilon", "zeta", "eta", "theta", "iota", "kappa", "lambda", "mu"),
    *("nu", "xi", "omicron", "pi", "rho", "sigma", "tau", "upsilon", "phi", "chi", "psi", "omega"),
)
_GREEK_LETTERS = dict(zip("αβγδεζηθικλμνξοπρστυφχψω", _GREEK, strict=True)) | {"ς": "sigma"}
_SUPERSCRIPTS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹", "0123456789")

#: Catalogue prefixes as written -> (prefix in OpenNGC, digits of its numbers).
_PREFIXES = {
    "m": ("M", 3),
    "messier": ("M", 3),
    "ngc": ("NGC", 4),
    "n": ("NGC", 4),
    "ic": ("IC", 4),
    "i": ("IC", 4),
    "c": ("C", 3),
    "caldwell": ("C", 3),
    "b": ("B", 3),
    "barnard": ("B", 3),
    "mel": ("MEL", 3),
    "melotte": ("MEL", 3),
    "cr": ("CR", 3),
    "collinder": ("CR", 3),
    "tr": ("TR", 2),
    "trumpler": ("TR", 2),
    "stock": ("STOCK", 2),
    "hcg": ("HCG", 3),
    "hickson": ("HCG", 3),
    "sh2": ("SH2", 3),
    "sh 2": ("SH2", 3),
    "sharpless": ("SH2", 3),
    "sharpless 2": ("SH2", 3),
    "lbn": ("LBN", 3),
    "ugc": ("UGC", 5),
    "pgc": ("PGC", 6),
    "mwsc": ("MWSC", 4),
    "harvard": ("H", 2),
    "pal": ("PAL", 2),
    "palomar": ("PAL", 2),
    "ter": ("TERZAN", 2),
    "terzan": ("TERZAN", 2),
    "mrk": ("MRK", 2),
    "markarian": ("MRK", 2),
    "ldn": ("LDN", 4),
    "lynds": ("LDN", 4),
    "abell": ("ABELL", 2),
    "berkeley": ("BERKELEY", 2),
    "be": ("BERKELEY", 2),
    "berk": ("BERKELEY", 2),
    "king": ("KING", 2),
    "rup": ("RUP", 3),
    "ru": ("RUP", 3),
    "ruprecht": ("RUP", 3),
    "djorg": ("DJORG", 1),
    "djorgovski": ("DJORG", 1),
    "rcw": ("RCW", 3),
    "gum": ("GUM", 2),
    "g": ("G", 1),
}
#: How a prefix is written for people, where it is not the prefix in capitals.
_SHOWN = {
    "MEL": "Mel", "CR": "Cr", "CL": "Cr", "TR": "Tr", "STOCK": "Stock", "SH2": "Sh2", "H": "Harvard",
    "PAL": "Pal", "TERZAN": "Terzan", "ABELL": "Abell", "BERKELEY": "Berkeley",
}  # fmt: skip
_LARGEST = {"M": 110, "NGC": 7840, "IC": 5386, "C": 109}

_DESIGNATION = re.compile(
    # In "Sharpless 27" the 2 is of the number, in "Sharpless 2-7" it is the catalogue's.
    r"^(?P<prefix>"
    + "|".join(sorted(map(re.escape, _PREFIXES), key=len, reverse=True)).replace(r"\ 2", r"\ 2(?= )")
    + r")"
    r"[ \-_.]*0*(?P<number>\d{1,6})(?P<suffix>(?: ?[a-f]| ned ?\d\d| ?nw| ?se| ?n| ?s)?)$"
)
#: Designations whose numbers carry a sign or a dash: ESO field-object, MCG zone-field-object.
_ESO = re.compile(r"^\s*eso[ \-]*0*(\d{1,3})\s*-\s*[ig]*0*(\d{1,3})\s*$", re.IGNORECASE)
_MCG = re.compile(r"^\s*mcg\s*([+\-−])\s*0*(\d{1,2})-0*(\d{1,2})-0*(\d{1,3})\s*$", re.IGNORECASE)
_KEY = re.compile(r"^(?P<prefix>SH2|[A-Z]+|[A-Z][a-z]+)0*(?P<number>\d+)(?P<rest>.*)$")


#: What `plain_key` makes of the signs of ASCII.
_PLAIN_ASCII = str.maketrans("-_.,/", "     ", "'`") | {ord("&"): " and "}


def is_letter(word: str) -> bool:
    """Return whether a word is a Greek letter spelt out, with or without a number: "Theta1"."""
    return word.rstrip("0123456789").casefold() in _GREEK


def plain_key(name: str) -> str:
    """Return a name in one plain form: small letters, Greek spelt out, no accents, single blanks.

    A leading "the" and possessive marks go; "γ Andromedae", "Gamma Andromedae" and "gamma  andromedæ" are
    one.
    """
    if name.isascii():  # as nearly all are: what follows would change nothing else of them
        text = " ".join(name.lower().translate(_PLAIN_ASCII).split())
        while text.startswith("the "):
            text = text[4:]
        return text
    text = unicodedata.normalize("NFKD", name.translate(_SUPERSCRIPTS)).casefold()
    text = "".join(f" {_GREEK_LETTERS[letter]} " if letter in _GREEK_LETTERS else letter for letter in text)
    text = unicodedata.normalize("NFKD", text.replace("æ", "ae").replace("œ", "oe"))
    text = "".join(letter for letter in text if not unicodedata.combining(letter))
    text = re.sub(r"[’'`´]", "", text)
    text = re.sub(r"[‐-―−\-_.,/]+", " ", text.replace("&", " and "))
    text = re.sub(r"\s+", " ", text).strip()
    return re.sub(r"^(the )+", "", text)


def designation_key(name: str) -> str | None:
    """Return the OpenNGC key of a catalogue designation ("m13" -> "M013"), or None if it is none."""
    match = _DESIGNATION.match(plain_key(name))
    if not match:
        return _dashed_key(name)
    prefix, digits = _PREFIXES[match["prefix"]]
    suffix = match["suffix"].strip().upper()
    if suffix and prefix not in ("NGC", "IC"):
        return None
    if suffix.startswith("NED"):
        suffix = f" NED{suffix[3:].strip()}"
    return f"{prefix}{int(match['number']):0{digits}d}{suffix}"


def _dashed_key(name: str) -> str | None:
    if match := _ESO.match(name):
        return f"ESO{int(match[1]):03d}-{int(match[2]):03d}"
    if match := _MCG.match(name):
        sign = "+" if match[1] == "+" else "-"
        return f"MCG{sign}{int(match[2]):02d}-{int(match[3]):02d}-{int(match[4]):03d}"
    return None


def number_out_of_range(key: str) -> str | None:
    """Return what the numbers of a catalogue run to ("M numbers run from 1 to 110") if key lies outside."""
    match = _KEY.match(key)
    if not match or match["prefix"] not in _LARGEST:
        return None
    largest = _LARGEST[match["prefix"]]
    if 1 <= int(match["number"]) <= largest:
        return None
    return f"{match['prefix']} numbers run from 1 to {largest}"


def display_name(key: str) -> str:
    """Return an OpenNGC name or key as people write it: "NGC0224" -> "NGC 224", "Cl399" -> "Cr 399"."""
    for prefix in ("NGC", "IC"):
        # Most of the catalogue: without a search, since the whole of it is read for a draft.
        if key.startswith(prefix):
            return f"{prefix} {key[len(prefix) :].lstrip('0')}"
    match = _KEY.match(key)
    if not match:
        return key
    prefix = _SHOWN.get(match["prefix"].upper(), match["prefix"].upper())
    joint = "-" if prefix == "Sh2" else " "
    return f"{prefix}{joint}{match['number']}{match['rest']}"
