"""Elements of comets and minor planets from the Minor Planet Center's one-line formats.

Columns: "Export Format for Comet Orbits" (the Ephemerides and Orbital Elements form) and "Export Format for
Minor-Planet Orbits", Minor Planet Center. The observer fetches such a file by day; nothing is fetched here.
"""

import contextlib
import datetime as dt
import math
import re
from collections.abc import Iterator

from nightmode.catalog.names import plain_key
from nightmode.errors import NightmodeError
from nightmode.model.elements import Elements
from nightmode.records import Record

#: The magnitude's factor of a comet where the file gives none: 2.5 x 4 = 10, the usual law.
USUAL_COMET_SLOPE = 4.0
USUAL_MINOR_SLOPE = 0.15
#: Mean daily motion in degrees of a body 1 au from the Sun, from Gauss' constant.
_DAILY_DEG = math.degrees(0.01720209895)
_COMET = re.compile(r"^.{4}[CPDXAI].{9}\s*\d{4} [ \d]\d [ \d]\d\.\d", re.ASCII)
_MINOR = re.compile(r"^\S.{6} .{5} .{5} [IJKL]\d{2}[1-9A-C][1-9A-V] ", re.ASCII)
_NUMBERED = re.compile(r"^\((?P<number>\d+)\)\s*(?P<name>.*)$")
_COMET_NAME = re.compile(r"^(?P<designation>[^(]*?)\s*(?:\((?P<name>[^)]*)\))?$")


class ElementsFile(Record):
    """The text of a file of elements; where is its name in errors."""

    where: str
    text: str

    def find(self, name: str) -> Elements | None:
        """Return the elements of a comet or minor planet by any of its names, or None if it is not there.

        Names are compared without case and blanks: "C/2027 A1", "12P", "Ceres", "1 Ceres". NightmodeError if
        the line of that body cannot be read, or if no line of the file holds elements.
        """
        wanted, any_line = plain_key(name), False
        for number, line in enumerate(self.text.splitlines(), start=1):
            found = _names_of(line)
            any_line = any_line or bool(found)
            if wanted in {plain_key(known) for known in found}:
                return _read(f"{self.where}, line {number}", line, found[0])
        if not any_line:
            instead = "fetch comets or minor planets in the one-line format of the Minor Planet Center"
            raise NightmodeError(self.where, "holds no line of elements", instead)
        return None

    def all(self) -> list[Elements]:
        """Return the elements of every body of the file; a line that cannot be read is passed over."""
        found = []
        for line in self.text.splitlines():
            if names := _names_of(line):
                with contextlib.suppress(NightmodeError):
                    found.append(_read("", line, names[0]))
        return found


def _names_of(line: str) -> tuple[str, ...]:
    """Return the names that a line of elements gives, the usual one first; none for another line."""
    if _COMET.match(line):
        return tuple(_comet_names(line[102:158].strip()))
    if _MINOR.match(line):
        return tuple(_minor_names(line[166:194].strip() or line[:7].strip()))
    return ()


def _comet_names(text: str) -> Iterator[str]:
    match = _COMET_NAME.match(text)
    yield text
    if match is None or not text:
        return
    designation, name = match["designation"], match["name"]
    if "/" in designation and designation[0].isdigit():  # 12P/Somebody: the number is enough
        yield designation.split("/")[0]
        yield designation.split("/", 1)[1]
    yield designation
    if name:
        yield f"{designation} {name}"
        yield name


def _minor_names(text: str) -> Iterator[str]:
    match = _NUMBERED.match(text)
    if match is None:
        yield text
        return
    name = match["name"] or f"({match['number']})"
    yield name
    yield text
    yield f"{match['number']} {match['name']}".strip()


def _read(where: str, line: str, name: str) -> Elements:
    try:
        return _comet(line, name) if _COMET.match(line) else _minor(line, name)
    except ValueError:
        raise NightmodeError(where, "the elements cannot be read", "fetch the file again") from None


def _comet(line: str, name: str) -> Elements:
    perihelion_jd = _julian(int(line[14:18]), int(line[19:21]), float(line[22:29]))
    epoch = line[81:89].strip()
    return Elements(
        name=name,
        is_comet=True,
        perihelion_au=float(line[30:39]),
        eccentricity=float(line[41:49]),
        argument_deg=float(line[51:59]),
        node_deg=float(line[61:69]),
        inclination_deg=float(line[71:79]),
        perihelion_jd=perihelion_jd,
        epoch_jd=_julian(int(epoch[:4]), int(epoch[4:6]), float(epoch[6:8])) if epoch else perihelion_jd,
        magnitude_at_1_au=_given(line[91:95]),
        slope=_given(line[96:100]) or USUAL_COMET_SLOPE,
    )


def _minor(line: str, name: str) -> Elements:
    epoch_jd = _packed(line[20:25])
    eccentricity, axis_au = float(line[70:79]), float(line[92:103])
    if not 0 <= eccentricity < 1 or axis_au <= 0:
        raise ValueError("not an ellipse")
    anomaly_deg = (float(line[26:35]) + 180.0) % 360.0 - 180.0
    slope = _given(line[14:19])
    return Elements(
        name=name,
        is_comet=False,
        perihelion_au=axis_au * (1.0 - eccentricity),
        eccentricity=eccentricity,
        argument_deg=float(line[37:46]),
        node_deg=float(line[48:57]),
        inclination_deg=float(line[59:68]),
        perihelion_jd=epoch_jd - anomaly_deg / (_DAILY_DEG / axis_au**1.5),
        epoch_jd=epoch_jd,
        magnitude_at_1_au=_given(line[8:13]),
        slope=USUAL_MINOR_SLOPE if slope is None else slope,
    )


def _given(cell: str) -> float | None:
    return float(cell) if cell.strip() else None


def _julian(year: int, month: int, day: float) -> float:
    """Return the Julian date of a day of the Gregorian calendar with its fraction. ValueError if none."""
    whole = int(day)
    return dt.date(year, month, whole).toordinal() + 1721424.5 + (day - whole)


def _packed(text: str) -> float:
    """Return the Julian date of a packed epoch: K2711 is 2027 January 1; letters stand for 10 and more."""
    century = {"I": 1800, "J": 1900, "K": 2000, "L": 2100}[text[0]]
    return _julian(century + int(text[1:3]), _packed_digit(text[3]), float(_packed_digit(text[4])))


def _packed_digit(letter: str) -> int:
    return int(letter) if letter.isdecimal() else ord(letter) - ord("A") + 10
