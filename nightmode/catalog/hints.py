"""The error for a name that no table has: what it is, or which known names are spelt like it."""

import difflib
import re
from collections.abc import Sequence
from functools import cache

from nightmode.catalog.deepsky import deepsky_names, nothing_there, own_deepsky
from nightmode.catalog.lunar import lunar_features
from nightmode.catalog.names import designation_key, number_out_of_range, plain_key
from nightmode.catalog.pairs import known_star
from nightmode.catalog.searched import has_number, names_in_words
from nightmode.catalog.stars import constellation_named, stars
from nightmode.catalog.variables import is_variable_designation, variable_names
from nightmode.errors import NightmodeError
from nightmode.kinds import ORBITING
from nightmode.model.position import EXAMPLE
from nightmode.model.target import Target
from nightmode.sky.bodies import PLANETS

BY_HAND = f'write its kind and its position, like kind = "galaxy", position = "{EXAMPLE}"'
A_STAR_BY_HAND = 'write kind = "variable star", its position, and the magnitude that you expect'
#: What to write where only a name can stand, as after a command.
AS_A_NAME = "write it like M 31, NGC 7789, Albireo or Saturn"
BY_ELEMENTS = 'give a file that has its orbit: elements = "FILE" in observer.toml'
#: Bodies of the Solar System that no table has, and what to do about them.
_KNOWN_BODIES = frozenset({
    *("pluto", "ceres", "pallas", "juno", "vesta", "astraea", "hebe", "iris", "flora", "metis", "hygiea"),
    *("psyche", "eunomia", "eros", "eris", "haumea", "makemake", "sedna"),
    *("halley", "encke", "halleys comet", "enckes comet"),
})  # fmt: skip
#: How comets are designated: C/2027 A1, P/2027 A1, 12P, 12P/Name.
_COMET = re.compile(r"^(?:[CPDXAI]/-?\d{1,4} ?[A-Z]{1,2}\d|\d{1,4}[PDI](?:/|$))", re.IGNORECASE)
_MOONS = {
    **dict.fromkeys(("io", "europa", "ganymede", "callisto"), "Jupiter"),
    **dict.fromkeys(
        ("titan", "rhea", "dione", "tethys", "enceladus", "mimas", "iapetus", "hyperion", "phoebe"), "Saturn"
    ),
    **dict.fromkeys(("titania", "oberon", "ariel", "umbriel", "miranda"), "Uranus"),
    **{"triton": "Neptune", "nereid": "Neptune", "phobos": "Mars", "deimos": "Mars", "amalthea": "Jupiter"},
}
#: What observers ask for that is told from its neighbours by no name here: what it is, what to write instead.
_WITHIN = {
    **dict.fromkeys(
        ("pease 1", "k 648", "kuster 648"),
        ("it is a planetary nebula within M 15, a point among its stars", "write M 15"),
    ),
    **dict.fromkeys(
        ("einstein cross", "einsteins cross", "q2237+0305", "g2237+0305"),
        (
            "it is four images of a quasar, fainter than magnitude 17 and within 2″ on the core of a galaxy",
            "write Huchra's Lens, the galaxy",
        ),
    ),
}
_WITHIN |= {
    "crab pulsar": ("it is a star of magnitude 16.6 within M 1", "write M 1"),
    "sagittarius dwarf": ("it is a galaxy too thin to be seen; its core is M 54", "write M 54"),
    "sn 1987a": ("it has faded from sight, beside NGC 2070", "write NGC 2070"),
    "lunar x": ("it is light on crater rims by Werner, for some four hours of its sunrise", "write Werner"),
    "apollo 11": ("nothing of it shows; it stands in the Mare Tranquillitatis", "write Mare Tranquillitatis"),
    "melotte 15": ("it is the cluster in the middle of IC 1805", "write IC 1805"),
    "mel 15": ("it is the cluster in the middle of IC 1805", "write IC 1805"),
}
#: Figures that the eye draws, and lights of the whole sky: nothing to point a telescope at.
_FIGURES = frozenset({
    *("big dipper", "plough", "little dipper", "great square", "great square of pegasus", "keystone"),
    *("summer triangle", "winter triangle", "winter hexagon", "spring triangle", "teapot", "sickle"),
    *("southern cross", "false cross", "northern cross", "diamond cross", "guardians", "pointers"),
})  # fmt: skip
_LIGHTS = frozenset({
    *("milky way", "zodiacal light", "gegenschein", "zodiacal band", "airglow", "aurora", "earthshine"),
    *("noctilucent clouds", "belt of venus"),
})  # fmt: skip
_LENSED = ("q0957+561", "qso 0957+561", "q 0957+561", "qso b0957+561", "twin quasar", "double quasar")
_A_LENS = "it is two images of one quasar, 6″ apart, both of about magnitude 17"
_LENS_BY_HAND = 'write kind = "star", position = "10h01m21s +55d53m55s", magnitude = 16.7'
#: Pairs and companions that no table has apart: "Gamma Andromedae BC", "Mizar C".
_COMPONENT = re.compile(r"^(.+) (a|b|c|d|ab|bc|ac|cd)$")
#: How alike two spellings must be, 0 to 1, to be offered: less, and the hint leads astray (our own).
ALIKE = 0.75


def unknown(target: Target, parts: Sequence[str] = (), *, in_a_plan: bool = True) -> NightmodeError:
    """Return the error for a name that is not known, with a hint on what to write instead.

    parts are the names of the objects, if any, that parts of the name mean. A plan may give kind and
    position of what no table has; elsewhere (in_a_plan False) only a name can stand.
    """
    by_hand, a_star_by_hand = (BY_HAND, A_STAR_BY_HAND) if in_a_plan else (AS_A_NAME, AS_A_NAME)
    name, key = target.name, designation_key(target.name)
    if key and (limits := number_out_of_range(key)):
        return NightmodeError(name, f"is not in the catalogue: {limits}", by_hand)
    if key and (note := nothing_there(key)):
        return NightmodeError(name, f"is not an object of a known type (noted there: {note})", by_hand)
    if is_variable_designation(name):
        return NightmodeError(name, "is not among the bright variable stars of the catalogue", a_star_by_hand)
    plain = plain_key(name)
    if plain in _KNOWN_BODIES or target.kind in ORBITING or _COMET.match(name.strip()):
        return NightmodeError(name, "is not in the catalogue: it moves by an orbit of its own", BY_ELEMENTS)
    if planet := _MOONS.get(plain):
        noted = f', with note = "{name}"' if in_a_plan else ""
        return NightmodeError(
            name,
            f"is not in the catalogue: it is a moon of {planet}, seen beside it",
            f"write {planet}{noted}",
        )
    if constellation_named(name):
        return NightmodeError(name, "is not in the catalogue: it is a constellation", "name an object in it")
    if plain in _FIGURES:
        return NightmodeError(
            name, "is not in the catalogue: it is a figure of bright stars", "name a star or an object in it"
        )
    if plain in _LIGHTS:
        return NightmodeError(
            name, "is not in the catalogue: it is a light of the sky, for the eye alone", "name an object"
        )
    if within := _part_of(plain, a_star_by_hand=_LENS_BY_HAND if in_a_plan else AS_A_NAME):
        return NightmodeError(name, f"is not in the catalogue: {within[0]}", within[1])
    if len(parts) > 1:
        each = ", ".join(parts)
        return NightmodeError(name, "holds the names of several objects", f"write each by itself: {each}")
    if near := parts or near_matches(name):
        return NightmodeError(
            name, "is not in the catalogue", f"did you mean {', '.join(near)}? Else {by_hand}"
        )
    return NightmodeError(name, "is not in the catalogue", by_hand)


def _part_of(plain: str, *, a_star_by_hand: str) -> tuple[str, str] | None:
    """Return what a name is that lies within something known, and what to write instead, or None."""
    if plain in _LENSED:
        return _A_LENS, a_star_by_hand
    match = _COMPONENT.match(plain)
    if match and (whole := known_star(match[1])):
        return f"it is a part of {whole.name} that no table here has by itself", f"write {whole.name}"
    return _WITHIN.get(plain)


def near_matches(name: str, most: int = 3) -> list[str]:
    """Return up to `most` known names in words that are spelt like this one, nearest first.

    A name is also known by its first word: "Andromida" comes near the Andromeda Nebula.
    """
    known = _known()
    found = difflib.get_close_matches(plain_key(name), known, n=4 * most, cutoff=ALIKE)
    return list(dict.fromkeys(known[key] for key in found))[:most]


@cache
def _known() -> dict[str, str]:
    words = {key: key.title() for key in deepsky_names()}
    known = {first: full for key, full in words.items() if len(first := key.partition(" ")[0]) > 4}
    known |= {plain_key(word): word.capitalize() for word in ("moon", *PLANETS)} | words
    for subject in (*own_deepsky().values(), *stars().values()):
        names = (subject.name, *subject.other_names)
        known |= {plain_key(word): word for word in names if not has_number(word)}
    known |= {plain_key(word): word for word in _stars_in_words()}
    return known | {key: feature.name for key, feature in lunar_features().items()}


def _stars_in_words() -> tuple[str, ...]:
    return *names_in_words("bright_stars"), *names_in_words("pairs"), *variable_names()
