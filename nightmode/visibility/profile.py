"""How an object's light is spread: its middle is brighter than the catalogue's mean surface brightness.

A profile is two curves on one grid of radii, in units of the catalogue's semi-major axis R: `enclosed`, the
share of the total light within a radius, and `density`, the local surface brightness over that of an even
disc of radius R that holds all the light. `profile_laws` has the laws, this room says which kind has which.

- Spiral and irregular galaxies: an exponential disc. R is where the catalogue's isophote of 25.0 B
  mag/arcsec2 lies, so total magnitude and R give the scale length; never longer than R / 3.1, the typical
  disc (Freeman 1970, ApJ 160, 811: central 21.65 B). Inside it a bulge of Sersic index 2, its share of the
  light by type (Simien & de Vaucouleurs 1986, ApJ 302, 564), half of it within 0.2 scale lengths (typical
  values of Graham & Worley 2008, MNRAS 388, 1708). A galaxy of unknown type counts as a bare disc.
- Ellipticals: de Vaucouleurs 1948, its half-light radius from total magnitude and isophote, at most R / 2.
- Globular clusters: Plummer 1911, half the light within 0.28 R (median over bright clusters of Harris's
  half-light radii, from memory, over the catalogue's sizes).
- Planetary nebulae, supernova remnants: an even disc.
- Emission and reflection nebulae: Plummer's law, half the light within 0.2 R; no published source, it stands
  for nebulae that are bright round their stars, as M 42 is. Emission nebulae of a degree and more are thin
  sheets instead: half within 0.5 R, so that NGC 7000 is hard in a small telescope, as observers find it.
- Comets: a coma that streams out evenly, its surface brightness falling as 1 / r (the usual model of a coma
  without tail: see for example A'Hearn et al. 1984, AJ 89, 579).
- Open clusters: by their stars (see `stars`), and as a glow by Plummer's law with half the light within
  0.4 R, no published source.
"""

import re
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from nightmode.visibility import profile_laws, stars
from nightmode.visibility.photometry import mean_surface_brightness_mag
from nightmode.visibility.profile_laws import DISC_LENGTHS, RADII, Curves

BULGE_TO_DISC = 0.2
STAR_FIELDS = ("open cluster", "asterism", "cluster with nebula")
_STAGES = {
    "E": -5, "E-S0": -3, "S0": -2, "S0-a": 0, "Sa": 1, "Sab": 2, "Sb": 3, "Sbc": 4, "Sc": 5, "Scd": 6, "Sd": 7
}  # fmt: skip
SHEET, SHEET_FROM_ARCMIN = "sheet of nebula", 60.0
_LAWS = {
    "globular cluster": profile_laws.plummer(0.28),
    "planetary nebula": profile_laws.even(),
    "supernova remnant": profile_laws.even(),
    "emission nebula": profile_laws.plummer(0.2),
    "reflection nebula": profile_laws.plummer(0.2),
    "nebula": profile_laws.plummer(0.2),
    "cluster with nebula": profile_laws.plummer(0.2),
    SHEET: profile_laws.plummer(0.5),
    "open cluster": profile_laws.plummer(0.4),
    "comet": profile_laws.coma(),
    "galaxy group": profile_laws.exponential(np.array(DISC_LENGTHS)),
}


@dataclass(frozen=True)
class Light:
    """Light of objects as it leaves them: arrays of one shape S, curves of shape S + (radii,).

    magnitude          V, total; NaN where none is published
    semi_major_arcmin  half of the catalogue's major axis; NaN where none is published
    axis_ratio         minor over major axis, 1 where the catalogue has one figure
    enclosed, density  the profile on RADII; NaN for what has no glow of its own, or no size
    star_magnitude     the tenth brightest star of a cluster; NaN for all else
    """

    magnitude: np.ndarray
    semi_major_arcmin: np.ndarray
    axis_ratio: np.ndarray
    enclosed: np.ndarray
    density: np.ndarray
    star_magnitude: np.ndarray

    def some(self, which: np.ndarray | slice | int) -> "Light":
        """Return the light of some of the objects, by index."""
        return Light(**{name: value[which] for name, value in vars(self).items()})


def light_of(
    kind: ArrayLike,
    magnitude: ArrayLike,
    major_arcmin: ArrayLike,
    minor_arcmin: ArrayLike | None = None,
    hubble_type: ArrayLike = "",
) -> Light:
    """Return the light of objects by kind (the words of the plan files), V magnitude and full diameters.

    All arguments broadcast. None or NaN stands for what is not published; without a minor axis the object
    is round. Kinds without a glow of their own (dark nebulae, stars, planets) come back without any, and so
    without a margin: the Moon, planets and doubles are judged in `points`.
    """
    kinds, types = np.asarray(kind, dtype=str), np.asarray(hubble_type, dtype=str)
    total, major, minor = _numbers(magnitude), _numbers(major_arcmin), _numbers(minor_arcmin)
    shape = np.broadcast_shapes(kinds.shape, types.shape, total.shape, major.shape, minor.shape)
    kinds, types = np.broadcast_to(kinds, shape), np.broadcast_to(types, shape)
    total, major, minor = (np.broadcast_to(a, shape) for a in (total, major, minor))
    ratio = np.where(np.isnan(minor), 1.0, np.clip(minor / major, 0.05, 1.0))
    mean_mag = mean_surface_brightness_mag(total, major, major * ratio)
    sheets = (kinds == "emission nebula") & (major >= SHEET_FROM_ARCMIN)
    enclosed, density = _curves(np.where(sheets, SHEET, kinds), types, mean_mag)
    tenth = np.where(np.isin(kinds, STAR_FIELDS), stars.member_magnitude(total, stars.ENOUGH), np.nan)
    return Light(total, major / 2, ratio, enclosed, density, tenth)


def bulge_share(hubble_type: str) -> float:
    """Return the bulge's share of a galaxy's light by its type in the catalogue (Sb, SBbc, S0-a, E ...).

    Source: Simien & de Vaucouleurs 1986, ApJ 302, 564: the bulge is 0.324 t - 0.054 t^2 + 0.0047 t^3
    magnitudes fainter than the whole, t = T + 5 (coefficients from memory). 1 for ellipticals, 0 for types
    later than Sd and where the catalogue does not say.
    """
    plain = plain_type(hubble_type)
    if plain not in _STAGES:
        return 0.0
    t = _STAGES[plain] + 5
    return 10.0 ** (-0.4 * (0.324 * t - 0.054 * t**2 + 0.0047 * t**3))


def plain_type(hubble_type: str) -> str:
    """Return a galaxy's type without its bar and doubts: SABbc is Sbc, IB is I."""
    return re.sub(r"^([SI])(AB|A|B)(?=[a-dm]*$)", r"\1", hubble_type.strip().rstrip("?"))


def _curves(kinds: np.ndarray, types: np.ndarray, mean_mag: np.ndarray) -> Curves:
    enclosed = np.full((*kinds.shape, RADII.size), np.nan)
    density = enclosed.copy()
    for kind, (inside, local) in _LAWS.items():
        enclosed[kinds == kind], density[kinds == kind] = inside, local
    galaxies = kinds == "galaxy"
    names, index = np.unique(types[galaxies], return_inverse=True)
    bulge = np.array([bulge_share(name) for name in names.tolist()], float)[index]
    enclosed[galaxies], density[galaxies] = _galaxy(bulge, mean_mag[galaxies])
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
