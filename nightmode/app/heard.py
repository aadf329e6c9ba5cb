"""The words that are spoken for each page: pure functions of the walker and the time, like the pages.

Every function returns sentences that are short enough to listen to; nothing here makes a sound.
"""

from nightmode.app.glance import Glance
from nightmode.app.pages.aim import ChartView
from nightmode.app.pages.main import next_rows, nothing_up_words
from nightmode.app.pages.remarks import NOTHING as NOTHING_WRITTEN
from nightmode.app.pages.remarks import remarks
from nightmode.app.say import Say
from nightmode.app.walker import Walker
from nightmode.night.aiming import pointing_at, through
from nightmode.night.telling import target_now
from nightmode.sky.setting_circles import circle_readings
from nightmode.walk.order import Standing
from nightmode.wording.aim import eyepiece_words, finder_words
from nightmode.wording.earlier import earlier_text
from nightmode.wording.setting_circles import circle_rows
from nightmode.wording.spoken import answers
from nightmode.wording.spoken import target as spoken
from nightmode.wording.spoken.aim import labelled
from nightmode.wording.spoken.sentences import Told, said
from nightmode.wording.spoken.target import TargetNow

Sentences = tuple[str, ...]
NOTHING = "nothing is up"
#: How many figures for setting circles follow altitude and azimuth, which are told in words.
FIGURES = 4


def change(walker: Walker, now_s: float, lead: str = "") -> Told:
    """Return the target shown in full, or what there is to wait for when nothing is up."""
    target = _shown(walker, now_s)
    return spoken.change(target, lead) if target else _unnamed(*nothing_up_words(walker, now_s))


def answer(say: Say) -> Sentences:
    """Return a message of the screen as sentences for the ear; alerts too, such as "not saved"."""
    if say.ticked and say.ticked.target and say.ticked.outcome:
        return answers.ticked(say.ticked.target, say.ticked.outcome.value)
    return answers.undone(say.undone) if say.undone else said(say.whole)


def where_it_is(walker: Walker, now_s: float) -> Told:
    """Return the way over the sky to the target shown, as beside the chart of the sky."""
    target = _shown(walker, now_s)
    return spoken.where_it_is(target) if target else _unnamed(NOTHING)


def in_view(walker: Walker, now_s: float, view: ChartView) -> Sentences:
    """Return what finder or eyepiece shows, as beside their charts; the way over the sky without either."""
    row = walker.shown(now_s)
    if row is None:
        return said(NOTHING)
    target = _of(Glance(walker, row, now_s))
    if target.pointing and view is ChartView.FINDER and target.pointing.finder:
        return labelled(finder_words(target.pointing))
    if target.pointing and view is ChartView.EYEPIECE and target.look:
        telescope = walker.night.targets[row].kit.telescope
        return labelled(eyepiece_words(target.pointing, through(telescope, target.look)))
    return spoken.where_it_is(target).sentences


def what_next(walker: Walker, now_s: float) -> Sentences:
    """Return the names of the next two targets, and how many targets are done and to do."""
    names = [walker.night.targets[row].subject.name for row in next_rows(walker, now_s)]
    standings = walker.standings(now_s)
    return answers.nexts(names, standings.count(Standing.DONE), standings.count(Standing.TO_DO))


def eyepiece(walker: Walker, now_s: float) -> Sentences:
    """Return the eyepiece in use and its figures."""
    target = _shown(walker, now_s)
    return spoken.eyepiece_figures(target) if target else said(NOTHING)


def written(walker: Walker, now_s: float) -> Sentences:
    """Return all that is written about the target shown, or with none shown about the night."""
    return labelled(remarks(walker, walker.shown(now_s))) or said(NOTHING_WRITTEN)


def setting_circles(walker: Walker, now_s: float) -> Told:
    """Return how high the target shown stands, how long it can be seen, and figures for setting circles."""
    target, site = _shown(walker, now_s), walker.night.site
    if target is None:
        return _unnamed(NOTHING)
    found = circle_readings(
        now_s, target.altitude_deg, target.azimuth_deg, site.latitude_deg, site.longitude_deg
    )
    rows = [figure for pair in circle_rows(found) for figure in pair]
    figures = said(*(f"{_SPELT.get(label, label)}: {reading}" for _, label, reading in rows[-FIGURES:]))
    texts = (*spoken.how_high(target), *spoken.how_long(target), *figures)
    return Told(texts, len(spoken.named(target)))


def _unnamed(*texts: str) -> Told:
    """Return texts of the screen of which none names a target."""
    told = said(*texts)
    return Told(told, len(told))


_SPELT = {"right asc.": "right ascension", "sidereal": "sidereal time"}


def listed(walker: Walker, row: int, now_s: float) -> Sentences:
    """Return a row of the list: the target, its outcome or state, and until when it can be seen."""
    glance = Glance(walker, row, now_s)
    target, state = _of(glance), glance.outcome or glance.standing.value
    return (*spoken.named(target), *said(str(state)), *spoken.how_long(target))


def _shown(walker: Walker, now_s: float) -> TargetNow | None:
    row = walker.shown(now_s)
    return None if row is None else _of(Glance(walker, row, now_s))


def _of(glance: Glance) -> TargetNow:
    walker, night, row, now_s = glance.walker, glance.night, glance.row, glance.now_s
    key = glance.target.chance.key
    before = walker.earlier.get(key)
    earlier = [earlier_text(before.outcome, before.night, night.date, before.note)] if before else []
    return target_now(
        night,
        row,
        now_s,
        glance.combination,
        walker.verdict(row, now_s),
        pointing_at(night, row, now_s),
        (*walker.state.notes(key)[-2:], *earlier),
    )
