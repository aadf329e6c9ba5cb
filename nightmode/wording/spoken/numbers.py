"""Numbers as people say them, in British English."""

_ONES = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_ORDINALS = {
    "one": "first", "two": "second", "three": "third", "five": "fifth", "eight": "eighth", "nine": "ninth",
    "twelve": "twelfth",
}  # fmt: skip
_FRACTIONS = {
    "¼": ("a quarter", "a quarter of a"),
    "½": ("a half", "half a"),
    "¾": ("three quarters", "three quarters of a"),
    "⅓": ("a third", "a third of a"),
    "⅔": ("two thirds", "two thirds of a"),
}
FRACTIONS = "".join(_FRACTIONS)
#: Whole numbers with more digits than this are read digit by digit.
_MOST_DIGITS = 9


def cardinal(number: int) -> str:
    """Return a whole number from 0 on in words; from ten digits on, digit by digit."""
    if number < 20:
        return _ONES[number]
    if number < 100:
        tens, ones = divmod(number, 10)
        return _TENS[tens] + (f"-{_ONES[ones]}" if ones else "")
    if number < 1000:
        hundreds, rest = divmod(number, 100)
        return f"{_ONES[hundreds]} hundred" + (f" and {cardinal(rest)}" if rest else "")
    if number >= 10**_MOST_DIGITS:
        return digit_by_digit(str(number))
    size, word = (1_000_000, "million") if number >= 1_000_000 else (1000, "thousand")
    large, rest = divmod(number, size)
    joint = " and " if rest < 100 else " "
    return f"{cardinal(large)} {word}" + (f"{joint}{cardinal(rest)}" if rest else "")


def ordinal(number: int) -> str:
    """Return the ordinal of a whole number: "twenty-first"."""
    first, joint, last = cardinal(number).rpartition("-")
    if last in _ORDINALS:
        return f"{first}{joint}{_ORDINALS[last]}"
    return f"{first}{joint}{last[:-1]}ieth" if last.endswith("y") else f"{first}{joint}{last}th"


def digit_by_digit(digits: str) -> str:
    """Return every digit as a word."""
    return " ".join(_ONES[int(digit)] for digit in digits)


def number(text: str) -> str:
    """Return a written number in words: "-2.6", "4½", "20,000", "+12", "½"; any other text as it is.

    A fraction alone is "a half"; `share` makes "half a" for the place before a noun.
    """
    sign = {"-": "minus ", "+": "plus "}.get(text[:1], "")
    body = text.removeprefix(text[:1]) if sign else text
    body = body.replace(",", "")
    fraction = _FRACTIONS[body[-1]][0] if body[-1:] in _FRACTIONS else ""
    if fraction:
        body = body[:-1]
        return sign + (f"{_whole(body)} and {fraction}" if body else fraction)
    whole, point, decimals = body.partition(".")
    return sign + _whole(whole) + (f" point {digit_by_digit(decimals)}" if point else "")


def share(fraction: str) -> str:
    """Return a fraction for the place before a noun: "half a", "three quarters of a"."""
    return _FRACTIONS[fraction][1]


def is_one(text: str) -> bool:
    """Return whether a written number takes a noun in the singular."""
    return text.lstrip("+-") == "1"


def designation(digits: str) -> str:
    """Return a catalogue number as observers say it: "seventy-seven eighty-nine", "eight ninety-one".

    In pairs from the end, like years; with five digits or more, or a leading zero, digit by digit.
    """
    if len(digits) > 4 or digits.startswith("0"):
        return digit_by_digit(digits)
    if len(digits) < 3 or int(digits) % 1000 == 0:
        return cardinal(int(digits))
    first, last = int(digits[:-2]), int(digits[-2:])
    if last == 0:
        return f"{cardinal(first)} hundred"
    return f"{cardinal(first)} {_pair(last)}"


def year(digits: str) -> str:
    """Return a year of four digits: "twenty twenty-six", "two thousand and five", "nineteen hundred"."""
    value = int(digits)
    if 2000 <= value < 2010:
        return cardinal(value)
    return designation(digits)


def hour_and_minute(hour: int, minute: int) -> str:
    """Return a time on the 24-hour clock: "twenty-three oh five", "nine o'clock", "midnight"."""
    if hour == 0:
        if minute == 0:
            return "midnight"
        return f"{cardinal(minute)} minute{'' if minute == 1 else 's'} past midnight"
    return f"{cardinal(hour)} {_pair(minute)}" if minute else f"{cardinal(hour)} o'clock"


def _pair(value: int) -> str:
    return f"oh {_ONES[value]}" if value < 10 else cardinal(value)


def _whole(digits: str) -> str:
    if (len(digits) > 1 and digits.startswith("0")) or len(digits) > _MOST_DIGITS:
        return digit_by_digit(digits)
    return cardinal(int(digits))
