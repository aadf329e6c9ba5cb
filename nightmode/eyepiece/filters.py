"""Chooses a filter: one that passes the light of the target, if more can be seen with it."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from nightmode.kinds import Kind, ShinesIn
from nightmode.model.kit import Filter, Passband
from nightmode.model.target import DeepSky, Subject
from nightmode.visibility.photometry import mean_surface_brightness_mag

#: The contrast, in dex over the threshold, from which on something shows plainly, and fairly, in an eyepiece
#: (fitted to what observers look with; no published source).
PLAIN_DEX, FAIRLY_DEX = 0.35, -0.1
#: A filter is suggested if it gains this contrast, in dex (our own rule) ...
GAIN_DEX = 0.1
#: ... but where there is plenty without it, only if it shows this much more of the target's extent (our own).
PLENTY_DEX, GAIN_EXTENT = 1.5, 0.1
#: A planetary nebula with a surface brighter than this, V mag/arcsec², wants power and no filter, as long as
#: it is at least fair without one (common practice, no published source).
BRIGHT_SURFACE_MAG = 19.0
#: Of filters that gain nearly the same, or that all make it easy, take the usual one for the light.
SAME_DEX = 0.05

#: Passbands that help, the usual one first, by the target's light (common practice, no published source).
_HELPFUL: dict[ShinesIn, tuple[Passband, ...]] = {
    ShinesIn.OXYGEN: ("oiii", "narrowband"),
    ShinesIn.BOTH: ("narrowband", "oiii"),
    ShinesIn.HYDROGEN: ("narrowband", "hbeta"),
    ShinesIn.STARLIGHT: (),
}


class Visibility(NamedTuple):
    """What a combination shows: contrast in dex, share of the extent, the margin that the word goes by."""

    contrast_dex: float | None
    extent: float = 0.0
    margin_dex: float | None = None

    @property
    def stands_out_dex(self) -> float:
        """The contrast, to be compared: less than any other where it is not known."""
        return float("-inf") if self.contrast_dex is None else self.contrast_dex


def passbands(shines_in: ShinesIn) -> tuple[Passband, ...]:
    """Return the passbands that help for targets that shine in this light, the usual one first."""
    return _HELPFUL[shines_in]


def helpful(subject: Subject, filters: Sequence[Filter]) -> list[Filter]:
    """Return the filters that pass the light of the target, the usual one for such light first."""
    wanted: tuple[Passband, ...] = ("neutral",) if subject.kind is Kind.MOON else ()
    if isinstance(subject, DeepSky):
        wanted = passbands(subject.light)
    found = (filter_ for filter_ in filters if filter_.passband in wanted)
    return sorted(found, key=lambda filter_: wanted.index(filter_.passband))


def is_bright_disc(subject: Subject) -> bool:
    """Return whether a target is a planetary nebula with so bright a surface that it wants no filter."""
    if not isinstance(subject, DeepSky) or subject.kind is not Kind.PLANETARY_NEBULA:
        return False
    if subject.magnitude is None or subject.size_arcmin is None:
        return False
    minor_arcmin = subject.size_minor_arcmin or subject.size_arcmin
    surface = mean_surface_brightness_mag(subject.magnitude, subject.size_arcmin, minor_arcmin)
    return bool(surface < BRIGHT_SURFACE_MAG)


def filter_for(
    subject: Subject, candidates: Sequence[Filter], seen: Callable[[Filter | None], Visibility]
) -> Filter | None:
    """Return the filter that helps most through an eyepiece, or None if none helps enough.

    seen returns how visible the target is with a filter, or with None. Where that is not known, take the
    first.
    """
    if not candidates:
        return None
    bare = seen(None)
    if bare.contrast_dex is None:
        return candidates[0]
    if bare.contrast_dex >= FAIRLY_DEX and is_bright_disc(subject):
        return None
    gains = _gains_with_stars if subject.kind is Kind.CLUSTER_NEBULA else _gains
    gaining = [(filter_, shown) for filter_ in candidates if gains(bare, shown := seen(filter_))]
    if not gaining:
        return None
    enough = min(PLAIN_DEX, max(shown.stands_out_dex for _, shown in gaining) - SAME_DEX)
    return next(filter_ for filter_, shown in gaining if shown.stands_out_dex >= enough)


def _gains(bare: Visibility, filtered: Visibility) -> bool:
    if not _is_gain(bare.contrast_dex, filtered.contrast_dex):
        return False
    return bare.stands_out_dex < PLENTY_DEX or filtered.extent >= bare.extent + GAIN_EXTENT


def _gains_with_stars(bare: Visibility, filtered: Visibility) -> bool:
    """Return whether a nebula with its cluster gains: its stars stand out, so the margin counts too."""
    return _gains(bare, filtered) or _is_gain(bare.margin_dex, filtered.margin_dex)


def _is_gain(bare_dex: float | None, filtered_dex: float | None) -> bool:
    return bare_dex is not None and filtered_dex is not None and filtered_dex >= bare_dex + GAIN_DEX
