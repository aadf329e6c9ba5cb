"""Makes text of the screen into text that a voice reads as people would say it.

The result holds only letters, digits, blanks and . , : ? ! ' - so that no voice says "slash" or leaves out a
sign.
"""

import re
import unicodedata
from collections.abc import Callable
from functools import lru_cache

from nightmode.wording.spoken import numbers
from nightmode.wording.spoken.catalogues import GIVE_BACK, KEPT, names_for_ear, spelt_letter

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
    "November", "December",
)  # fmt: skip
#: Points of the compass as the screen has them.
COMPASS = {"N": "north", "E": "east", "S": "south", "W": "west"}
#: The singular and plural of a unit, by the sign behind the number.
_UNITS = {
    "mag/arcsec2": ("magnitude per square arcsecond", "magnitudes per square arcsecond"),
    "°": ("degree", "degrees"),
    "°C": ("degree Celsius", "degrees Celsius"),
    "′": ("arcminute", "arcminutes"),
    "'": ("arcminute", "arcminutes"),
    "″": ("arcsecond", "arcseconds"),
    '"': ("arcsecond", "arcseconds"),
    "arcsec": ("arcsecond", "arcseconds"),
    "arcmin": ("arcminute", "arcminutes"),
    "deg": ("degree", "degrees"),
    "mag": ("magnitude", "magnitudes"),
    "mm": ("millimetre", "millimetres"),
    "cm": ("centimetre", "centimetres"),
    "km": ("kilometre", "kilometres"),
    "m": ("metre", "metres"),
    "h": ("hour", "hours"),
    "min": ("minute", "minutes"),
    "s": ("second", "seconds"),
    "%": ("percent", "percent"),
    "x": ("time", "times"),
    "×": ("time", "times"),
}
_WORDS = {
    "mag": "magnitude", "min": "minutes", "mm": "millimetres", "arcsec": "arcseconds", "arcmin": "arcminutes",
    "RA": "right ascension", "alt": "altitude", "az": "azimuth", "vs": "versus", "OIII": "O three",
    "Hβ": "H beta", "Hα": "H alpha", "NOT": "not", "SAVED": "saved", "STILL": "still", "THE": "the",
    "SUN": "Sun", "IS": "is", "UP": "up",
}  # fmt: skip
_SIGNS = {
    "&": " and ", "+": " plus ", "=": " equals ", "@": " at ", "#": " number ", "%": " percent ",
    "<": " less than ", ">": " more than ", "≤": " at most ", "≥": " at least ", "≈": " about ",
    "~": " about ", "±": " plus or minus ", "→": " to ", "×": " times ",
    "°": " degrees ", "′": " arcminutes ",
    "″": " arcseconds ", ";": ", ", "(": ", ", ")": ", ", "[": ", ", "]": ", ", "/": ", ", "|": ", ",
    "…": ". ", "–": ", ", "—": ", ",
}  # fmt: skip
_ROMAN = {"II": 2, "III": 3, "IV": 4, "VI": 6, "VII": 7, "VIII": 8, "IX": 9}
_ROMAN_ONE = {"I": 1, "V": 5}

_NUMBER = rf"(?:\d{{1,3}}(?:,\d{{3}})+|\d+)(?:\.\d+)?[{numbers.FRACTIONS}]?|[{numbers.FRACTIONS}]"
_UNIT = "|".join(sorted(map(re.escape, _UNITS), key=len, reverse=True))
_KEPT = frozenset(f"{numbers.FRACTIONS}′″°×…Σ")
#: Fractions as they are typed.
_TYPED = {"1/2": "½", "1/3": "⅓", "2/3": "⅔", "1/4": "¼", "3/4": "¾"}
#: Blanks of every width, minus signs and quotation marks, each written in one way.
_ONE_WAY = str.maketrans({
    "−": "-", "‐": "-", "‑": "-", "‒": "-", "’": "'", "‘": "'", "`": "'", "´": "'", "“": " ", "”": " ",
    "²": "2", "_": " ", "\u200b": " ",
})  # fmt: skip


def for_ear(text: str) -> str:
    """Return text as a voice should read it, "" if nothing in it can be spoken."""
    return _heard(text, _RULES)


def name_for_ear(text: str) -> str:
    """Return the name of a thing as people say it: "25 mm eyepiece" is "twenty-five millimetre eyepiece"."""
    return _heard(text, _NAME_RULES)


Rule = tuple[re.Pattern[str], Callable[[re.Match[str]], str]]


def _heard(text: str, rules: tuple[Rule, ...]) -> str:
    text = names_for_ear(_one_way(text))
    for pattern, said in rules:
        text = pattern.sub(said, text)
    return _tidied(text)


def _one_way(text: str) -> str:
    """Return text with one character for each meaning, all digits as 0 to 9, nothing invisible."""
    text = unicodedata.normalize("NFC", text.translate(_ONE_WAY))
    return "".join(character if " " <= character <= "~" else _in_one_way(character) for character in text)


@lru_cache(1000)
def _in_one_way(character: str) -> str:
    plain = character if character in _KEPT else unicodedata.normalize("NFKC", character)
    found = ""
    for sign in plain:
        category = unicodedata.category(sign)
        found += str(unicodedata.digit(sign)) if category == "Nd" else " " if category[0] in "CZ" else sign
    return found


def _date(found: re.Match[str]) -> str:
    return _day(int(found[2]), int(found[3]), found[1])


def _day(month: int, day: int, year: str | None) -> str:
    said = f" {numbers.year(year)}" if year else ""
    return f"the {numbers.ordinal(day)} of {MONTHS[month - 1]}{said}"


def _short_date(found: re.Match[str]) -> str:
    month = next(place for place, name in enumerate(MONTHS, start=1) if name[:3] == found[2])
    return _day(month, int(found[1]), found[3])


def _time(found: re.Match[str]) -> str:
    return numbers.hour_and_minute(int(found[1]), int(found[2]))


def _times(found: re.Match[str]) -> str:
    first, last = (numbers.hour_and_minute(int(found[at]), int(found[at + 1])) for at in (1, 3))
    return f"from {first} to {last}, "


def _hours(found: re.Match[str]) -> str:
    return f"{_with_unit(found[1], 'h')} {_with_unit(found[2].removeprefix('0'), 'min')}"


def _angle(found: re.Match[str]) -> str:
    return f"{_with_unit(found[1], '°')} {_with_unit(found[2].removeprefix('0'), '′')}"


def _with_unit(number: str, unit: str) -> str:
    if number in numbers.FRACTIONS:
        return f"{numbers.share(number)} {_UNITS[unit][0]}"
    return f"{numbers.number(number)} {_UNITS[unit][0 if numbers.is_one(number) else 1]}"


def _magnitude(found: re.Match[str]) -> str:
    return f"magnitude {numbers.number(found[1])} "


def _measured(found: re.Match[str]) -> str:
    number, unit = found[1].removesuffix(".0"), found[2]
    return f"{_with_unit('½' if (number, unit) == ('0.5', '°') else number, unit)} "


def _named(found: re.Match[str]) -> str:
    """Return a measure before a noun: "twenty-five millimetre eyepiece"."""
    unit = _UNITS[found[2]][1 if found[2] in "x×" else 0]
    return f"{numbers.number(found[1])} {unit} "


def _share(found: re.Match[str]) -> str:
    return f"{numbers.share(found[1])} "


def _plain_number(found: re.Match[str]) -> str:
    return f" {numbers.number(found[0])} "


def _compass(found: re.Match[str]) -> str:
    """Return a point of the compass: "north-north-west"."""
    return "-".join(COMPASS[letter] for letter in found[0])


def _rule(pattern: str, said: Callable[[re.Match[str]], str] | str) -> Rule:
    if isinstance(said, str):
        template = said
        return re.compile(pattern), lambda found: found.expand(template)
    return re.compile(pattern), said


_SHORT_MONTHS = "|".join(name[:3] for name in MONTHS)
_TIME = r"([01]?\d|2[0-3]):([0-5]\d)"
_DATES: tuple[Rule, ...] = (
    _rule(
        r"(?:(?<=\d) )?(?<![\w./-])(1/[234]|[23]/[34])(?![\d/])", lambda found: _TYPED.get(found[1], found[1])
    ),
    _rule(r"(?<![\d-])((?:1\d|2\d)\d\d)-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])(?![\d-])", _date),
    _rule(rf"(?<![\w.])([1-9]|[12]\d|3[01]) ({_SHORT_MONTHS})(?: ((?:19|20)\d\d))?(?!\w)", _short_date),
    _rule(rf"(?<![\d:]){_TIME}[-–]{_TIME}(?![\d:])", _times),
    _rule(rf"(?<![\d:]){_TIME}(?![\d:])", _time),
    _rule(r"(?<!\d)([+-]?\d+) ?h ?(\d\d(?:\.\d)?) ?m(?:in)?(?!\w)", _hours),
    _rule(r"(?<!\d)([+-]?\d+)° ?(\d\d)[′'](?![\w])", _angle),
    _rule(r"\(((?:19|20)\d\d)\)", lambda found: f", {numbers.year(found[1])}"),
)
_ADJECTIVE: tuple[Rule, ...] = (
    _rule(r"(?<!\w)(\d+(?:\.\d+)?) ?(mm|cm|m|x|×)(?= [^\W\d]|-)", _named),
)  # fmt: skip
_LAST: tuple[Rule, ...] = (
    _rule(r"(?<=\d) ?[x×] ?(?=\d)", " by "),
    _rule(r"(?<=\w) ?\.\. ?(?=\w)", " to "),
    _rule(r"(?<!\d)(\d+)\+(?!\d)", r"more than \1"),
    _rule(r"(?<!\w)f/ ?(?=\d)", "f "),
    _rule(r"(?<![\w.,])(\d{1,4})(?:st|nd|rd|th)(?!\w)", lambda found: numbers.ordinal(int(found[1]))),
    _rule(rf"(?<![\w.])([+-]?(?:{_NUMBER})) ?mag(?![\w/])(?! (?:brighter|fainter))", _magnitude),
    _rule(rf"(?<![\w.])([+-]?(?:{_NUMBER})) ?({_UNIT})(?![^\W\d_])", _measured),
    _rule(r"(?<![\w.])([¼½¾]) (?=[^\W\d])(?!of\b)", _share),
    _rule(r"(?<=\d)[-–](?=\d)", " to "),
    _rule(r"\bH-?([αβ])", lambda found: {"α": "H alpha", "β": "H beta"}[found[1]]),
    _rule(r"(?<!\w)O-?III(?!\w)", "O three"),
    _rule(r"(?<!\w)I to V(?!\w)", "one to five"),
    _rule(r"\b(seeing|Antoniadi|Leo|meridian|System) (I|V)(?!\w)", lambda f: f"{f[1]} {_roman(f[2])}"),
    _rule(rf"(?<!\w)({'|'.join(_ROMAN)})(?!\w)", lambda found: _roman(found[1])),
    _rule(r"(?<![\w/])mag/arcsec2(?!\w)", "magnitudes per square arcsecond"),
    _rule(r"(?<![^\W\d_])[^\W\d_]+\d+(?!\w)", lambda found: spelt_letter(found[0])),
    _rule(rf"(?<![\w.])[+-](?:{_NUMBER})|(?:{_NUMBER})", _plain_number),
    _rule(r"[^\W\d_]+", lambda found: _WORDS.get(found[0], found[0])),
)
_POINT = r"(?<![\w'.-])(?:[NS]{1,2}[EW]|[EW][NS][EW]|[NESW])(?![\w'])"
_POINTS: tuple[Rule, ...] = (
    _rule(rf"({_POINT}) (?={_POINT})", r"\1, "),
    _rule(rf"{_POINT}(?!\.\w)", _compass),
)
_RULES = (*_DATES, *_POINTS, *_LAST)
_NAME_RULES = (*_ADJECTIVE, *_LAST)


def _roman(numeral: str) -> str:
    return numbers.cardinal((_ROMAN | _ROMAN_ONE)[numeral])


#: The signs that may stay; every other sign is spoken as a word or left out.
_STOPS = ".,:?!"


def _tidied(text: str) -> str:
    """Return text with speakable characters alone, one blank between words, never two stops in a row."""
    text = "".join(
        _SIGNS.get(character, character if _is_said(character) else " ") for character in text
    ).translate(GIVE_BACK)
    text = re.sub(r"(?<![^\W_])['-]+|['-]+(?![^\W_])", " ", text)  # these two stay only inside words
    text = re.sub(rf"\s*([{_STOPS}])", r"\1", re.sub(r"\s+", " ", text))
    text = re.sub(rf"[,:{_STOPS}]*([.?!])[{_STOPS}]*", r"\1", text)
    text = re.sub(r"([,:])[,:]+", r"\1", text)
    text = re.sub(rf"([{_STOPS}])(?=[^\s{_STOPS}])", r"\1 ", text)
    return text.strip(" ,:'-").lstrip(f"{_STOPS} ")


def _is_said(character: str) -> bool:
    return character in f" '-0123456789{_STOPS}" or character.isalpha() or _is_mark(character)


def _is_mark(character: str) -> bool:
    return unicodedata.category(character)[0] == "M" or character in KEPT
