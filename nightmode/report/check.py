"""What fits on a night: as one JSON object, and as a table for people."""

from typing import Any

from nightmode.eyepiece import Combination, Look
from nightmode.night.table import Night, NightTarget
from nightmode.report.wording import clock, compass_point, power, utc_iso
from nightmode.walk.order import walk_order


def in_walk_order(night: Night, at_s: float | None = None) -> list[int]:
    """Return the rows in walk order, seen from an instant or from the night's beginning."""
    return walk_order(night.chances, float(night.time_s[0]) if at_s is None else at_s)


def check_json(night: Night, at_s: float | None = None) -> dict[str, Any]:
    """Return the night as plain data: times in UTC, ISO 8601; targets in walk order."""
    lights, moon = night.twilights, night.moon
    dark = lights.dark or (None, None)
    return {
        "night": night.date.isoformat(),
        "site": night.site.name,
        "telescope": night.kit.telescope.name,
        "dark": {
            "from": utc_iso(dark[0]),
            "to": utc_iso(dark[1]),
            "sun_below_deg": lights.sun_below_deg,
        },
        "moon": {
            "illuminated": round(moon.illuminated, 3),
            "rises": utc_iso(moon.rises[0] if moon.rises else None),
            "sets": utc_iso(moon.sets[0] if moon.sets else None),
        },
        "targets": [_target(night, row, at_s) for row in in_walk_order(night, at_s)],
        "problems": list(night.problems),
    }


def _target(night: Night, row: int, at_s: float | None) -> dict[str, Any]:
    target = night.targets[row]
    found: dict[str, Any] = {
        "name": target.subject.name,
        "kind": target.subject.kind.value,
        "ra_deg": round(target.ra_deg, 5),
        "dec_deg": round(target.dec_deg, 5),
        "usable": [[utc_iso(stretch.start), utc_iso(stretch.end)] for stretch in target.usable],
        "sets": utc_iso(target.sets),
        "rises": utc_iso(target.rises),
        "ends_by": target.usable[0].ends_by if target.usable else None,
        "find": _combination(target.find),
        "look": _look(target.look),
        "verdict": None,
    }
    if at_s is not None:
        found["altitude_deg"] = round(night.altitude_at(row, at_s), 3)
        found["azimuth_deg"] = round(night.azimuth_at(row, at_s), 3)
    return found


def _combination(one: Combination | None) -> dict[str, Any] | None:
    if one is None:
        return None
    return {
        "eyepiece": one.eyepiece,
        "power": round(one.power, 1),
        "true_field_deg": round(one.true_field_deg, 3),
        "exit_pupil_mm": round(one.exit_pupil_mm, 2),
    }


def _look(look: Look | None) -> dict[str, Any] | None:
    if look is None:
        return None
    one = look.combination
    extra = {"barlow": one.barlow, "filter": look.filter, "reason": look.reason}
    return {**(_combination(one) or {}), **extra}


def check_table(night: Night, title: str, at_s: float | None = None) -> str:
    """Return the night for people: a few lines about it, then a table of at most 80 columns."""
    lines = [*_heading(night, title), ""]
    lines.append(f"{'target':<16} {'kind':<15} {'usable':<11} {'ends':<5} {'look with':<22} {'power':>5}")
    lines += [_row(night, row, at_s) for row in in_walk_order(night, at_s)]
    if night.problems:
        lines += ["", *(f"- {problem}" for problem in night.problems)]
    return "\n".join(line.rstrip() for line in lines)


def _heading(night: Night, title: str) -> list[str]:
    zone, moon, lights = night.site.zone, night.moon, night.twilights
    dark = lights.dark
    told = (
        f"dark {clock(dark[0], zone)} to {clock(dark[1], zone)} (Sun below {lights.sun_below_deg:.0f}°)"
        if dark
        else "no darkness"
    )
    rises, sets = (clock(times[0] if times else None, zone) for times in (moon.rises, moon.sets))
    return [
        f"{title}: night of {night.date:%d %B %Y} at {night.site.name}",
        f"{told}; Moon {moon.illuminated * 100:.0f} %, rises {rises}, sets {sets}",
        f"{night.kit.telescope.name}; times are those of {night.site.timezone}",
    ]


def _row(night: Night, row: int, at_s: float | None) -> str:
    target = night.targets[row]
    stretch = target.chance.stretch(float(night.time_s[0]) if at_s is None else at_s)
    zone = night.site.zone
    usable = f"{clock(stretch.start, zone)}-{clock(stretch.end, zone)}" if stretch else "not tonight"
    ends = {None: "", "horizon": "sets", "dawn": "dawn"}[stretch.ends_by if stretch else None]
    return (
        f"{target.subject.name[:16]:<16} {target.subject.kind.value[:15]:<15} {usable:<11} {ends:<5} "
        f"{_look_words(target):<22} {_power(target):>5}" + (f"  {_place(night, row, at_s)}" if at_s else "")
    )


def _look_words(target: NightTarget) -> str:
    if target.look is None:
        return "-"
    one = target.look.combination
    words = one.eyepiece + (f" + {one.barlow}" if one.barlow else "")
    return words[:22]


def _power(target: NightTarget) -> str:
    return power(target.look.combination.power) if target.look else ""


def _place(night: Night, row: int, at_s: float) -> str:
    return f"{night.altitude_at(row, at_s):.1f}° {compass_point(night.azimuth_at(row, at_s))}"
