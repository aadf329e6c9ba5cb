"""Every reason a verdict can give has words, and they are one short line."""

from inspect import get_annotations
from itertools import product
from zoneinfo import ZoneInfo

import pytest
from rows import rows

from nightmode.visibility import reasons
from nightmode.visibility.reasons import AltitudeAt, Low, Missing, NeverUp, Reason, Verdict
from nightmode.wording.reasons import reason_text
from nightmode.words import Cause, Word

ZONE = ZoneInfo("Europe/Vienna")
EVENING_S = 1_797_033_600.0  # 2026-12-12 00:00 UTC, 01:00 in Vienna

#: For each type a field may have, values that its sentence must bear.
VALUES = {
    "float": (0.4, 88.8),
    "float | None": (None, EVENING_S),
    "bool": (True, False),
    "Cause": (Cause.NO_BRIGHTNESS, Cause.NO_EYEPIECE, Cause.NO_SEPARATION),
    "Word": (Word.EASY, Word.FAIR, Word.HARD),
    "str": ("", "floor craterlets"),
    "Low": (Low(22.0, None), Low(22.0, AltitudeAt(54.4, EVENING_S))),
    "AltitudeAt | None": (None, AltitudeAt(54.4, EVENING_S)),
}
KINDS = Reason.__subclasses__()


def examples(kind):
    choices = [
        (EVENING_S,) if name.endswith("_s") and type_ is float else VALUES[_named(type_)]
        for name, type_ in get_annotations(kind).items()
    ]
    return [kind(*values) for values in product(*choices)]


def _named(annotation):
    return (
        annotation.__name__
        if isinstance(annotation, type)
        else str(annotation).replace("nightmode.visibility.reasons.", "").replace("nightmode.words.", "")
    )


@rows("kind", KINDS)
def test_every_reason_has_one_short_line_under_every_word(kind):
    for reason, word in product(examples(kind), Word):
        if isinstance(reason, reasons.ApertureNeeded) and reason.companion_mag == EVENING_S:
            reason = reasons.ApertureNeeded(reason.aperture_mm, 11.5)
        told = reason_text(Verdict(word, None, Cause.NONE, reason), ZONE)
        assert 0 < len(told) <= 55
        assert told.isprintable()
        assert "None" not in told
        assert "nan" not in told


def test_a_reason_without_words_is_a_mistake_that_shows():
    class Nameless(Reason):
        pass

    with pytest.raises(TypeError, match="Nameless"):
        reason_text(Verdict(Word.FAIR, None, Cause.SKY, Nameless()), ZONE)


@rows(
    "word, reason, told",
    [
        (Word.HARD, reasons.SkyNeeded(20.71, without_moon=False), "fair in a sky of 20.8"),
        (Word.OUT, reasons.SkyNeeded(20.71, without_moon=True), "needs a sky of 20.8 without Moon"),
        (Word.FAIR, reasons.ApertureNeeded(210.0), "easy with 250 mm"),
        (Word.OUT, reasons.ApertureNeeded(130.1, 11.46), "companion of 11.5: needs 150 mm"),
        (Word.OUT, NeverUp(12.9, 15.0), "at most 12° high in the dark; floor 15°"),
        (Word.OUT, NeverUp(40.0, 15.0), "behind the horizon line while it is dark"),
        (Word.OUT, NeverUp(-3.0, 15.0), "below the horizon while it is dark"),
        (Word.HARD, Low(12.4, AltitudeAt(31.2, EVENING_S)), "only 12° high; 31° at 01:00"),
        (Word.FAIR, Low(29.7, None), "only 29° high; no higher later"),
        (Word.UNKNOWN, Missing(Cause.NO_SIZE), "no published size"),
        (Word.FAIR, reasons.MorePower(34.6, 10.0, 15.6, then=Word.EASY), "34.6″ at 10x; easy from 16x"),
        (
            Word.OUT,
            reasons.MorePower(5.8, 10.0, 92.1, then=Word.EASY),
            "5.8″: one star at 10x; easy from 93x",
        ),
        (Word.FAIR, reasons.DiscInAperture(2.3, 1.0), "small disc of 2.3″; this aperture's limit 1.0″"),
        (Word.HARD, reasons.DiscInAperture(2.3, 1.7), "disc of 2.3″, near this aperture's limit of 1.7″"),
        (Word.OUT, reasons.FilterNeeded("oiii"), "needs an O III filter"),
        (Word.HARD, reasons.SkyAndApertureNeeded(21.7, 333.0, False), "fair with 350 mm in a sky of 21.7"),
        (Word.OUT, reasons.SkyAndApertureNeeded(21.7, 70, True), "needs 70 mm in a sky of 21.7 without Moon"),
        (Word.EASY, reasons.StarsShow(37.0), "well above the sky; about 40 stars"),
        (Word.EASY, reasons.StarsShow(100.0, True), "well above the sky; its stars show"),
        (Word.EASY, reasons.StarsShow(4.0, True), "well above the sky; its brightest stars show"),
        (Word.FAIR, reasons.DiscNeeds(10.0, 18.1), "looks like a star at 10x; a disc from 19x"),
        (Word.OUT, reasons.ApertureNeeded(1200.0), "needs more than 900 mm"),
        (Word.OUT, reasons.Glare(11.0, 9.9, True), "the star is easy; companion lost in its glare"),
        (Word.OUT, reasons.Glare(11.0, 9.9), "companion 11.0″ off, 9.9 mag fainter: lost"),
        (Word.HARD, reasons.Glare(9.4, 6.6, True), "companion 9.4″ off, 6.6 mag fainter: glare"),
        (Word.EASY, reasons.Split(9.5, 0.8), "9.5″, this aperture splits 0.8″"),
        (Word.FAIR, reasons.Split(2.0, 0.8, 2.3), "2.0″; easy from 2.3″ in this aperture and air"),
        (Word.FAIR, reasons.Split(2.0, 0.8, 2.32), "2.0″; easy from 2.4″ in this aperture and air"),
        (Word.FAIR, reasons.Split(1.76, 0.8, 1.79), "1.8″; just short of easy in this aperture and air"),
        (Word.HARD, reasons.Split(0.8, 0.8, 2.3), "0.8″, near this aperture's limit of 0.8″"),
        (Word.OUT, reasons.Split(1.5, 2.3), "1.5″: one star; this aperture ends at 2.3″"),
        (Word.OUT, reasons.TurnedAway(None), "turned away; not to be seen for a month"),
        (Word.OUT, reasons.WrongLight(31.2, None, None), "Sun 31° over it; no good light for a month"),
        (
            Word.FAIR,
            reasons.WrongLight(31.2, None, None, True),
            "Sun only 31° over it; no good light for a month",
        ),
    ],
)
def test_figures_become_the_sentence_that_belongs_to_the_word(word, reason, told):
    assert reason_text(Verdict(word, None, Cause.NONE, reason), ZONE) == told
