"""Why a draft leaves something out: figures only; `wording.objections` makes sentences of them."""

from dataclasses import dataclass

from nightmode.visibility.reasons import Verdict
from nightmode.visibility.words import Word


@dataclass(frozen=True)
class Objection:
    """What speaks against an object, or what became of it."""


# What was asked for.


@dataclass(frozen=True)
class OtherKind(Objection):
    """It is not of the kinds asked for."""


@dataclass(frozen=True)
class SeenAlready(Objection):
    """It has been seen."""


@dataclass(frozen=True)
class NotInCatalogue(Objection):
    """It is a body of the Solar System, which has no catalogue figures to be asked by."""


@dataclass(frozen=True)
class LiesElsewhere(Objection):
    """It lies in another constellation than was asked for; empty for none that is known."""

    constellation: str


@dataclass(frozen=True)
class FarFrom(Objection):
    """It is farther than asked for from the object of this name."""

    apart_deg: float
    name: str


@dataclass(frozen=True)
class NotBrighter(Objection):
    """Its catalogued magnitude is not below the limit asked for."""

    limit_mag: float


@dataclass(frozen=True)
class NotLarger(Objection):
    """Its catalogued size is not above the limit asked for."""

    limit_arcmin: float


# How it does in the hours asked for.


@dataclass(frozen=True)
class NotUp(Objection):
    """It cannot be observed in these hours; it gets no higher than this."""

    highest_deg: float


@dataclass(frozen=True)
class NothingPublished(Objection):
    """There is no brightness, size or separation to judge it by."""


@dataclass(frozen=True)
class TooHard(Objection):
    """It is harder than asked for, by the judgement of the whole catalogue."""

    word: Word
    margin_dex: float


@dataclass(frozen=True)
class TooHardThen(Objection):
    """It is harder than asked for, by the verdict on it as a target of this night."""

    verdict: Verdict


# What became of it among the others.


@dataclass(frozen=True)
class InPlan(Objection):
    """It was chosen."""


@dataclass(frozen=True)
class SameView(Objection):
    """It is in one view with a target of this name that was chosen."""

    name: str


@dataclass(frozen=True)
class NoTime(Objection):
    """It cannot be reached in time beside the others, at so many seconds a target."""

    pace_s: float


@dataclass(frozen=True)
class Outranked(Objection):
    """Others are worth more; place counts from 1 among `of` that fit, 0 where it was not ranked."""

    place: int = 0
    of: int = 0
