"""How an object's light is distributed: it is brighter in the middle than its mean surface brightness.

A profile is two curves on one grid of radii, in units of the catalogue's semi-major axis R: `enclosed`, the
share of the total light within a radius, and `density`, the local surface brightness over that of an even
disc of radius R that holds all the light. `profile_laws` has the laws, this room says which kind has which.

- Spiral and irregular galaxies: an exponential disc. R is where the catalogue's isophote of 25.0 B
  mag/arcsec2 lies, so total magnitude and R give the scale length; never longer than R / 3.1, the typical
  disc (Freeman 1970, ApJ 160, 811: central 21.65 B). Inside it a bulge of Sersic index 2, its share of the
  light by type (Simien & de Vaucouleurs 1986, ApJ 302, 564), half of it within 0.2 scale lengths (typical
  values of Graham & Worley 2008, MNRAS 388, 1708). A galaxy of unknown type counts as Sb, the commonest.
- Ellipticals: de Vaucouleurs 1948, its half-light radius from total magnitude and isophote, at most R / 2.
- Globular clusters: Plummer 1911, half the light within the catalogue's half-light radius, where none is
  published within 0.28 R (median over bright clusters of Harris's half-light radii, from memory, over the
  catalogue's sizes).
- Planetary nebulae, supernova remnants, whatever has a surface brightness in the catalogue: an even disc.
- Emission and reflection nebulae without one: Plummer's law, half the light within the catalogue's half-light
  radius or 0.2 R; no published source, it stands for nebulae that are bright round their stars, as M 42 is.
  Emission nebulae of a degree and more are thin sheets instead: half within 0.5 R.
- Comets: a coma that streams out evenly, its surface brightness falling as 1 / r (the usual model of a coma
  without tail: see for example A'Hearn et al. 1984, AJ 89, 579).
- Open clusters: by their stars (see `stars`), and as a glow by Plummer's law with half the light within
  0.5 R, no published source.
- Galaxies with a half-light radius in the catalogue: Sersic's law with that radius, index 4 where half of the
  light or more is bulge by type (ellipticals, S0), 2 from S0-a to Sbc, 1 (an exponential disc) for later
  types and dwarfs; the usual indices (Graham & Driver 2005, PASA 22, 118).
- Dark nebulae: an even disc, as bright as the light behind it that it takes away.
"""

import re
from collections.abc import Iterable
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from nightmode.kinds import STAR_FIELDS, WITH_STARS, Kind
from nightmode.records import Record
from nightmode.visibility import profile_laws, stars
from nightmode.visibility.photometry import mean_surface_brightness_mag
from nightmode.visibility.profile_laws import DISC_LENGTHS, RADII, Curves
from nightmode.visibility.telling import told_of_kinds

BULGE_TO_DISC = 0.2
_STAGES = {
    "E": -5, "E-S0": -3, "S0": -2, "S0-a": 0, "I0": 0, "Sa": 1, "Sab": 2, "Sb": 3, "Sbc": 4, "Sc": 5,
    "Scd": 6, "Sd": 7,
}  # fmt: skip
SHEET, SHEET_FROM_ARCMIN = "sheet of nebula", 60.0
EVEN = "even patch"
#: Shares of the bulge from which a galaxy's light follows Sersic's law of index 4, and of index 2.
ROUND_BULGE, SOME_BULGE = 0.5, 0.12
_UNKNOWN_TYPES, _USUAL_TYPE = ("", "S"), "Sb"
_LAWS = {
    Kind.GLOBULAR_CLUSTER.value: profile_laws.plummer(0.28),
    Kind.PLANETARY_NEBULA.value: profile_laws.even(),
    Kind.SUPERNOVA_REMNANT.value: profile_laws.even(),
    Kind.EMISSION_NEBULA.value: profile_laws.plummer(0.2),
    Kind.REFLECTION_NEBULA.value: profile_laws.plummer(0.2),
    Kind.NEBULA.value: profile_laws.plummer(0.2),
    Kind.CLUSTER_NEBULA.value: profile_laws.plummer(0.2),
    SHEET: profile_laws.plummer(0.5),
    EVEN: profile_laws.even(),
    Kind.OPEN_CLUSTER.value: profile_laws.plummer(0.5),
    Kind.COMET.value: profile_laws.coma(),
    Kind.GALAXY_GROUP.value: profile_laws.exponential(np.array(DISC_LENGTHS)),
}


class Light(Record):
    """Light of objects as it leaves them: arrays of one shape S, some with a last axis more.

    magnitude          V, total of what glows; NaN where none is published
    semi_major_arcmin  half of the catalogue's major axis; NaN where none is published
    axis_ratio         minor over major axis, 1 where the catalogue has one figure
    enclosed, density  the profile on RADII (last axis); NaN for what has no glow of its own, or no size
    star_magnitude     the tenth brightest star of a cluster or asterism; NaN for all else
    is_mere_stars      whether there is nothing to it but scattered stars
    is_lit_by_stars    whether it shines by the light of a star in its midst, and in that star's glare
    is_disc            whether it is a planetary nebula, a small disc among stars
    is_dark            whether it is dark before what shines, and so has no light of its own
    told_dex           how much easier observers tell it than these figures make it; 0 where nothing is told
    told_of_kind       the same of its kind, four figures on a last axis (`telling.told_of_kinds`)
    """

    magnitude: np.ndarray
    semi_major_arcmin: np.ndarray
    axis_ratio: np.ndarray
    enclosed: np.ndarray
    density: np.ndarray
    star_magnitude: np.ndarray
    is_mere_stars: np.ndarray
    is_lit_by_stars: np.ndarray
    is_disc: np.ndarray
    is_dark: np.ndarray
    told_dex: np.ndarray
    told_of_kind: np.ndarray

    def some(self, which: np.ndarray | slice | int) -> "Light":
        """Return the light of some of the objects, by index."""
        return Light(**{name: value[which] for name, value in vars(self).items()})


class Published(Record, eq=False):
    """What is published of objects: arrays that broadcast, with None or NaN for what is not published.

    kind               in the words of the plan files
    magnitude          V, of the whole object
    major_arcmin, minor_arcmin   full diameters; an object without a minor axis is round
    hubble_type        of galaxies; "" where it is not known
    half_light_arcmin  the radius that holds half of the light
    tenth_star_mag     V of the tenth brightest star of a cluster or asterism
    surface_brightness_mag   V mag/arcsec2, mean over the size; it stands above the magnitude
    told_dex           how much easier observers tell it than these figures make it
    """

    kind: ArrayLike
    magnitude: ArrayLike | None
    major_arcmin: ArrayLike | None
    minor_arcmin: ArrayLike | None = None
    hubble_type: ArrayLike = ""
    half_light_arcmin: ArrayLike | None = None
    tenth_star_mag: ArrayLike | None = None
    surface_brightness_mag: ArrayLike | None = None
    told_dex: ArrayLike | None = None


def light_of(published: Published) -> Light:
    """Return the light of objects.

    Kinds without a glow of their own (stars, planets, dark nebulae of which it is not known what they hide)
    come back without any, and so without a margin: the Moon and planets are judged in `points`, doubles in
    `splitting`.
    """
    kinds, types, total, major, minor, half, tenth, surface, told = np.broadcast_arrays(
        np.asarray(published.kind, dtype=str),
        np.asarray(published.hubble_type, dtype=str),
        _numbers(published.magnitude),
        _numbers(published.major_arcmin),
        _numbers(published.minor_arcmin),
        _numbers(published.half_light_arcmin),
        _numbers(published.tenth_star_mag),
        _numbers(published.surface_brightness_mag),
        _numbers(published.told_dex),
    )
    ratio = np.where(np.isnan(minor), 1.0, np.clip(minor / major, 0.05, 1.0))
    by_law = stars.tenth_star_magnitude(total)
    tenth = np.where(_are(kinds, WITH_STARS), np.where(np.isnan(tenth), by_law, tenth), np.nan)
    over_an_even_one = mean_surface_brightness_mag(0.0, major, major * ratio)
    total = np.where(np.isnan(surface), total, surface - over_an_even_one)
    enclosed, density = _curves(
        _laws_of(kinds, major, surface), types, total + over_an_even_one, half / (major / 2)
    )
    return Light(
        magnitude=total,
        semi_major_arcmin=major / 2,
        axis_ratio=ratio,
        enclosed=enclosed,
        density=density,
        star_magnitude=tenth,
        is_mere_stars=_are(kinds, STAR_FIELDS) & np.isnan(surface),
        is_lit_by_stars=kinds == Kind.REFLECTION_NEBULA.value,
        is_disc=kinds == Kind.PLANETARY_NEBULA.value,
        is_dark=kinds == Kind.DARK_NEBULA.value,
        told_dex=np.nan_to_num(told),
        told_of_kind=told_of_kinds(kinds),
    )


def _are(kinds: np.ndarray, some: Iterable[Kind]) -> np.ndarray:
    return np.isin(kinds, [kind.value for kind in some])


def _laws_of(kinds: np.ndarray, major: np.ndarray, surface: np.ndarray) -> np.ndarray:
    sheets = (kinds == Kind.EMISSION_NEBULA.value) & (major >= SHEET_FROM_ARCMIN)
    even = ~np.isnan(surface)
    return np.where(even, EVEN, np.where(sheets, SHEET, kinds))


@cache
def bulge_share(hubble_type: str) -> float:
    """Return the bulge's share of a galaxy's light by its type in the catalogue (Sb, SBbc, S0-a, E ...).

    Source: Simien & de Vaucouleurs 1986, ApJ 302, 564: the bulge is 0.324 t - 0.054 t^2 + 0.0047 t^3
    magnitudes fainter than the whole, t = T + 5 (coefficients from memory). 1 for ellipticals, 0 for types
    later than Sd; Sb where the catalogue does not say.
    """
    plain = plain_type(hubble_type)
    if plain in _UNKNOWN_TYPES:
        plain = _USUAL_TYPE
    if plain not in _STAGES:
        return 0.0
    t = _STAGES[plain] + 5
    return 10.0 ** (-0.4 * (0.324 * t - 0.054 * t**2 + 0.0047 * t**3))


@cache
def plain_type(hubble_type: str) -> str:
    """Return a galaxy's type without its bar and doubts: SABbc is Sbc, IB is I."""
    return re.sub(r"^([SI])(AB|A|B)(?=[a-dm]*$)", r"\1", hubble_type.strip().rstrip("?"))


def _curves(kinds: np.ndarray, types: np.ndarray, mean_mag: np.ndarray, half_light: np.ndarray) -> Curves:
    enclosed = np.full((*kinds.shape, RADII.size), np.nan)
    density, has_law = enclosed.copy(), np.zeros(kinds.shape, bool)
    for kind, (inside, local) in _LAWS.items():
        of_kind = kinds == kind
        enclosed[of_kind], density[of_kind] = inside, local
        has_law |= of_kind
    galaxies = kinds == Kind.GALAXY.value
    bulge = np.zeros(kinds.shape)
    bulge[galaxies] = [bulge_share(name) for name in types[galaxies].tolist()]
    enclosed[galaxies], density[galaxies] = _galaxy(bulge[galaxies], mean_mag[galaxies])
    measured = ~np.isnan(half_light) & has_law
    enclosed[measured], density[measured] = profile_laws.plummer(half_light[measured])
    by_bulge = np.select([bulge >= ROUND_BULGE, bulge >= SOME_BULGE], [4, 2], 1)
    for sersic_index in (1, 2, 4):
        some = ~np.isnan(half_light) & galaxies & (by_bulge == sersic_index)
        enclosed[some], density[some] = profile_laws.sersic(1.0 / half_light[some], sersic_index)
    return enclosed, density


def _galaxy(bulge: np.ndarray, mean_mag: np.ndarray) -> Curves:
    edge = profile_laws.edge_density(mean_mag)
    elliptical = (bulge >= 1.0)[..., None]
    with np.errstate(divide="ignore"):
        lengths = profile_laws.disc_lengths(edge / (1.0 - bulge))
    core = profile_laws.sersic(lengths / BULGE_TO_DISC, 2)
    disc = profile_laws.exponential(lengths)
    whole = profile_laws.sersic(profile_laws.elliptical_radii(edge), 4)
    share = bulge[..., None]
    enclosed, density = (
        np.where(elliptical, e, share * c + (1.0 - share) * d)
        for e, c, d in zip(whole, core, disc, strict=True)
    )
    return enclosed, density


def _numbers(values: ArrayLike | None) -> np.ndarray:
    return np.asarray(np.nan if values is None else values, dtype=float)
