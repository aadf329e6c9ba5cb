"""Why a draft leaves an object out, as figures; `wording.objections` makes sentences of them."""

from nightmode.records import Record
from nightmode.visibility.reasons import Verdict
from nightmode.words import Word

#: Above this altitude in degrees it is something else than the height that keeps a target out, as a rule.
HIGH_DEG = 20.0


class Objection(Record):
    """What speaks against an object, or what happened to it in the choice."""


# What was asked for.


class OtherKind(Objection):
    """It is not of the kinds asked for."""


class SeenAlready(Objection):
    """It has been seen."""


class NotInCatalogue(Objection):
    """It is a body of the Solar System: it has no catalogue figures that could be compared."""


class LiesElsewhere(Objection):
    """It lies in another constellation than those asked for; "" if its constellation is not known."""

    constellation: str


class FarFrom(Objection):
    """It is farther from the object of this name than was asked for; apart_deg is the distance."""

    apart_deg: float
    name: str


class NotBrighter(Objection):
    """Its catalogued magnitude is not below the limit asked for."""

    limit_mag: float


class NotLarger(Objection):
    """Its catalogued size is not above the limit asked for."""

    limit_arcmin: float


# How it does in the hours asked for.


class NotUp(Objection):
    """It cannot be observed in the hours of the draft; it gets no higher than this."""

    highest_deg: float


class NotUsable(Objection):
    """It is up in the hours of the draft, but cannot be observed, for the reason of the full verdict."""

    verdict: Verdict


class NothingPublished(Objection):
    """No brightness, size or separation is published by which it could be judged."""


class TooHard(Objection):
    """It is harder than asked for, by the quick judgement that covers the whole catalogue."""

    word: Word
    margin_dex: float


class TooHardThen(Objection):
    """It is harder than asked for, by the full verdict on it as a target of the night."""

    verdict: Verdict


# What happened to it among the others.


class InPlan(Objection):
    """It is in the plan: it was chosen."""


class SameView(Objection):
    """It is in the same view as the target of this name, which was chosen."""

    name: str


class NoTime(Objection):
    """There is no time for it beside the others, at pace_s seconds for each target."""

    pace_s: float


class Outranked(Objection):
    """Others have a higher score. It has place `place`, from 1, of the `of` that fit; 0 if it has none."""

    place: int = 0
    of: int = 0
