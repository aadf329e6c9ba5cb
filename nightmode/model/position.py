"""Reads positions as people write them: in the sky (right ascension, declination, J2000), on the Moon."""

import re

from nightmode.errors import UnfitError

_SEXAGESIMAL = re.compile(
    r"""^\s*(?P<h>\d{1,2})\s*[h:\s]\s*(?P<m>\d{1,2}(?:\.\d+)?)\s*(?:[m:'′]?\s*(?:(?P<s>\d{1,2}(?:\.\d+)?)\s*[s"″]?)?)
        [\s,]*(?P<sign>[+\-−–])\s*(?P<d>\d{1,2})\s*(?:[d°º:\s]\s*(?P<dm>\d{1,2}(?:\.\d+)?)
        \s*(?:[m:'′]?\s*(?:(?P<ds>\d{1,2}(?:\.\d+)?)\s*(?:[s"″]|'')?)?))?[d°º]?\s*$""",
    re.VERBOSE | re.ASCII,
)
_DECIMAL = re.compile(
    r"^\s*(?P<ra>\d{1,3}(?:\.\d+)?)\s*[°d]?[\s,]+(?P<dec>[+\-−–]\s*\d{1,2}(?:\.\d+)?)\s*[°d]?\s*$", re.ASCII
)

_SELENOGRAPHIC = re.compile(
    r"^\s*(?P<lat>[+\-−–]\s*\d{1,2}(?:\.\d+)?)\s*°?[\s,]+(?P<lon>[+\-−–]\s*\d{1,3}(?:\.\d+)?)\s*°?\s*$",
    re.ASCII,
)

EXAMPLE = "23h57m24s +56d42m30s"
SELENOGRAPHIC_EXAMPLE = "+5.0 +23.7"


def parse_position(text: str) -> tuple[float, float]:
    """Return right ascension and declination in degrees from text.

    Read are hours, minutes, seconds with h m s, colons or blanks, and a signed declination with
    d or the degree sign, colons or blanks; seconds may be left out, the last part may have decimals;
    also two decimal degrees with a signed declination. ValueError if it is none of these.
    """
    if match := _DECIMAL.match(text):
        ra_deg = float(match["ra"])
        dec_deg = _signed(match["dec"])
    elif match := _SEXAGESIMAL.match(text):
        ra_deg = 15.0 * _sixtieths(match["h"], match["m"], match["s"])
        dec_deg = _sixtieths(match["d"], match["dm"], match["ds"])
        if match["sign"] != "+":
            dec_deg = -dec_deg
    else:
        raise UnfitError("is not a position", f"write it like {EXAMPLE}")
    if not 0 <= ra_deg < 360:
        raise UnfitError("has a right ascension outside 0h to 24h", "write it like " + EXAMPLE)
    if not -90 <= dec_deg <= 90:
        raise UnfitError("has a declination outside -90 to +90 degrees", "write it like " + EXAMPLE)
    return ra_deg, dec_deg


def parse_selenographic(text: str) -> tuple[float, float]:
    """Return latitude and longitude on the Moon in degrees (north and east positive) from text.

    Both carry their sign: "-43.3 -11.2" is Tycho. UnfitError if it is anything else.
    """
    match = _SELENOGRAPHIC.match(text)
    if not match:
        raise UnfitError(
            "is not a latitude and an east longitude on the Moon", f"write it like {SELENOGRAPHIC_EXAMPLE}"
        )
    latitude_deg, longitude_deg = (_signed(match[part]) for part in ("lat", "lon"))
    if abs(latitude_deg) > 90 or abs(longitude_deg) > 180:
        raise UnfitError(
            "lies outside -90 to +90 of latitude and -180 to +180 of longitude",
            f"write it like {SELENOGRAPHIC_EXAMPLE}",
        )
    return latitude_deg, longitude_deg


def _signed(text: str) -> float:
    return float(re.sub(r"[−–]", "-", text).replace(" ", ""))


def _sixtieths(whole: str, minutes: str | None, seconds: str | None) -> float:
    parts = [float(part or 0) for part in (minutes, seconds)]
    if any(part >= 60 for part in parts):
        raise UnfitError("has minutes or seconds of 60 or more", f"write it like {EXAMPLE}")
    return float(whole) + parts[0] / 60 + parts[1] / 3600
