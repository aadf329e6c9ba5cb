"""The lines about one target: name, place in the sky, what to look with, what to look for."""

from collections.abc import Sequence

import numpy as np

from nightmode.app.glance import Glance
from nightmode.app.pages.budget import UNBOUNDED, Budget
from nightmode.app.pages.line import BLANK, Line, Role, fit, line, width, wrap
from nightmode.app.pages.sights import LABEL, sight_lines, what_lines
from nightmode.eyepiece import Combination
from nightmode.eyepiece.why import Why
from nightmode.kinds import Kind
from nightmode.model.kit import Binoculars
from nightmode.model.target import Comet, LunarFeature, MinorPlanet, Subject
from nightmode.night.table import Night, NightTarget
from nightmode.night.usable import least_altitude_deg
from nightmode.walk.order import Standing
from nightmode.walk.usable import Ending, Usable, floor_deg
from nightmode.wording.earlier import earlier_text
from nightmode.wording.figures import (
    compass_point,
    duration,
    field,
    kind_and_place,
    power,
    round_angle,
    time_of_day,
)
from nightmode.wording.moon import what_it_is, where_on_it
from nightmode.wording.moving import moving_text
from nightmode.wording.place import align_words
from nightmode.wording.reasons import reason_text
from nightmode.wording.suggestion import why_text
from nightmode.words import Word

#: The text block of a target, in cells.
BLOCK = 60
#: Rows for a remark of the plan: so many at least, and so many where there is room and light.
LEAST_WISHES, MOST_WISHES = 2, 10
#: The letters of a message, kept free whether there is one or not, so that the page does not move.
MESSAGE = 40


def target_lines(glance: Glance, size: tuple[int, int], budget: Budget = UNBOUNDED) -> list[Line]:
    """Return the lines about a target for a size (columns, rows); what is needed least is left out first.

    budget is what the whole page may light; remarks of the plan are told at length only where it allows that.
    """
    columns, rows = size
    target, block = glance.target, min(BLOCK, columns)
    allowed = budget.inside().less(MESSAGE)
    essential = [
        _head(target.subject.name, _aside(glance), block),
        *_what_rows(*_what(glance), block),
        *what_lines(glance, block),
        BLANK,
        _altitude(glance),
        _sets(glance),
        *_verdict(glance, block),
        *sight_lines(glance, block),
        BLANK,
        *_find(glance, block),
        *_look(glance, block),
    ]
    above = [*essential, *_align(glance, block), BLANK]
    below = [*_notes(glance, block), *_earlier(glance, block)]
    lines = [*above, *_wishes(target, block, LEAST_WISHES), *below]
    for most in range(MOST_WISHES, LEAST_WISHES, -1):  # more of them where there is room and light
        longer = [*above, *_wishes(target, block, most), *below]
        if len(longer) <= rows and allowed.allows(longer):
            lines = longer
            break
    while len(lines) > rows and BLANK in lines:
        lines.remove(BLANK)
    return lines[:rows]


def _head(name: str, aside: str, block: int) -> Line:
    return line((fit(name, block - width(aside)) if aside else name, "strong"), (aside, "faint"))


def _aside(glance: Glance) -> str:
    standing = glance.standing
    if standing is Standing.DONE:
        return f"   {glance.outcome.value}" if glance.outcome else ""
    if standing is Standing.MISSED and not glance.target.usable:
        return "   not tonight"
    if standing is not Standing.TO_DO:
        return f"   {standing.value}"
    return "   esc: back" if glance.walker.looks_elsewhere else ""


def _what_rows(kind: str, others: str, block: int) -> list[Line]:
    words = kind + others
    if width(words) <= block:
        return [line((kind, "text"), (others, "spare"))]
    return [line((row, "text")) for row in wrap(words, block, most=2)]


def _what(glance: Glance) -> tuple[str, str]:
    """Return what and where a target is, and apart from it its other names, which are needed less."""
    night, now_s = glance.night, glance.now_s
    subject, tonight = glance.target.subject, glance.target.feature
    if tonight and isinstance(subject, LunarFeature):
        seen_deg, sun_deg = night.along(tonight.seen_deg, now_s), night.along(tonight.sun_deg, now_s)
        return f"{what_it_is(subject, seen_deg)}; {where_on_it(subject, sun_deg)}", ""
    if subject.kind is Kind.MOON:  # its name has said what it is
        return f"{night.moon.illuminated * 100:.0f} % lit", ""
    others = ", ".join(_other_names(subject))
    return kind_and_place(subject.kind.value, subject.constellation), f"  ({others})" if others else ""


def _other_names(subject: Subject) -> list[str]:
    """Return two other names at most; none that only adds words to a name told already."""
    told = [subject.name]
    for name in subject.other_names:
        pairs = [sorted((f"{name} ", f"{known} "), key=len) for known in told]
        if not any(longer.startswith(shorter) for shorter, longer in pairs):
            told.append(name)
    return told[1:3]


def _altitude(glance: Glance) -> Line:
    night, row, now_s = glance.night, glance.row, glance.now_s
    azimuth = night.azimuth_at(row, now_s)
    way = "rising" if night.is_rising(row, now_s) else "falling"
    return line(
        ("altitude".ljust(LABEL), "kept"),
        (f"{night.altitude_at(row, now_s):.1f}°", "strong"),
        (f" {way}", "text"),
        (f"   {compass_point(azimuth)} {round_angle(azimuth)}", "text"),
    )


def _sets(glance: Glance) -> Line:
    target, now_s, zone, stretch = glance.target, glance.now_s, glance.zone, glance.stretch
    if stretch is None:
        last = target.usable[-1] if target.usable else None
        never = "not in its light tonight" if target.feature else "never high enough in the dark tonight"
        told = f"{time_of_day(last.end_s, zone)}, gone for tonight" if last else never
        return line(("set".ljust(LABEL) if last else "", "faint"), (told, "text"))
    if stretch.start_s > now_s:
        wait = f"{time_of_day(stretch.start_s, zone)}, in {duration(stretch.start_s - now_s)}"
        why = _waits_for(glance.night, glance.row, stretch.start_s)
        return line(("from".ljust(LABEL), "faint"), (wait, "text"), (f"   {why}", "faint"))
    label = "sets" if stretch.ends_by is Ending.HORIZON else "until"
    left = duration(stretch.end_s - now_s)
    return line(
        (label.ljust(LABEL), "kept"),
        (time_of_day(stretch.end_s, zone), "strong"),
        (f"   {left} left", "text"),
        (f"   {_behind(glance, stretch)}", "faint"),
    )


def _waits_for(night: Night, row: int, start_s: float) -> str:
    """Return what a stretch begins with: "rises", or if the target is up before, the dark or light on it."""
    if not _is_clear_before(night, row, start_s):
        return "rises"
    tonight = night.targets[row].feature
    comes = tonight and tonight.light_at(start_s + 60.0)
    return "the Sun reaches it" if comes and abs(comes[0] - start_s) < 300.0 else "waits for the dark"


def _is_clear_before(night: Night, row: int, start_s: float) -> bool:
    """Return whether a target was above its usable floor before a stretch began."""
    before_s = start_s - 60.0
    least_deg = np.array([least_altitude_deg(night.targets[row].subject, night.person)])
    floor = floor_deg(least_deg, night.site.horizon, np.array([[night.azimuth_at(row, before_s)]]))
    return night.altitude_at(row, before_s) > float(floor[0, 0])


def _behind(glance: Glance, stretch: Usable) -> str:
    if stretch.ends_by is Ending.DAWN:
        return "dawn"
    if stretch.ends_by is Ending.LIGHT:
        return "then its light is gone"
    minimum_deg = least_altitude_deg(glance.target.subject, glance.night.person)
    behind_line = stretch.end_altitude_deg > minimum_deg + 0.1
    return "behind the horizon line" if behind_line else f"below {minimum_deg:.0f}°"


def _verdict(glance: Glance, block: int) -> list[Line]:
    stretch, now_s = glance.stretch, glance.now_s
    # For a target that is not up yet, take the verdict of its first usable minute.
    verdict = glance.walker.verdict(glance.row, max(now_s, stretch.start_s + 60.0) if stretch else now_s)
    begin = LABEL + width(verdict.word) + 2
    reasons = wrap(reason_text(verdict, glance.zone), block - begin, most=2)
    # What would change the word is worth more on a dark page than a remark; what an easy target shows, less.
    role: Role = "faint" if verdict.word is Word.EASY else "told"
    first = line(("verdict".ljust(LABEL), role), (verdict.word, "text"), (f"  {reasons[0]}", role))
    return [first, *(line((" " * begin, "line"), (more, "more")) for more in reasons[1:])]


def _find(glance: Glance, block: int) -> list[Line]:
    """Return what to find it with; of several instruments the one in use and the one the key takes next."""
    target, kits = glance.target, glance.night.instruments.kits
    instrument = target.kit.telescope
    has_one_power = isinstance(instrument, Binoculars) and instrument.has_one_power
    found = [] if has_one_power else [_optics("find", target.find, block)]  # else the same as to look with
    if len(kits) == 1:
        return found
    name = fit(target.kit.telescope.name, block - LABEL)
    after = kits[(kits.index(target.kit) + 1) % len(kits)].telescope.name
    hint = f"   o: {after}" if LABEL + width(f"{name}   o: {after}") <= block else "   o: another"
    used = line(("with".ljust(LABEL), "faint"), (name, "text"), (hint, "faint"))
    return [used, *found]


def _optics(label: str, combination: Combination | None, block: int) -> Line:
    if combination is None:
        return line((label.ljust(LABEL), "told"), ("no eyepiece that fits", "text"))
    figures = f"   {power(combination.power)}  {field(combination.true_field_deg)}"
    shown = fit(combination.name, block - LABEL - width(figures))
    # one piece: an eyepiece without its label may be taken for the other one
    return line((label.ljust(LABEL) + shown, "text"), (figures, "text"))


def _look(glance: Glance, block: int) -> list[Line]:
    target, combination = glance.target, glance.combination
    if combination is None or target.look is None:
        return []
    other = glance.walker.has_other_eyepiece
    reason = f"exit pupil {combination.exit_pupil_mm:.1f} mm" if other else why_text(target.look.why)
    lines = [_optics("look", combination, block)]
    if other or target.look.why is not Why.FIXED:
        lines.append(line((" " * LABEL, "line"), (reason, "spare")))
    if target.look.filter:
        lines.append(line(("filter".ljust(LABEL), "faint"), (target.look.filter, "text")))
    return lines


def _align(glance: Glance, block: int) -> list[Line]:
    """Return the star to set the finder on, as long as nothing has been ticked."""
    star = glance.walker.align_first(glance.row, glance.now_s)
    if star is None:
        return []
    words = align_words(star, glance.night.person.fist_deg)
    # one piece: without the label nobody knows what to set on the star
    return [BLANK, line((fit("finder".ljust(LABEL) + words, block), "text"))]


def _wishes(target: NightTarget, block: int, most: int) -> list[Line]:
    """Return how it moves, what to look for and the plan's note, each in up to `most` rows."""
    subject = target.subject
    moving = moving_text(subject) if isinstance(subject, Comet | MinorPlanet) else ""
    words = [text for text in (moving, subject.look_for, subject.note) if text]
    return [row for text in words for row in _sentence(wrap(text, block, most), "told")]


def _earlier(glance: Glance, block: int) -> list[Line]:
    """Return what was seen of it on an earlier night, in the faint role."""
    earlier = glance.walker.earlier.get(glance.target.chance.key)
    if earlier is None:
        return []
    words = earlier_text(earlier.outcome, earlier.night, glance.night.date, earlier.note)
    return _sentence(wrap(words, block, most=2), "faint")


def _sentence(rows: Sequence[str], role: Role) -> list[Line]:
    """Return the rows of one sentence, marked so that they are left out together."""
    return [line((row, "more" if number else role)) for number, row in enumerate(rows)]


def _notes(glance: Glance, block: int) -> list[Line]:
    notes = glance.walker.state.notes(glance.target.chance.key)[-2:]
    return [line((row, "text")) for note in notes for row in wrap(f"· {note}", block, most=1)]
