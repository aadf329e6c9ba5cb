"""What is said of an object that a draft left out: a line for each objection, with its figures."""

from zoneinfo import ZoneInfo

import pytest
from rows import rows

from nightmode.visibility import objections as of
from nightmode.visibility.reasons import Low, NeverUp, Verdict
from nightmode.wording.objections import objection_text
from nightmode.words import Cause, Word

ZONE = ZoneInfo("Europe/Vienna")
HARD = Verdict(Word.HARD, -0.2, Cause.LOW, Low(12.0, None))
HIDDEN = Verdict(Word.OUT, None, Cause.NEVER_UP, NeverUp(52.0, 15.0))
EVERY = {
    of.OtherKind(): "is not of the kinds asked for",
    of.SeenAlready(): "has been seen already",
    of.NotInCatalogue(): "is no object of the catalogue, which this asks for",
    of.LiesElsewhere("Vir"): "lies in Vir",
    of.LiesElsewhere(""): "lies in no known constellation",
    of.FarFrom(12.34, "M 87"): "is 12.3° from M 87",
    of.NotBrighter(11.0): "is not brighter than 11",
    of.NotLarger(4.5): "is not larger than 4.5′",
    of.NotUp(83.2): "stands up to 83° high in these hours, but below your floor, behind the horizon line, "
    "out of its light, or in twilight",
    of.NotUp(17.6): "is not up in these hours, clear of the horizon and in the dark (at most 18°)",
    of.NotUsable(HIDDEN): "cannot be observed in these hours: behind the horizon line while it is dark",
    of.NothingPublished(): "has no published brightness, size or separation to judge it by",
    of.TooHard(Word.OUT, -0.5): "is out of reach of this telescope under this sky (-0.50 dex)",
    of.TooHard(Word.HARD, -0.2): "is hard (-0.20 dex), harder than asked for",
    of.TooHardThen(HARD): "is hard, harder than asked for: only 12° high; no higher later",
    of.InPlan(): "is in the plan",
    of.SameView("M 31"): "is in one view with M 31, which is in the plan",
    of.NoTime(480.0): "cannot be reached in time beside the others at 8 minutes a target",
    of.Outranked(): "fits, but others are worth more here",
    of.Outranked(31, 120): "fits, but others are worth more here (place 31 of 120)",
}


@rows("objection, words", EVERY.items())
def test_an_objection_is_told_with_its_figures(objection, words):
    assert objection_text(objection, ZONE) == words


def test_every_objection_is_told():
    assert {type(objection) for objection in EVERY} == set(of.Objection.__subclasses__())


def test_an_objection_without_words_is_a_mistake_that_shows():
    with pytest.raises(TypeError):
        objection_text(of.Objection(), ZONE)
