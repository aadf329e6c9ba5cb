"""How an object's light is spread: its middle is brighter than the catalogue's mean surface brightness.

A profile is two curves on one grid of radii, in units of the catalogue's semi-major axis R: `enclosed`, the
share of the total light within a radius, and `density`, the local surface brightness over the mean of an even
disc of radius R that holds all the light.

Laws and sources:
- spiral and irregular galaxies: exponential disc, R = 3.1 scale lengths (Freeman 1970, ApJ 160, 811: central
  21.65 B mag/arcsec2, R at 25.0), with a de Vaucouleurs bulge whose share follows the type (Simien & de
  Vaucouleurs 1986, ApJ 302, 564) and whose half-light radius is 0.2 scale lengths (Graham & Worley 2008,
  MNRAS 388, 1708, typical value). A galaxy of unknown type counts as a disc without a bulge.
- ellipticals: de Vaucouleurs 1948, R = 3 half-light radii (25.0 B for a usual 22.4 at the half-light radius).
- globular clusters: Plummer 1911, half the light within 0.17 R (median of half-light radii in Harris 1996
  over catalogue sizes for well-known clusters).
- planetary nebulae, supernova remnants: an even disc.
- emission and reflection nebulae: a Plummer law with half the light within 0.2 R. No published source: it stands
  for nebulae that are bright round their stars, as M 42 is.
- open clusters: by their stars (see `stars`), and an exponential glow, R = 2 scale lengths (no published source).
"""

import re
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from nightmode.visibility import stars

RADII = np.geomspace(0.01, 2.3, 29)
_BULGE_TO_DISC = 0.2
_DISC_LENGTHS = 3.1
_ELLIPTICAL_RADII = 3.0
_SERSIC_B4 = 7.669

STAR_FIELDS = ("open cluster", "asterism", "cluster with nebula")
_STAGES = {
    "E": -5,
    "E-S0": -3,
    "S0": -2,
    "S0-a": 0,
    "Sa": 1,
    "Sab": 2,
    "Sb": 3,
    "Sbc": 4,
    "Sc": 5,
    "Scd": 6,
    "Sd": 7,
}


@dataclass(frozen=True)
class Light:
    """Light of objects as it leaves them, arrays of one shape S, curves of shape S + (radii,).

    magnitude         V, total; NaN where none is published
    semi_major_arcmin half of the catalogue's major axis; NaN where none is published
    axis_ratio        minor over major axis
    enclosed, density the profile on RADII
    star_magnitude    the tenth brightest star of a cluster; NaN for all else
    """

    magnitude: np.ndarray
    semi_major_arcmin: np.ndarray
    axis_ratio: np.ndarray
    enclosed: np.ndarray
    density: np.ndarray
    star_magnitude: np.ndarray


def light_of(
    kind: ArrayLike,
    magnitude: ArrayLike,
    major_arcmin: ArrayLike,
    minor_arcmin: ArrayLike | None = None,
    hubble_type: ArrayLike = "",
) -> Light:
    """Return the light of objects by kind (the words of the plan files), V magnitude and full diameters.

    None or NaN stands for what is not published; without a minor axis the object is round.
    Kinds that have no glow of their own (stars, planets, dark nebulae) come back without any.
    """
    kinds, types = np.asarray(kind, dtype=str), np.asarray(hubble_type, dtype=str)
    total, major, minor = _numbers(magnitude), _numbers(major_arcmin), _numbers(minor_arcmin)
    shape = np.broadcast_shapes(kinds.shape, types.shape, total.shape, major.shape, minor.shape)
    total, major, minor = (np.broadcast_to(a, shape) for a in (total, major, minor))
    enclosed, density = _curves(np.broadcast_to(kinds, shape), np.broadcast_to(types, shape))
    ratio = np.where(np.isnan(minor), 1.0, np.clip(minor / major, 0.05, 1.0))
    by_stars = np.isin(np.broadcast_to(kinds, shape), STAR_FIELDS)
    tenth = np.where(by_stars, stars.member_magnitude(total, stars.ENOUGH), np.nan)
    return Light(total, major / 2, ratio, enclosed, density, tenth)


def bulge_share(hubble_type: str) -> float:
    """Return the bulge's share of a galaxy's light by its type in the catalogue (Sb, SBbc, S0-a, E ...).

    Source: Simien & de Vaucouleurs 1986, ApJ 302, 564: 0.324 t - 0.054 t^2 + 0.0047 t^3 magnitudes, t = T + 5.
    1 for ellipticals, 0 for types later than Sd and where the catalogue does not say.
    """
    plain = re.sub(r"[()?rs'\s]|(?<=S)A?B(?=[a-d0]|$)|(?<=S)A(?=[a-d0])", "", hubble_type)
    if plain not in _STAGES:
        return 0.0
    t = _STAGES[plain] + 5
    return 10.0 ** (-0.4 * (0.324 * t - 0.054 * t**2 + 0.0047 * t**3))


def exponential(lengths: float) -> tuple[np.ndarray, np.ndarray]:
    """Return enclosed and density of an exponential disc whose R is so many scale lengths."""
    x = lengths * RADII
    return 1.0 - (1.0 + x) * np.exp(-x), lengths**2 / 2.0 * np.exp(-x)


def de_vaucouleurs(half_light_radii: float) -> tuple[np.ndarray, np.ndarray]:
    """Return enclosed and density of the r^1/4 law whose R is so many half-light radii."""
    z = _SERSIC_B4 * (half_light_radii * RADII) ** 0.25
    terms = np.cumprod([np.ones_like(z)] + [z / n for n in range(1, 8)], axis=0).sum(axis=0)
    peak = half_light_radii**2 * _SERSIC_B4**8 / (2.0 * 4.0 * 5040.0)
    return 1.0 - np.exp(-z) * terms, peak * np.exp(-z)


def plummer(half_light: float) -> tuple[np.ndarray, np.ndarray]:
    """Return enclosed and density of Plummer's law with half the light within that share of R."""
    w = (RADII / half_light) ** 2
    return w / (1.0 + w), half_light**-2 / (1.0 + w) ** 2


def even() -> tuple[np.ndarray, np.ndarray]:
    """Return enclosed and density of an even disc of radius R."""
    return np.minimum(RADII**2, 1.0), (RADII <= 1.0).astype(float)


def _galaxy(bulge: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    disc, core = exponential(_DISC_LENGTHS), de_vaucouleurs(_DISC_LENGTHS / _BULGE_TO_DISC)
    round_ = de_vaucouleurs(_ELLIPTICAL_RADII)
    share, elliptical = bulge[..., None], (bulge >= 1.0)[..., None]
    return tuple(
        np.where(elliptical, r, share * c + (1.0 - share) * d)
        for r, c, d in zip(round_, core, disc, strict=True)
    )


_LAWS = {
    "globular cluster": plummer(0.17),
    "planetary nebula": even(),
    "supernova remnant": even(),
    "emission nebula": plummer(0.2),
    "reflection nebula": plummer(0.2),
    "nebula": plummer(0.2),
    "cluster with nebula": plummer(0.2),
    "open cluster": exponential(2.0),
    "galaxy group": exponential(_DISC_LENGTHS),
}


def _curves(kinds: np.ndarray, types: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    enclosed = np.zeros((*kinds.shape, RADII.size))
    density = np.zeros_like(enclosed)
    for kind, (inside, local) in _LAWS.items():
        enclosed[kinds == kind], density[kinds == kind] = inside, local
    galaxies = kinds == "galaxy"
    shares = {name: bulge_share(name) for name in np.unique(types[galaxies]).tolist()}
    enclosed[galaxies], density[galaxies] = _galaxy(
        np.array([shares[t] for t in types[galaxies].tolist()], float)
    )
    return enclosed, density


def _numbers(values: ArrayLike | None) -> np.ndarray:
    return np.asarray(np.nan if values is None else values, dtype=float)
