"""Why a draft leaves something out: figures only; `wording.objections` makes sentences of them."""

from nightmode.records import Record
from nightmode.visibility.reasons import Verdict
from nightmode.visibility.words import Word


class Objection(Record):
    """What speaks against an object, or what became of it."""


# What was asked for.


class OtherKind(Objection):
    """It is not of the kinds asked for."""


class SeenAlready(Objection):
    """It has been seen."""


class NotInCatalogue(Objection):
    """It is a body of the Solar System, which has no catalogue figures to be asked by."""


class LiesElsewhere(Objection):
    """It lies in another constellation than was asked for; empty for none that is known."""

    constellation: str


class FarFrom(Objection):
    """It is farther than asked for from the object of this name."""

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
    """It cannot be observed in these hours; it gets no higher than this."""

    highest_deg: float


class NothingPublished(Objection):
    """There is no brightness, size or separation to judge it by."""


class TooHard(Objection):
    """It is harder than asked for, by the judgement of the whole catalogue."""

    word: Word
    margin_dex: float


class TooHardThen(Objection):
    """It is harder than asked for, by the verdict on it as a target of this night."""

    verdict: Verdict


# What became of it among the others.


class InPlan(Objection):
    """It was chosen."""


class SameView(Objection):
    """It is in one view with a target of this name that was chosen."""

    name: str


class NoTime(Objection):
    """It cannot be reached in time beside the others, at so many seconds a target."""

    pace_s: float


class Outranked(Objection):
    """Others are worth more; place counts from 1 among `of` that fit, 0 where it was not ranked."""

    place: int = 0
    of: int = 0
