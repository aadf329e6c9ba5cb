"""What fits on a night, as text: a few lines about the night, then tables of at most 80 columns."""

import itertools
from collections.abc import Sequence
from textwrap import wrap

from nightmode.catalog.magnitudes import is_from_blue
from nightmode.history.objects import under_several_names
from nightmode.model.problem import NeverUsable
from nightmode.model.sight import Moment
from nightmode.night.table import Night, NightTarget
from nightmode.report.check import Judged, instant_of, misfit_rows
from nightmode.walk.usable import Usable
from nightmode.wording.earlier import earlier_text, same_text
from nightmode.wording.eclipse import eclipse_text
from nightmode.wording.figures import ENDS, compass_point, cut, power, span_text, time_of_day
from nightmode.wording.going_on import clock_change_text
from nightmode.wording.kit import instrument_and, names_text
from nightmode.wording.planets import moment_line
from nightmode.wording.problems import problem_text
from nightmode.wording.reasons import reason_text
from nightmode.wording.suggestion import look_text
from nightmode.wording.variables import deepest, expected_text, next_text, range_text
from nightmode.wording.zones import odd_zone
from nightmode.words import Word

#: Columns of a name, more where a table has some to spare; of the words beside it; of a reason before a date.
_NAME_WIDE, _WORDS_WIDE, _WHY_WIDE = 18, 61, 46


def check_table(judged: Judged, title: str) -> str:
    """Return what fits and how, what limits it, and what does not fit, why, and when it would."""
    night = judged.night
    order = night.in_walk_order(judged.at_s)
    misfits = frozenset(misfit_rows(night, judged.verdicts))
    fits = [row for row in order if row not in misfits]
    out = [row for row in order if row in misfits]
    limited = [row for row in fits if judged.verdicts[row].word is not Word.EASY]
    happens = [(row, words) for row in fits for words in _moments(judged, row)]
    changing = [row for row in fits if night.targets[row].variable]
    known = [row for row in order if night.targets[row].chance.key in judged.earlier]
    blocks = [
        _heading(night, title),
        _fits(judged, fits),
        _named(
            "What limits them, and what would change it:",
            night,
            [(row, _reason(judged, row)) for row in limited],
        ),
        _named("What happens at the planets:", night, happens),
        _named(
            "Stars whose light changes, and what to expect:",
            night,
            [(row, _change(judged, row)) for row in changing],
        ),
        _misfits(judged, out),
        _named("Looked at before:", night, [(row, _earlier(judged, row)) for row in known]),
        _notes(night),
    ]
    return "\n\n".join("\n".join(line.rstrip() for line in block) for block in blocks if block)


def _named(head: str, night: Night, told: Sequence[tuple[int, str]]) -> list[str]:
    """Return a head, and a line for each row and its words; nothing without rows."""
    if not told:
        return []
    rows = [row for row, _ in told]
    wide = _name_wide(night, rows, _WORDS_WIDE - max(len(words) for _, words in told))
    return [head, *(f"{_name(night, row, wide)} {words}" for row, words in told)]


def _name_wide(night: Night, rows: Sequence[int], spare: int) -> int:
    """Return how wide the names of rows may be where a table has so many columns to spare."""
    longest = max((len(night.targets[row].subject.name) for row in rows), default=0)
    return _NAME_WIDE + max(0, min(spare, longest - _NAME_WIDE))


def _name(night: Night, row: int, wide: int) -> str:
    return f"{cut(night.targets[row].subject.name, wide):<{wide}}"


def _notes(night: Night) -> list[str]:
    same = under_several_names([target.subject.name for target in night.targets])
    zone = [row for words in odd_zone(night.site) for row in wrap(f"- {words}", 79, subsequent_indent="  ")]
    return [*_other_problems(night), *_blue(night), *zone, *(f"- {same_text(names)}" for names in same)]


def _heading(night: Night, title: str) -> list[str]:
    zone, moon, twilight = night.site.zone, night.moon, night.twilights
    dark = twilight.dark_s
    told = (
        f"dark {time_of_day(dark[0], zone)} to {time_of_day(dark[1], zone)} "
        f"(Sun below {twilight.sun_below_deg:.0f}°)"
        if dark
        else "no darkness"
    )
    moves = [f", rises {time_of_day(at_s, zone)}" for at_s in moon.rises_s[:1]]
    moves += [f", sets {time_of_day(at_s, zone)}" for at_s in moon.sets_s[:1]]
    lines = [
        f"{title}: night of {night.date.day} {night.date:%B %Y} at {night.site.name}",
        f"{told}; Moon {moon.illuminated * 100:.0f} %{''.join(moves)}",
        f"{names_text(night.instruments.names)}; times are those of {night.site.timezone}",
    ]
    if hours := night.person.hours:
        lines.append(f"Judged within your hours alone: {hours}.")
    if changed := clock_change_text(zone, night.begins_s, float(night.time_s[-1])):
        lines.append(changed.capitalize())
    lines += [eclipse_text(night.eclipse, zone)] if night.eclipse else []
    return [row for line in lines for row in wrap(line, 80)]


def _fits(judged: Judged, rows: Sequence[int]) -> list[str]:
    """Return the table of what fits: when, with what, how well."""
    if not rows:
        return []
    night, at_s = judged.night, judged.at_s
    end, end_wide, look_wide = ("ends", 5, 29) if at_s is None else ("at that time", 12, 22)
    looks = [_look_words(night, night.targets[row], look_wide) for row in rows]
    name_wide = _name_wide(night, rows, look_wide - max(map(len, looks)))
    look_wide -= name_wide - _NAME_WIDE
    head = f"{f'Fits tonight: {len(rows)}':<{name_wide}} {'usable':<11} {end:<{end_wide}}"
    return [
        f"{head} {'look with':<{look_wide}} power verdict",
        *(
            f"{_name(night, row, name_wide)} {_when(judged, row, end_wide)} {look:<{look_wide}} "
            f"{_power(night.targets[row]):>5} {judged.verdicts[row].word}"
            for row, look in zip(rows, looks, strict=True)
        ),
    ]


def _when(judged: Judged, row: int, end_wide: int) -> str:
    """Return when a target can be observed and what ends that, or where it stands at the asked instant."""
    night, at_s = judged.night, judged.at_s
    stretch = night.targets[row].chance.stretch(night.begins_s if at_s is None else at_s)
    usable = span_text(stretch.start_s, stretch.end_s, night.site.zone) if stretch else "over"
    ends = ENDS[stretch.ends_by] if stretch else ""
    end = ends if at_s is None else _position(night, row, at_s)
    return f"{usable:<11} {end:<{end_wide}}"


def _misfits(judged: Judged, rows: Sequence[int]) -> list[str]:
    """Return the table of what does not fit: why, and when it would."""
    if not rows:
        return []
    night = judged.night
    reasons = [cut(_reason(judged, row), _WHY_WIDE) for row in rows]
    name_wide = _name_wide(night, rows, _WHY_WIDE - max(map(len, reasons)))
    why_wide = _WHY_WIDE - (name_wide - _NAME_WIDE)
    return [
        f"{f'Does not fit: {len(rows)}':<{name_wide}} {'why':<{why_wide}} next 30 nights",
        *(
            f"{_name(night, row, name_wide)} {reason:<{why_wide}} {_next_fit(judged, row)}"
            for row, reason in zip(rows, reasons, strict=True)
        ),
    ]


def _moments(judged: Judged, row: int) -> list[str]:
    """Return what happens at a planet while it can be observed."""
    night, at_s = judged.night, instant_of(judged, row)
    target = night.targets[row]
    happens = [moment for moment in target.moments if target.planet and _is_while(moment, target.usable)]
    return [moment_line(moment, at_s, night.site.zone) for moment in happens]


def _is_while(moment: Moment, stretches: Sequence[Usable]) -> bool:
    worth = moment.watch or ((moment.begins_s, moment.ends_s),)
    both = itertools.product(worth, stretches)
    return any(start_s < stretch.end_s and end_s > stretch.start_s for (start_s, end_s), stretch in both)


def _change(judged: Judged, row: int) -> str:
    night, at_s = judged.night, instant_of(judged, row)
    target = night.targets[row]
    if target.variable is None:
        return ""
    zone = night.site.zone
    coming = [f"faintest {deepest(moment, zone)}" for moment in target.moments]
    coming = coming or [next_text(target.variable, at_s, zone)]
    told = (range_text(target.variable.star), expected_text(target.variable, at_s), *coming)
    return cut("; ".join(words for words in told if words), 61)


def _earlier(judged: Judged, row: int) -> str:
    night = judged.night
    earlier = judged.earlier[night.targets[row].chance.key]
    words = earlier_text(earlier.outcome, earlier.night, night.date, earlier.note)
    return cut(words, 60)


def _next_fit(judged: Judged, row: int) -> str:
    date = judged.next_fits.get(row)
    return f"from {date.day} {date:%b}" if date else "none"


def _reason(judged: Judged, row: int) -> str:
    return reason_text(judged.verdicts[row], judged.night.site.zone)


def _look_words(night: Night, target: NightTarget, width: int) -> str:
    """Return what to look with; with several telescopes also in which, its name shortened if need be."""
    if target.look is None:
        return "-"
    instrument = target.kit.telescope.name if night.has_several else ""
    return instrument_and(instrument, look_text(target.look), width)


def _power(target: NightTarget) -> str:
    return power(target.look.combination.power) if target.look else ""


def _position(night: Night, row: int, at_s: float) -> str:
    return f"{night.altitude_at(row, at_s):.1f}° {compass_point(night.azimuth_at(row, at_s))}"


def _other_problems(night: Night) -> list[str]:
    """Return the night's problems without those that the table of what does not fit has told already."""
    told = [problem for problem in night.problems if not isinstance(problem, NeverUsable)]
    return [f"- {problem_text(problem)}" for problem in told]


def _blue(night: Night) -> list[str]:
    names = [target.subject.name for target in night.targets if is_from_blue(target.subject)]
    if not names:
        return []
    some = ", ".join(names[:5]) + (f" and {len(names) - 5} more" if len(names) > 5 else "")
    return [f"- only a blue magnitude is published, V is estimated: {some}"]
