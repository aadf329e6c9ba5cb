"""The main page: a thin line above, one target in the middle, a thin line below."""

import re
from collections.abc import Iterable
from itertools import groupby
from typing import TYPE_CHECKING

from nightmode.app.glance import Glance
from nightmode.app.pages.budget import UNBOUNDED, Budget
from nightmode.app.pages.facts import BLOCK, target_lines
from nightmode.app.pages.line import (
    BLANK,
    Line,
    Piece,
    Role,
    in_the_middle,
    length,
    line,
    spread,
    width,
    wrap,
)
from nightmode.app.say import Say
from nightmode.app.walker import Walker
from nightmode.night.moments import AFTER_S, AHEAD_S
from nightmode.night.table import Night
from nightmode.walk.order import Idle, Standing
from nightmode.walk.state import OCTANTS
from nightmode.wording.eclipse import eclipse_now
from nightmode.wording.entries import points_text
from nightmode.wording.figures import clock_time, time_of_day
from nightmode.wording.idle import coming_text, idle_text
from nightmode.wording.planets import moment_text

if TYPE_CHECKING:
    from nightmode.app.middle import Middle

#: Rods are taken to be fully recovered after this long; see docs/darkness.md for the sources.
ADAPTED_MIN = 40
#: Below so many columns the clear compass points have no room beside the names that come next.
NARROW = 72
#: The wide gap that keeps two answers apart, and what holds its place while a message is wrapped.
_GAP, _WIDE = re.compile(" {2,}"), "\u2800"


def main_page(
    walker: Walker,
    now_s: float,
    size: tuple[int, int],
    say: Say | None,
    dark_since_s: float,
    middle: "Middle | None" = None,
    budget: Budget = UNBOUNDED,
    below: int = 0,
) -> list[Line]:
    """Return the rows of the main page for a size (columns, rows).

    dark_since_s is since when the eyes have been in the dark, in Unix seconds. A middle that is open takes
    the place of the facts. below is how many rows something else takes below the page for a while: the middle
    stays in its place.
    """
    columns, rows = size
    room = max(1, rows - 4)
    message = _message(say, columns)
    if middle is not None and middle.is_open:
        is_brief = True  # the chart has used some of the light
        body = middle.lines(walker, now_s, (columns, room + below), budget.beside(message))
        after = line((middle.hint(walker, now_s, columns) + " ", "kept"))
    else:
        is_brief = False
        body = _facts(walker, now_s, columns, room + below, budget)
        after = _names_next(walker, now_s)
    return [
        _top(walker, now_s, dark_since_s, columns, is_brief),
        BLANK,
        *body[: room + 1 - len(message)],
        *message,
        _bottom(walker, now_s, columns, after, is_brief),
    ]


def _facts(walker: Walker, now_s: float, columns: int, room: int, budget: Budget) -> list[Line]:
    """Return `room` rows, the facts about the target shown in the middle of them."""
    row = walker.shown(now_s)
    block = min(BLOCK, columns - 2)
    middle = (
        target_lines(Glance(walker, row, now_s), (block, room), budget)
        if row is not None
        else _nothing_up(walker, now_s, block)[:room]
    )
    return in_the_middle(middle, (columns, room), block)


def _top(walker: Walker, now_s: float, dark_since_s: float, columns: int, is_brief: bool) -> Line:
    night = walker.night
    rehearsal = "rehearsal  " if walker.session.head.rehearsal else ""
    left = line(
        (f" {rehearsal}", "faint"),
        (clock_time(now_s, night.site.zone), "text"),
        ("  SUN UP: never near it", "alert") if night.is_sun_up(now_s) else (_dark(night, now_s), "faint"),
    )
    eyes = _eyes(now_s, dark_since_s)
    moon = f"Moon {night.moon.illuminated * 100:.0f} %"
    words = [f"{moon} {_moon_next(night, now_s)}  ", f"{moon}  ", ""]
    words = words[-1:] if is_brief else words
    room = columns - length(left) - 2 - width(eyes) - 1
    fitting = next((right for right in words if width(right) <= room), words[-1])
    return spread(left, line((fitting, "spare"), (f"{eyes} ", "faint")), columns)


def _dark(night: Night, now_s: float) -> str:
    dark, zone = night.twilights.dark_s, night.site.zone
    if dark is None:
        return "  no darkness tonight"
    depth = "" if night.twilights.is_astronomical else " (twilight all night)"
    if now_s < dark[0]:
        return f"  dark from {time_of_day(dark[0], zone)}{depth}"
    return f"  dark until {time_of_day(dark[1], zone)}{depth}" if now_s < dark[1] else "  dawn"


def _moon_next(night: Night, now_s: float) -> str:
    moon, (_, sunrise_s) = night.moon, night.sun_down_s
    up = night.moon_altitude_at(now_s) > 0
    if up and night.eclipse and (told := eclipse_now(night.eclipse, now_s, night.site.zone)):
        return told
    later = [
        instant_s for instant_s in (moon.sets_s if up else moon.rises_s) if now_s < instant_s < sunrise_s
    ]
    if later:
        return f"{'sets' if up else 'rises'} {time_of_day(later[0], night.site.zone)}"
    return "up" if up else "down"


def _eyes(now_s: float, dark_since_s: float) -> str:
    minutes = max(0, int((now_s - dark_since_s) // 60))
    return f"eyes {minutes} min" if minutes < ADAPTED_MIN else f"eyes {ADAPTED_MIN}+ min"


def _message(say: Say | None, columns: int) -> list[Line]:
    """Return the message in as many lines as it needs, at least one."""
    if say is None:
        return [BLANK]
    fits = width(say.with_hint) <= columns - 2
    told = _GAP.sub(lambda gap: _WIDE * (len(gap[0]) - 1 if fits else 1) + " ", say.with_hint)
    rows = [told] if fits else wrap(told, columns - 2, most=3)
    alert, hint = len(say.alert.split()), len(say.hint.split())
    said = len(told.split(" ")) - alert - hint
    runs: list[tuple[Role, int]] = [("alert", alert), ("said", said), ("told", hint)]
    roles = iter([role for role, count in runs for _ in range(count)])
    return [_row_of_words(zip(row.split(" "), roles, strict=False)) for row in rows]


def _row_of_words(words: Iterable[tuple[str, Role]]) -> Line:
    """Return a row of a message from words, each with its role."""
    alike = groupby(words, key=lambda word: word[1])
    pieces = [(" " + " ".join(word for word, _ in some), role) for role, some in alike]
    return line(*((text.replace(_WIDE, " "), role) for text, role in pieces))


def _names_next(walker: Walker, now_s: float) -> Line:
    if happens := _happening(walker, now_s):
        return line((happens + " ", "faint"))
    names = [walker.night.targets[row].subject.name for row in next_rows(walker, now_s)]
    return line(("next  " + ", ".join(names) + " ", "spare")) if names else BLANK


def _happening(walker: Walker, now_s: float) -> str:
    """Return what is about to happen at a target that is done already, or ""."""
    zone = walker.night.site.zone
    for row, target in enumerate(walker.night.targets):
        begun = [
            (start_s + AHEAD_S, moment)
            for moment in target.moments
            for start_s, _ in moment.watch
            if start_s <= now_s < start_s + AHEAD_S + AFTER_S
        ]
        if begun and walker.standing(row, now_s) is Standing.DONE:
            at_s, moment = begun[0]
            return f"{time_of_day(at_s, zone)}  {moment_text(moment)}"
    return ""


def _bottom(walker: Walker, now_s: float, columns: int, right: Line, is_brief: bool) -> Line:
    """Return the counts and, on the right, what comes next; the counts are shortened to make room for it."""
    room = columns - min(length(right) + 2, columns // 2)
    left: Line = BLANK
    for word, role in _counts(walker, now_s, is_narrow=columns < NARROW)[: 2 if is_brief else None]:
        longer = (*left, ("  " + word if left else " " + word, role))
        if length(longer) > room:
            break
        left = longer
    return spread(line(*left), right, columns)


def _counts(walker: Walker, now_s: float, is_narrow: bool) -> list[Piece]:
    """Return how many targets are done and to do, the clear sky and the pace, what is needed most first."""
    standings = walker.standings(now_s)
    never = sum(
        standing is Standing.MISSED and not target.usable
        for standing, target in zip(standings, walker.night.targets, strict=True)
    )
    pace = walker.pace_min(now_s)
    aside, missed = standings.count(Standing.SET_ASIDE), standings.count(Standing.MISSED) - never
    needed = [
        f"{standings.count(Standing.DONE)} done",
        f"{standings.count(Standing.TO_DO)} to do",
        *_clouds(walker, is_narrow),
    ]
    spare = [
        *([f"{aside} set aside"] if aside else []),
        *([f"{missed} missed"] if missed else []),
        *([f"{pace:.0f} min each"] if pace is not None and pace < 60 else []),
        *([f"{never} not tonight"] if never else []),
    ]
    return [*((word, "kept") for word in needed), *((word, "spare") for word in spare)]


def _clouds(walker: Walker, is_narrow: bool) -> list[str]:
    clear = walker.state.clear_octants
    if len(clear) == len(OCTANTS):
        return []
    if is_narrow:
        return ["clouds"]
    return [f"clear only {points_text(clear)}"]


def next_rows(walker: Walker, now_s: float) -> list[int]:
    """Return the rows of the next two targets after the one shown, whether up now or later."""
    shown = walker.shown(now_s)
    rows = [row for row in walker.queue(now_s) if row != shown]
    if len(rows) < 2:
        rows += [row for _, row in walker.coming(now_s) if row != shown]
    return rows[:2]


def _nothing_up(walker: Walker, now_s: float, block: int) -> list[Line]:
    first, *more = nothing_up_words(walker, now_s)
    lines = [line((first, "strong"))]
    if more:
        lines += [BLANK, *(line((row, "text")) for words in more for row in wrap(words, block, 2))]
    elif keys := _IDLE_KEYS.get(walker.idle(now_s)):
        lines += [BLANK, line((keys, "text"))]
    return lines


_IDLE_KEYS = {
    Idle.DONE: "p  packing up     l  the list     q  leave",
    Idle.ALL_CLOUDED: "c  when it clears",
}


def nothing_up_words(walker: Walker, now_s: float) -> tuple[str, ...]:
    """Return why no target is shown and, if one is still to come, which and when."""
    told = idle_text(walker.idle(now_s))
    coming = walker.coming(now_s)
    if not coming:
        return (told,)
    start_s, row = coming[0]
    night = walker.night
    return told, coming_text(night.targets[row].subject.name, start_s, now_s, night.site.zone)
