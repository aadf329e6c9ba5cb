"""The V magnitude to calculate with where the catalogue has only a blue one."""

from nightmode.kinds import Kind
from nightmode.model.target import DeepSky, Fixed, Subject
from nightmode.visibility.profile import plain_type

#: Usual B - V by galaxy type and by kind. Source: medians over the rows of OpenNGC that have both (their
#: middle halves are 0.2 to 0.3 wide; for planetary nebulae, where that is 1.3, the lower quartile). Kinds
#: with too few such rows are left as they are: a blue magnitude is then taken for V, on the cautious side.
_BLUE_EXCESS_BY_TYPE = {
    "E": 0.95, "E-S0": 0.95, "S0": 0.95, "S0-a": 0.9, "Sa": 0.78, "Sab": 0.76, "Sb": 0.7, "Sbc": 0.64,
    "Sc": 0.59, "Scd": 0.5, "Sd": 0.47, "Sm": 0.45, "I": 0.45,
}  # fmt: skip
_BLUE_EXCESS = {
    Kind.GALAXY: 0.6,
    Kind.GLOBULAR_CLUSTER: 0.7,
    Kind.OPEN_CLUSTER: 0.36,
    Kind.CLUSTER_NEBULA: 0.17,
    Kind.PLANETARY_NEBULA: 0.2,
    Kind.STAR: 0.42,
}


def blue_excess_mag(kind: Kind, hubble_type: str = "") -> float:
    """Return what to take off a B magnitude to get the usual V of such an object."""
    usual = _BLUE_EXCESS.get(kind, 0.0)
    return _BLUE_EXCESS_BY_TYPE.get(plain_type(hubble_type), usual) if kind is Kind.GALAXY else usual


def is_from_blue(subject: Subject) -> bool:
    """Return whether the V magnitude of a target is calculated from a blue one."""
    return isinstance(subject, Fixed) and subject.magnitude is not None and subject.magnitude_band == "B"


def visual_magnitude(subject: Fixed) -> float | None:
    """Return the V magnitude, from a blue one if need be; None where nothing is published."""
    if subject.magnitude is None or not is_from_blue(subject):
        return subject.magnitude
    return subject.magnitude - blue_excess_mag(
        subject.kind, subject.hubble_type if isinstance(subject, DeepSky) else ""
    )
