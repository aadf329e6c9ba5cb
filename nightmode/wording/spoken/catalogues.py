"""Names of the sky for the ear: catalogue numbers, letters and numbers of stars, constellations, comets."""

import re
from functools import cache

from nightmode.catalog.names import is_letter
from nightmode.catalog.stars import constellations
from nightmode.wording.spoken.numbers import cardinal, designation, year

#: Digits and single letters that later rules must not change: each becomes a private-use character meanwhile.
_KEEP = {ord(character): 0xE000 + ord(character) for character in "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"}
GIVE_BACK = {kept: chr(character) for character, kept in _KEEP.items()}
KEPT = frozenset(map(chr, GIVE_BACK))
#: How the prefixes of catalogues are spoken; below, those that are spelt letter by letter.
_SAID = {
    "B": "Barnard", "C": "Caldwell", "Mel": "Melotte", "Cr": "Collinder", "Tr": "Trumpler",
    "Sh2": "Sharpless two", "HCG": "Hickson", "PAL": "Palomar", "TERZAN": "Terzan", "MRK": "Markarian",
    "ABELL": "Abell", "Abell": "Abell", "STF": "Struve", "Struve": "Struve", "STT": "Otto Struve",
    "STFA": "Struve", "STTA": "Otto Struve", "DUN": "Dunlop", "BU": "Burnham", "HJ": "Herschel",
    "HU": "Hussey", "KUI": "Kuiper", "FIN": "Finsen", "RST": "Rossiter", "RMK": "Rumker",
    "SHJ": "South and Herschel", "Innes": "Innes", "Stock": "Stock", "Σ": "Struve", "OΣ": "Otto Struve",
    "ΟΣ": "Otto Struve",
}  # fmt: skip
_SPELT = ("NGC", "IC", "LBN", "LDN", "UGC", "PGC", "MWSC", "HIP", "HD", "HR", "SAO")
_LETTERS = (
    "alpha beta gamma delta epsilon zeta eta theta iota kappa lambda mu nu xi omicron pi rho sigma tau "
    "upsilon phi chi psi omega"
)
GREEK = dict(zip("αβγδεζηθικλμνξοπρστυφχψω", _LETTERS.split(), strict=True))
_PREFIXES = "|".join(sorted(map(re.escape, (*_SAID, *_SPELT)), key=len, reverse=True))
_CATALOGUE = re.compile(rf"(?<!\w)({_PREFIXES})[ -]?(\d{{1,6}})(?!\d|[.:]\d)")
_MESSIER = re.compile(r"(?<!\w)M ?(\d{1,3})(?!\d|[.:]\d)")
_FIELD = re.compile(r"(?<!\w)(ESO|MCG) ?([+-]?\d+(?:-\d+)+)(?!\d)")
_COMET = re.compile(r"(?<!\w)([CPDXAI])/(\d{4}) ([A-Z]{1,2})(\d{0,3})(?!\w)")
_MINOR_PLANET = re.compile(r"(?<!\S)\((\d{1,6})\)(?= [A-Z])")
_PERIODIC = re.compile(r"(?<!\w)(\d{1,3})([PDI])(?:/|(?!\w))")


def names_for_ear(text: str) -> str:
    """Return text with the names of objects and stars as they are spoken; the rest is not changed.

    Numbers of Messier stay digits. Those digits, and letters to be spelt, are private-use characters in what
    is returned, so that later rules leave them alone; `GIVE_BACK` turns them back.
    """
    text = _MESSIER.sub(lambda found: f"M {found[1]}".translate(_KEEP), text)
    text = _CATALOGUE.sub(_catalogued, text)
    text = _FIELD.sub(_field_number, text)
    text = _COMET.sub(_comet, text)
    text = _MINOR_PLANET.sub(lambda found: cardinal(int(found[1])), text)
    text = _PERIODIC.sub(lambda found: f"{cardinal(int(found[1]))} {_spelt(found[2])}, ", text)
    return _stars(text)


def constellation_name(abbreviation: str) -> str:
    """Return the full name of a constellation by its IAU abbreviation; any other text as it is."""
    return constellations().get(abbreviation, (abbreviation, ""))[0]


def _spelt(letters: str) -> str:
    """Return letters to be spelt one by one, safe from later rules; so that a leading A is no article."""
    return ("-" if letters.startswith("A") else " ").join(letters).translate(_KEEP)


def _catalogued(found: re.Match[str]) -> str:
    prefix = _SAID.get(found[1]) or _spelt(found[1])
    return f"{prefix} {designation(found[2].lstrip('0') or '0')}"


def _field_number(found: re.Match[str]) -> str:
    spelt = _spelt(found[1])
    parts = [designation(part.lstrip("0") or "0") for part in re.findall(r"\d+", found[2])]
    sign = {"-": " minus", "+": " plus"}.get(found[2][0], "")
    return f"{spelt}{sign} {', '.join(parts)}"


def _comet(found: re.Match[str]) -> str:
    number = f"-{cardinal(int(found[4]))}" if found[4] else ""
    return f"{_spelt(found[1])} {year(found[2])} {_spelt(found[3])}{number}"


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str], re.Pattern[str]]:
    """Return two patterns: for stars by letter or number, and for constellations after "in"."""
    short = "|".join(constellations())
    letters = "".join(GREEK)
    latin = r"[A-Zb-hj-z]|[A-IK-Z]{2}|V\d{3,4}"
    by_letter = rf"(?<![\w'])(?:([{letters}])(\d?) ?|({latin}) )({short})(?!\w)"
    by_number = rf"(?<![\w.])(\d{{1,3}}) ({short.replace('Oct|', '')})(?!\w)"
    inside = rf"(?<!\w)in ({short})(?!\w)"
    return re.compile(by_letter), re.compile(by_number), re.compile(inside)


def _stars(text: str) -> str:
    """Return text with stars as "Mu Andromedae", and the constellations after "in" by their full names."""
    by_letter, by_number, inside = _patterns()
    text = by_letter.sub(_lettered, text)
    text = by_number.sub(lambda found: f"{cardinal(int(found[1]))} {_genitive(found[2])}", text)
    text = inside.sub(lambda found: f"in {constellation_name(found[1])}", text)
    return _GREEK_ALONE.sub(lambda found: GREEK[found[1]] + _number_after(found[2]), text)


_GREEK_ALONE = re.compile(rf"(?<!\w)([{''.join(GREEK)}])(\d?)(?!\w)")


def _lettered(found: re.Match[str]) -> str:
    greek, number, latin, short = found.groups()
    if greek:
        return f"{GREEK[greek].capitalize()}{_number_after(number)} {_genitive(short)}"
    if short in _WORDS and (latin in _SMALL_WORDS or latin.islower()):
        return found[0]
    return f"{_variable(latin)} {_genitive(short)}"


#: Abbreviations that are English words too, and capitals before such a word that do not name a star.
_WORDS = frozenset({"And", "Ant", "Car", "Com", "For", "Her", "Leo", "Men", "Nor", "Per", "Sex"})
_SMALL_WORDS = frozenset(
    {"I", "A", "IT", "IS", "AS", "AT", "NO", "SO", "OR", "ON", "OF", "TO", "NE", "SE", "NW"}
)


def _variable(letters: str) -> str:
    if letters[0] == "V" and letters[1:].isdigit():
        return f"{_spelt('V')} {designation(letters[1:])}"
    return _spelt(letters)


def _number_after(digit: str) -> str:
    return f" {cardinal(int(digit))}" if digit else ""


def _genitive(short: str) -> str:
    return constellations()[short][1]


def spelt_letter(word: str) -> str:
    """Return "Alpha one" for "Alpha1", a Greek letter with its number; any other word as it is."""
    digits = re.search(r"\d+$", word)
    if digits and is_letter(word):
        return f"{word[: digits.start()]} {cardinal(int(digits[0]))}"
    return word
