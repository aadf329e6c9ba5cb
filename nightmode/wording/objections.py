"""The sentence on an object that a draft left out, to follow its name."""

from zoneinfo import ZoneInfo

from nightmode.visibility import objections as of
from nightmode.visibility.objections import Objection
from nightmode.wording.reasons import reason_text
from nightmode.words import Word


def objection_text(objection: Objection, zone: ZoneInfo) -> str:
    """Return what speaks against an object, or what happened to it: "has been seen already"."""
    match objection:
        case of.OtherKind() | of.SeenAlready() | of.NotInCatalogue() | of.NothingPublished() | of.InPlan():
            return _PLAIN[type(objection)]
        case of.NotUp(highest_deg):
            if highest_deg > of.HIGH_DEG:
                in_the_way = "below your floor, behind the horizon line, out of its light, or in twilight"
                return f"stands up to {highest_deg:.0f}° high in these hours, but {in_the_way}"
            limit = f"at most {highest_deg:.0f}°"
            return f"is not up in these hours, clear of the horizon and in the dark ({limit})"
        case of.NotUsable(verdict):
            return f"cannot be observed in these hours: {reason_text(verdict, zone)}"
        case of.TooHard(word, margin_dex):
            margin = f"({margin_dex:+.2f} dex)"
            beyond = f"is {word} of this telescope under this sky {margin}"
            return beyond if word is Word.OUT else f"is {word} {margin}, harder than asked for"
        case of.TooHardThen(verdict):
            asked = "" if verdict.word is Word.OUT else ", harder than asked for"
            return f"is {verdict.word}{asked}: {reason_text(verdict, zone)}"
        case of.SameView(name):
            return f"is in one view with {name}, which is in the plan"
        case of.NoTime(pace_s):
            return f"cannot be reached in time beside the others at {pace_s / 60:.0f} minutes a target"
        case of.Outranked(place, count):
            rank = f" (place {place} of {count})" if place else ""
            return f"fits, but others are worth more here{rank}"
        case _:
            return _not_asked_for(objection)


def _not_asked_for(objection: Objection) -> str:
    match objection:
        case of.LiesElsewhere(constellation):
            return f"lies in {constellation or 'no known constellation'}"
        case of.FarFrom(apart_deg, name):
            return f"is {apart_deg:.1f}° from {name}"
        case of.NotBrighter(limit_mag):
            return f"is not brighter than {limit_mag:g}"
        case of.NotLarger(limit_arcmin):
            return f"is not larger than {limit_arcmin:g}′"
        case _:
            raise TypeError(objection)


_PLAIN: dict[type[Objection], str] = {
    of.OtherKind: "is not of the kinds asked for",
    of.SeenAlready: "has been seen already",
    of.NotInCatalogue: "is no object of the catalogue, which this asks for",
    of.NothingPublished: "has no published brightness, size or separation to judge it by",
    of.InPlan: "is in the plan",
}
