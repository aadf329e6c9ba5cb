"""From the flags of `draft` to wishes, and from what was chosen to a plan and to answers."""

import argparse
from pathlib import Path

from nightmode.catalog.columns import Columns, everything
from nightmode.catalog.resolve import resolve
from nightmode.cli.draft import KIND_WORDS, LONGEST_MIN, MOST, SHORTEST_MIN, USUAL_COUNT, USUAL_MIN
from nightmode.errors import NightmodeError
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.model.kind import Kind
from nightmode.model.plan import Plan
from nightmode.model.session import Outcome
from nightmode.model.target import Subject, Target
from nightmode.night.circumstances import Circumstances
from nightmode.night.loading import resolve_all
from nightmode.planning.choice import Pick
from nightmode.planning.draft import Draft
from nightmode.planning.listing import columns_of
from nightmode.planning.request import Wishes
from nightmode.planning.score import GROUPS
from nightmode.report.plan_file import plan_text
from nightmode.session.blocks import SIGNATURE
from nightmode.session.journal import read
from nightmode.sky.bodies import BODIES
from nightmode.sky.dark import sun_altitude, twilights
from nightmode.sky.kernel import Sky
from nightmode.sky.typed_time import read_time
from nightmode.sky.window import minute_columns, night_window
from nightmode.walk.state import fold, target_key
from nightmode.wording.figures import clock, compass_point, power

_SHOWPIECES = ("first-light", "town")

Listed = dict[str, Target]


def wishes_of(args: argparse.Namespace, sky: Sky, where: Circumstances) -> Wishes:
    """Return what the flags ask for. NightmodeError for one that does not fit."""
    count = USUAL_COUNT if args.count is None else _count(args.count)
    start_s, end_s = _hours(args.hours, sky, where, count)
    pace_s = min((USUAL_MIN if args.hours is None else LONGEST_MIN) * 60, (end_s - start_s) / count)
    if pace_s < SHORTEST_MIN * 60:
        fits = int((end_s - start_s) / 60 / SHORTEST_MIN)
        what = f"{count} targets in {(end_s - start_s) / 60:.0f} minutes leave {pace_s / 60:.1f} minutes each"
        raise NightmodeError("--count", what, f"ask for at most {max(1, fits)}, or for more hours")
    return Wishes(
        count=count,
        start_s=start_s,
        end_s=end_s,
        pace_s=pace_s,
        kinds=_kinds(args.kinds),
        hardest=args.difficulty,
        showpieces=frozenset(showpieces()),
        seen=frozenset(key for path in args.seen for key in seen_keys(Path(path))),
    )


def sources(list_path: Path | None) -> tuple[Columns, list[Subject], Listed]:
    """Return what to choose from: the catalogue and the Solar System, or a list; and its targets by key."""
    if list_path is None:
        return everything(), [resolve(Target(name=body.capitalize())) for body in BODIES], {}
    plan = read_toml(list_path, Plan)
    subjects = resolve_all(plan, str(list_path))
    listed = {target_key(target.name): target for target in plan.target}
    fixed = [subject for subject in subjects if subject.body is None]
    return columns_of(fixed), [subject for subject in subjects if subject.body], listed


def drafted_text(drafted: Draft, where: Circumstances, wishes: Wishes, listed: Listed) -> str:
    """Return the plan file of what was chosen; at least one target was."""
    zone, night = where.site.zone, drafted.night
    known = showpieces() | listed
    targets = tuple(_target(night.targets[pick.row].subject, known) for pick in drafted.picks)
    plan = Plan(
        title=f"Draft for {where.site.name}"[:80],
        night=where.date,
        site=where.site,
        telescope=where.kit.telescope,
        eyepiece=where.kit.eyepieces,
        barlow=where.kit.barlows,
        filter=where.kit.filters,
        finder=where.kit.finders,
        target=targets,
    )
    heading = (
        f"Drafted for {clock(wishes.start_s, zone)} to {clock(wishes.end_s, zone)}, "
        f"{wishes.pace_s / 60:.0f} minutes a target, nothing harder than {wishes.hardest}. Plain text, to be "
        "edited: add and strike targets as you like. Their order here does not matter; walk, check and sheet "
        "sort by setting time."
    )
    remarks = {plan.target[index].name: _remark(drafted, pick) for index, pick in enumerate(drafted.picks)}
    return plan_text(plan, remarks, heading)


def why(drafted: Draft, name: str) -> str:
    """Return in a line what became of a name. NightmodeError if nobody knows it."""
    subject = resolve(Target(name=name))
    keys = [target_key(word) for word in (name, subject.name, *subject.other_names)]
    return f"{name}: {drafted.why(keys) or 'was not among what could be chosen'}."


def seen_keys(path: Path) -> set[str]:
    """Return the names, as keys, of a list's targets or of what a session saw."""
    try:
        with path.open("rb") as file:
            is_session = file.read(len(SIGNATURE)) == SIGNATURE
    except OSError:
        is_session = False
    if is_session:
        ticks = fold(read(path).entries).ticks.values()
        targets = [Target(name=tick.target) for tick in ticks if tick.target and tick.outcome is Outcome.SEEN]
    else:
        targets = list(read_toml(path, Plan).target)
    return {key for target in targets for key in _keys(target)}


def showpieces() -> Listed:
    """Return the targets of the lists of showpieces that come with the program, by key."""
    lists = [read_toml(shipped("plans") / "lists" / f"{name}.toml", Plan) for name in reversed(_SHOWPIECES)]
    return {target_key(target.name): target for plan in lists for target in plan.target}


def _keys(target: Target) -> set[str]:
    try:
        subject = resolve(target)
    except NightmodeError:
        return {target_key(target.name)}
    return {target_key(name) for name in (target.name, subject.name, *subject.other_names)}


def _target(subject: Subject, known: Listed) -> Target:
    """Return the target for the plan: by name, with what a list says to look for."""
    target = known.get(target_key(subject.name)) or Target(name=subject.name)
    return target.model_copy(update={"min_altitude_deg": target.min_altitude_deg or subject.min_altitude_deg})


def _remark(drafted: Draft, pick: Pick) -> str:
    """Return in a line what the target is, when its turn comes, and with what."""
    night, target = drafted.night, drafted.night.targets[pick.row]
    zone, subject = night.site.zone, target.subject
    height, azimuth = night.altitude_at(pick.row, pick.at_s), night.azimuth_at(pick.row, pick.at_s)
    spans = ", ".join(f"{clock(one.start, zone)}-{clock(one.end, zone)}" for one in target.usable)
    parts = [
        f"{subject.kind}" + (f" in {subject.constellation}" if subject.constellation else ""),
        pick.word,
        f"about {clock(pick.at_s, zone)} at {height:.0f}° {compass_point(azimuth)}",
        f"up {spans}",
    ]
    if target.look:
        parts.append(f"{target.look.combination.eyepiece} {power(target.look.combination.power)}")
    return "; ".join(parts)


def _count(text: str) -> int:
    if text.isascii() and text.isdecimal() and 1 <= int(text) <= MOST:
        return int(text)
    raise NightmodeError("--count", f"{text!r} is not 1 to {MOST}", "write a whole number like 24")


def _kinds(text: str | None) -> frozenset[Kind] | None:
    if text is None:
        return None
    words = [word.strip().lower() for word in text.split(",") if word.strip()]
    for word in words:
        if word not in KIND_WORDS:
            raise NightmodeError(
                "--kinds", f"{word!r} is not a kind", f"write some of {', '.join(KIND_WORDS)}"
            )
    return frozenset(kind for word in words for kind in GROUPS[word])


def _hours(text: str | None, sky: Sky, where: Circumstances, count: int) -> tuple[float, float]:
    """Return the first and last instant: the flag's, else from dusk until each has had its usual minutes."""
    if text is not None:
        return _hours_given(text, where)
    time_s = minute_columns(night_window(where.site, where.date))
    lights = twilights(time_s, sun_altitude(sky, where.site, time_s))
    start_s = lights.civil_dusk or lights.sunset or (lights.dark and lights.dark[0])
    if start_s is None:
        what = f"the Sun does not set there: its lowest is {lights.sun_lowest_deg:.0f}°"
        raise NightmodeError("night", what, "choose another night with --night")
    last_s = lights.civil_dawn or lights.sunrise or float(time_s[-1])
    dark_s = lights.dark[0] if lights.dark else start_s
    return start_s, min(last_s, max(dark_s, start_s) + count * USUAL_MIN * 60)


def _hours_given(text: str, where: Circumstances) -> tuple[float, float]:
    instead = "write it like 21:00-01:00"
    first, dash, last = text.partition("-")
    if not dash:
        raise NightmodeError("--hours", f"{text!r} is not from-to", instead)
    times = [read_time(part.strip(), where.site, where.date, "--hours") for part in (first, last)]
    start_s, end_s = (time or 0.0 for time in times)
    if end_s <= start_s:
        raise NightmodeError("--hours", f"{text} ends before it begins (a night is noon to noon)", instead)
    return start_s, end_s
