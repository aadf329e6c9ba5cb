"""The questions of `setup`: what each asks, how its answer is read, and what is offered."""

from collections.abc import Callable, Mapping
from typing import Any

from nightmode.errors import NightmodeError
from nightmode.model.kit import Barlow, Finder, Telescope, View, usual_view
from nightmode.model.observer import Observer, Person
from nightmode.model.site import Site
from nightmode.records import Record
from nightmode.setup import answers
from nightmode.setup.angles import angle, pair
from nightmode.setup.words import WORDS, flag_of
from nightmode.setup.zones import zone_name

#: Answers as given, by the key of their question.
Given = Mapping[str, str]


class Question(Record):
    """One question; `hint` explains it in half a line, `default` is what is there or a sane value.

    default returns None where there is none and the question must be answered.
    """

    key: str
    ask: str
    hint: str
    example: str
    read: Callable[[str, str], Any]
    default: Callable[[Observer, Given], str | None]

    @property
    def flag(self) -> str:
        """The flag that answers it."""
        return flag_of(self.key)

    def is_asked(self, given: Given) -> bool:
        """Return whether the question makes sense after the answers so far."""
        if self.key == BINOCULARS:
            return self.key in given or not has_telescope(given)
        if self.key in PARTS_OF_A_TELESCOPE:
            return self.key in given or has_telescope(given)
        return self.key not in ABOUT_A_TELESCOPE or has_telescope(given)

    def checked(self, text: str, where: str, given: Given) -> Any:
        """Return the answer read; NightmodeError if it does not fit by itself or beside the others."""
        value = self.read(text, where)
        if self.key == "obstruction" and "aperture" in given:
            _light_gets_past(value, where, answers.number(given["aperture"], where, "mm"))
        return value


def parts(key: str, text: str, where: str) -> Given:
    """Return the answers that text gives: one, or latitude and longitude as maps write them together."""
    both = pair(text) if key == "latitude" else None
    if both is None:
        return {key: text}
    _longitude(both[1], where)
    return {"latitude": both[0], "longitude": both[1]}


def _light_gets_past(obstruction_mm: float, where: str, aperture_mm: float) -> None:
    if obstruction_mm >= aperture_mm:
        what = f"{obstruction_mm:g} mm lets no light past in an aperture of {aperture_mm:g} mm"
        raise NightmodeError(where, what, "write the smaller mirror's width, or the aperture with it")


def asked_site(existing: Observer, given: Given) -> Site | None:
    """Return the site asked about: the one with the name given, else the usual one, else the first."""
    return _named(existing.site, given.get("site") or existing.observer.site, bool(given.get("site")))


def asked_telescope(existing: Observer, given: Given) -> Telescope | None:
    """Return the telescope asked about, as `asked_site` does."""
    return _named(
        existing.telescope,
        given.get("telescope") or existing.observer.telescope,
        bool(given.get("telescope")),
    )


def _named(rows: tuple[Any, ...], name: str | None, strictly: bool) -> Any:
    found = [row for row in rows if name and row.name.casefold() == name.strip().casefold()]
    if found or strictly:
        return found[0] if found else None
    return rows[0] if rows else None


#: The questions about a telescope.
ABOUT_A_TELESCOPE = frozenset({"aperture", "focal_length", "obstruction", "barrel", "view"})
#: Those about what goes into a telescope or onto it: not asked where there is none, but taken if given.
PARTS_OF_A_TELESCOPE = frozenset({"eyepieces", "barlows", "filters", "finder", "bullseye"})
NO_TELESCOPE, BINOCULARS, ALL_NIGHT = "none", "binoculars", "all"


def has_telescope(given: Given) -> bool:
    """Return whether there is a telescope, by the answers so far."""
    return given.get("telescope", "").strip().lower() != NO_TELESCOPE


def _telescope_offered(existing: Observer, given: Given) -> str:
    """Return the telescope's name; none where there are only binoculars."""
    if found := asked_telescope(existing, given):
        return found.name
    only_binoculars = existing.binoculars or given.get(BINOCULARS)
    return NO_TELESCOPE if only_binoculars and not ABOUT_A_TELESCOPE & set(given) else "telescope"


def short_number(value: float) -> str:
    """Return a number as short as it can be written without changing it."""
    return repr(value).removesuffix(".0")


def _text(text: str, where: str) -> str:
    return answers.make(Barlow, where, name=text, factor=2.0).name


def _figure(model: Any, field: str, *units: str, **base: Any) -> Callable[[str, str], float]:
    """Return a reader of one number that fits a field of a model."""

    def read(text: str, where: str) -> float:
        value = answers.number(text, where, *units)
        return getattr(answers.make(model, where, **base, **{field: value}), field)

    return read


_SITE = {"name": "site", "latitude_deg": 0.0, "longitude_deg": 0.0}


def _latitude(text: str, where: str) -> float:
    value = angle(text, where, "NS")
    return answers.make(Site, where, **_SITE | {"latitude_deg": value}).latitude_deg


def _longitude(text: str, where: str) -> float:
    value = angle(text, where, "EW")
    return answers.make(Site, where, **_SITE | {"longitude_deg": value}).longitude_deg


def _timezone(text: str, where: str) -> str:
    return answers.make(Site, where, **_SITE, timezone=zone_name(text, where)).timezone


def _dark(text: str, where: str) -> dict[str, float | int]:
    given = answers.darkness(text, where)
    answers.make(Site, where, **_SITE, **given)
    return given


def _horizon(text: str, where: str) -> tuple[tuple[float, float], ...]:
    return answers.make(Site, where, **_SITE, horizon=answers.horizon(text, where)).horizon


def _list(read: Callable[[str, str], Any]) -> Callable[[str, str], Any]:
    return lambda text, where: answers.several(text, where, read)


def _no_finder_or(read: Callable[[str, str], Finder]) -> Callable[[str, str], Finder | None]:
    """Return a reader that takes "none" for no such finder."""
    return lambda text, where: None if text.strip().lower() == "none" else read(text, where)


def _from_site(field: str, otherwise: str | None = None) -> Callable[[Observer, Given], str | None]:
    return lambda existing, given: _as_offered(asked_site(existing, given), field, otherwise)


def _from_telescope(field: str, otherwise: str | None = None) -> Callable[[Observer, Given], str | None]:
    return lambda existing, given: _as_offered(asked_telescope(existing, given), field, otherwise)


def _from_person(field: str) -> Callable[[Observer, Given], str | None]:
    return lambda existing, _: _as_offered(existing.observer, field, None)


def _as_offered(row: Any, field: str, otherwise: str | None) -> str | None:
    value = getattr(row, field, None)
    return otherwise if value is None else short_number(value) if isinstance(value, float) else str(value)


def _existing_darkness(existing: Observer, given: Given) -> str:
    site = asked_site(existing, given)
    if site and site.sky_brightness is not None:
        return short_number(site.sky_brightness)
    if site and site.naked_eye_limit_mag is not None:
        return short_number(site.naked_eye_limit_mag) + "mag"
    return str(site.bortle) if site and site.bortle else "5"


def _existing_horizon(existing: Observer, given: Given) -> str:
    site = asked_site(existing, given)
    points = site.horizon if site else ()
    return (
        " ".join(f"{short_number(azimuth)}:{short_number(altitude)}" for azimuth, altitude in points)
        or "none"
    )


#: Reflectors with a larger focal ratio are looked into from behind, through a star diagonal (common practice,
#: no published source).
_DIAGONAL_FROM = 9.5


def _existing_view(existing: Observer, given: Given) -> str:
    """Return the view given for a telescope, else the usual view for its obstruction.

    A new one that is long for its aperture and has an obstruction is taken to have a star diagonal.
    """
    known = asked_telescope(existing, given)
    if known is not None and known.view is not None:
        return known.view.value
    width = given.get("obstruction") or (short_number(known.obstruction_mm) if known else "0")
    obstruction_mm = answers.number(width, "obstruction", "mm")
    if known is None and obstruction_mm:
        aperture_mm, focal_length_mm = (
            answers.number(given.get(key, "0"), key, "mm") for key in ("aperture", "focal_length")
        )
        if focal_length_mm > _DIAGONAL_FROM * aperture_mm:
            return View.MIRRORED.value
    return usual_view(obstruction_mm).value


def _nothing(_existing: Observer, _given: Given) -> str:
    return ""


def _existing_finder(kind: str) -> Callable[[Observer, Given], str]:
    def offered(existing: Observer, _: Given) -> str:
        found = [finder for finder in existing.finder if finder.kind == kind]
        if not found:
            return "none"
        if kind == "bullseye":
            return " ".join(short_number(ring) for ring in found[0].rings_deg) or "dot"
        field = f"/{short_number(found[0].field_deg)}" if found[0].field_deg else ""
        seen = f" {found[0].view}" if found[0].view else ""
        glass = f"{short_number(found[0].magnification or 1)}x{short_number(found[0].aperture_mm or 30)}"
        return f"{glass}{field}{seen}"

    return offered


#: The widest aperture there may be, so that no obstruction is refused before the aperture is known.
_TELESCOPE = {"name": "telescope", "aperture_mm": 2000.0, "focal_length_mm": 1000.0}


def _telescope_figure(field: str, *units: str) -> Callable[[str, str], float]:
    others = {key: value for key, value in _TELESCOPE.items() if key != field}
    return _figure(Telescope, field, *units, **others)


def questions(local_zone: str) -> tuple[Question, ...]:
    """Return the questions in the order they are asked; local_zone is offered as the time zone."""
    how = {**_where(local_zone), **_what(), **_who()}
    return tuple(Question(key, *words, *how[key]) for key, words in WORDS.items())


#: How an answer is read, and what is offered.
How = tuple[Callable[[str, str], Any], Callable[[Observer, Given], str | None]]


def _where(local_zone: str) -> dict[str, How]:
    existing = _from_site
    return {
        "site": (_text, existing("name", "home")),
        "latitude": (_latitude, existing("latitude_deg")),
        "longitude": (_longitude, existing("longitude_deg")),
        "elevation": (_figure(Site, "elevation_m", "m", **_SITE), existing("elevation_m", "0")),
        "timezone": (_timezone, existing("timezone", local_zone)),
        "dark": (_dark, _existing_darkness),
        "horizon": (_horizon, _existing_horizon),
    }


def _what() -> dict[str, How]:
    existing, read = _from_telescope, _telescope_figure
    return {
        "telescope": (_text, _telescope_offered),
        BINOCULARS: (_list(answers.binoculars), _nothing),
        "aperture": (read("aperture_mm", "mm"), existing("aperture_mm")),
        "focal_length": (read("focal_length_mm", "mm"), existing("focal_length_mm")),
        "obstruction": (read("obstruction_mm", "mm"), existing("obstruction_mm", "0")),
        "barrel": (read("barrel_in", "inches", "inch", "in", '"', "″"), existing("barrel_in", "1.25")),
        "eyepieces": (_list(answers.eyepiece), _nothing),
        "barlows": (_list(answers.barlow), _nothing),
        "filters": (_list(answers.filter_of), _nothing),
        "finder": (_no_finder_or(answers.finder), _existing_finder("optical")),
        "bullseye": (_no_finder_or(answers.bullseye), _existing_finder("bullseye")),
    }


def _observing_hours(text: str, where: str) -> str | None:
    if text.strip().lower() in ("", ALL_NIGHT):
        return None
    return answers.make(Person, where, hours=text).hours


def _who() -> dict[str, How]:
    return {
        "pupil": (_figure(Person, "pupil_mm", "mm"), _from_person("pupil_mm")),
        "hours": (_observing_hours, lambda existing, _: existing.observer.hours or ALL_NIGHT),
        "min_altitude": (_figure(Person, "min_altitude_deg", "°"), _from_person("min_altitude_deg")),
        "view": (answers.view, _existing_view),
    }
