"""Makes a subject, of which everything is known, from a target as the plan gives it."""

import re
from functools import lru_cache

from nightmode.catalog.bright import bright_star
from nightmode.catalog.clusters import cluster_named
from nightmode.catalog.deepsky import deepsky_named, deepsky_nearly_named, deepsky_subject, own_deepsky
from nightmode.catalog.elements import ElementsFile
from nightmode.catalog.lunar import lunar_subject
from nightmode.catalog.names import designation_key, plain_key
from nightmode.catalog.pairs import beside, pair_named, pair_of
from nightmode.catalog.parts import parts_of
from nightmode.catalog.planetaries import planetary_numbered
from nightmode.catalog.stars import constellation_named, star_key, star_subject
from nightmode.catalog.variables import variable_star, varying
from nightmode.errors import NightmodeError
from nightmode.kinds import ORBITING, Kind
from nightmode.model.elements import Elements
from nightmode.model.position import parse_position, parse_selenographic
from nightmode.model.target import MOON, Body, Fixed, LunarFeature, Orbiting, Star, Subject, Target, fixed
from nightmode.records import replace
from nightmode.sky.bodies import PLANETS, refuse_sun

_MOVING = {Kind.MOON, Kind.PLANET, Kind.LUNAR_FEATURE}
#: "Arp244", "vdB152": a catalogue and a number in one word.
_WITHOUT_A_BLANK = re.compile(r"^\s*([A-Za-z]{1,12})(\d.*)$")
_SUN_NAMES = {"sun", "sol"}
_TAKEN_OVER = ("note", "min_altitude_deg", "telescope", "eyepiece")
_MEASURES = (
    "companion_magnitude",
    "size_arcmin",
    "size_minor_arcmin",
    "separation_arcsec",
    "position_angle_deg",
)


def resolve(target: Target, elements: ElementsFile | None = None, *, in_a_plan: bool = True) -> Subject:
    """Return what a target is: from the Solar System, OpenNGC, our own tables, or the plan itself.

    The name stays as the plan writes it; the catalogue's own names are in other_names. Whatever the plan
    gives by hand stands above the catalogue. NightmodeError for the Sun, for a name that is not known and
    has no kind and position (with near matches), and for a moving body that is given a position. Comets and
    minor planets are sought in the file of elements, if there is one. in_a_plan is False for a name that
    stands by itself, as after a command: it decides what the error offers.
    """
    if plain_key(target.name) in _SUN_NAMES:
        refuse_sun(target.name, "sun")
    if target.kind in _MOVING and target.position:
        raise NightmodeError(target.name, f"is a {target.kind}, which moves", "leave out its position")
    listed = _listed(target)
    if listed is None and elements is not None:
        listed = _orbiting(target, elements)
    if listed is None:
        listed = _by_hand(target, in_a_plan)
    return _with_own_values(listed, target)


def lookup(name: str) -> Subject | None:
    """Return the subject that a name alone means, under its usual name, or None."""
    return _body(name) or _fixed(name) or lunar_subject(name)


def _listed(target: Target) -> Subject | None:
    """Return the catalogue's subject of that name, if it can be what the plan means."""
    if target.kind == Kind.LUNAR_FEATURE or target.selenographic:
        anywhere_on_it = LunarFeature(name=target.name, kind=Kind.LUNAR_FEATURE)
        return lunar_subject(target.name) or anywhere_on_it
    if target.kind in _MOVING:
        return _body(target.name)
    if target.kind in ORBITING:
        return None
    if target.kind is Kind.DOUBLE and (pair := pair_named(target.name)):
        return pair  # "I 365" without its kind is a galaxy
    if target.kind:
        found = _fixed(target.name)
        pair = found.companion if target.kind is Kind.DOUBLE and isinstance(found, Star) else None
        return pair or found
    return lookup(target.name)


def _body(name: str) -> Body | None:
    key = plain_key(name)
    if key in ("moon", "luna"):
        return MOON
    if key in PLANETS:
        return Body(name=key.capitalize(), kind=Kind.PLANET, body=key)
    return None


@lru_cache(4096)  # lists and sessions name the same objects again and again
def _fixed(name: str) -> Fixed | None:
    found = _named(planetary_numbered(name) or name)
    if found is None and (spaced := _WITHOUT_A_BLANK.match(name)):
        found = _named(f"{spaced[1]} {spaced[2]}")
    if found is None:
        found = _named_twice(name)
    if isinstance(found, Star):
        found = replace(found, companion=beside(found))
    return None if found is None else varying(found)


def _named(name: str) -> Fixed | None:
    key = designation_key(name)
    if key and (subject := deepsky_subject(key)):
        return subject
    return (
        own_deepsky().get(key or plain_key(name))
        or star_subject(name)
        or pair_named(name)
        or deepsky_named(name)
        or bright_star(name)
        or variable_star(name)
        or deepsky_nearly_named(name)
        or cluster_named(name)
        or pair_of(name)
    )


def _named_twice(name: str) -> Fixed | None:
    """Return the object to which all the names within a name belong ("Praesepe (M 44)"), or None.

    A constellation among them must be the object's own: "h 3945 CMa".
    """
    parts = parts_of(name)
    found = [one for part in parts if (one := _named(part))]
    if not found or any(one.name != found[0].name for one in found):
        return None
    rest = [part for part in parts if _named(part) is None]
    return found[0] if all(constellation_named(part) == found[0].constellation for part in rest) else None


def _orbiting(target: Target, elements: ElementsFile) -> Orbiting | None:
    """Return a comet or minor planet of the file; NightmodeError if the plan says it is one and it is not."""
    found = elements.find(target.name)
    if found is None:
        if target.kind in ORBITING and target.position is None:
            raise NightmodeError(
                target.name, f"is not in {elements.where}", "fetch newer elements, or another name"
            )
        return None
    return orbiting(found)


def orbiting(elements: Elements) -> Orbiting:
    """Return the comet or minor planet of some elements, under their name."""
    kind = Kind.COMET if elements.is_comet else Kind.MINOR_PLANET
    return Orbiting(name=elements.name, kind=kind, elements=elements)


def _by_hand(target: Target, in_a_plan: bool) -> Fixed:
    """Return a subject from the plan's own kind and position; NightmodeError if they are not both there."""
    if target.kind is None or target.position is None:
        from nightmode.catalog.hints import unknown  # what guesses at a name loads all names

        parts = dict.fromkeys(one.name for part in parts_of(target.name) if (one := lookup(part)))
        raise unknown(target, [*parts], in_a_plan=in_a_plan)
    return fixed(target.kind, {"name": target.name, **_place(target.position)})


def _with_own_values(listed: Subject, target: Target) -> Subject:
    """Return the subject with what the plan gives by hand, in the family of the plan's kind if it has one."""
    update = {"name": target.name, "other_names": _other_names(listed, target), **_given(target)}
    if isinstance(listed, Fixed):
        return fixed(target.kind or listed.kind, vars(listed) | update)
    return replace(listed, **{key: value for key, value in update.items() if hasattr(listed, key)})


def _given(target: Target) -> dict[str, object]:
    """Return the values that the plan gives by hand, and blanks for those that its values make void."""
    update: dict[str, object] = {field: getattr(target, field) for field in _TAKEN_OVER}
    update |= {field: value for field in _MEASURES if (value := getattr(target, field)) is not None}
    if target.look_for:
        update["look_for"] = target.look_for
    if target.separation_arcsec is not None or target.position_angle_deg is not None:
        update |= {"orbit": None, "epoch_year": None}
    if target.magnitude is not None:
        update |= {"magnitude": target.magnitude, "magnitude_band": "V"}
        update |= dict.fromkeys(("surface_brightness_mag", "tenth_star_magnitude", "told_dex"))
    if target.size_arcmin is not None and target.size_minor_arcmin is None:
        update["size_minor_arcmin"] = None
    if target.position:
        update |= _place(target.position)
    if target.selenographic:
        update["latitude_deg"], update["longitude_deg"] = parse_selenographic(target.selenographic)
    return update


def _other_names(listed: Subject, target: Target) -> tuple[str, ...]:
    """Return the catalogue's names, each once, without the one that the plan writes in its own way."""
    written = _same_writing(target.name)
    others = dict.fromkeys((listed.name, *listed.other_names))
    return tuple(name for name in others if _same_writing(name) != written)


@lru_cache(8192)
def _same_writing(name: str) -> str:
    return designation_key(name) or star_key(name)


def _place(position: str) -> dict[str, object]:
    from nightmode.sky.constellation import constellation

    ra_deg, dec_deg = parse_position(position)
    return {
        "ra_deg": ra_deg,
        "dec_deg": dec_deg,
        "motion_ra_mas": 0.0,
        "motion_dec_mas": 0.0,
        "constellation": constellation(ra_deg, dec_deg),
    }
