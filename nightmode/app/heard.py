"""What the pages say aloud: each a pure function of the walker and the time, as the pages themselves are.

Every function returns sentences short enough for the ear; nothing here makes a sound.
"""

from nightmode.app.pages.aim import ChartView
from nightmode.app.pages.main import next_rows, nothing_up_words
from nightmode.app.walker import Say, Walker
from nightmode.night.aiming import pointing, through
from nightmode.night.telling import shown
from nightmode.sky.setting_circles import circle_readings
from nightmode.walk.order import Standing
from nightmode.wording.aim import eyepiece_words, finder_words
from nightmode.wording.earlier import earlier_text
from nightmode.wording.setting_circles import circle_rows
from nightmode.wording.spoken import answers, target
from nightmode.wording.spoken.aim import labelled
from nightmode.wording.spoken.sentences import said
from nightmode.wording.spoken.target import Shown

Sentences = tuple[str, ...]
NOTHING = "nothing is up"


def change(walker: Walker, now_s: float, lead: str = "") -> Sentences:
    """Return the target shown in full, or what there is to wait for when nothing is up."""
    one = _shown(walker, now_s)
    return target.change(one, lead) if one else said(*nothing_up_words(walker, now_s))


def answer(say: Say) -> Sentences:
    """Return a message for the ear, an alert among them: that something is not saved is heard as well."""
    if say.ticked and say.ticked.target and say.ticked.outcome:
        return answers.ticked(say.ticked.target, say.ticked.outcome.value)
    return answers.undone(say.undone) if say.undone else said(say.text)


def how_high(walker: Walker, now_s: float) -> Sentences:
    """Return how high the target shown stands, and where."""
    one = _shown(walker, now_s)
    return target.how_high(one) if one else said(NOTHING)


def how_long(walker: Walker, now_s: float) -> Sentences:
    """Return how long the target shown can still be seen."""
    one = _shown(walker, now_s)
    return target.how_long(one) if one else said(NOTHING)


def where(walker: Walker, now_s: float, view: ChartView = ChartView.SKY) -> Sentences:
    """Return what stands beside the chart of a view: the way over the sky, in the finder, in the eyepiece."""
    row = walker.shown(now_s)
    if row is None:
        return said(NOTHING)
    one = _of(walker, row, now_s)
    if one.pointing and view is ChartView.FINDER and one.pointing.finder:
        return labelled(finder_words(one.pointing))
    if one.pointing and view is ChartView.EYEPIECE and one.look:
        telescope = walker.night.targets[row].kit.telescope
        return labelled(eyepiece_words(one.pointing, through(telescope, one.look)))
    return target.where(one)


def what_next(walker: Walker, now_s: float) -> Sentences:
    """Return the two that come next, and how many are done and to do."""
    names = [walker.night.targets[row].subject.name for row in next_rows(walker, now_s)]
    places = walker.standings(now_s)
    return answers.nexts(names, places.count(Standing.DONE), places.count(Standing.TO_DO))


def eyepiece(walker: Walker, now_s: float) -> Sentences:
    """Return the eyepiece in use and its figures."""
    one = _shown(walker, now_s)
    return target.eyepiece_figures(one) if one else said(NOTHING)


def setting_circles(walker: Walker, now_s: float) -> Sentences:
    """Return the figures for setting circles."""
    one, night = _shown(walker, now_s), walker.night
    if one is None:
        return said(NOTHING)
    site = night.site
    found = circle_readings(now_s, one.altitude_deg, one.azimuth_deg, site.latitude_deg, site.longitude_deg)
    rows = [figure for pair in circle_rows(found) for figure in pair]
    return (
        *target.named(one),
        *said(*(f"{_SPELT.get(label, label)}: {figures}" for _, label, figures in rows)),
    )


_SPELT = {"right asc.": "right ascension", "sidereal": "sidereal time"}


def listed(walker: Walker, row: int, now_s: float) -> Sentences:
    """Return a row of the list: the target, where it stands in the walk, and until when it can be seen."""
    one = _of(walker, row, now_s)
    outcome = walker.state.outcome(walker.night.targets[row].chance.key)
    place = walker.standing(row, now_s).value
    return (*target.named(one), *said(f"{outcome or place}"), *target.how_long(one))


def _shown(walker: Walker, now_s: float) -> Shown | None:
    row = walker.shown(now_s)
    return None if row is None else _of(walker, row, now_s)


def _of(walker: Walker, row: int, now_s: float) -> Shown:
    night, key = walker.night, walker.night.targets[row].chance.key
    before = walker.earlier.get(key)
    earlier = [earlier_text(before.outcome, before.night, night.date, before.note)] if before else []
    return shown(
        night,
        row,
        now_s,
        walker.combination(row),
        walker.verdict(row, now_s),
        pointing(night, row, now_s),
        (*walker.state.notes(key)[-2:], *earlier),
    )
