"""What fits on a night, as one JSON object."""

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from nightmode.eyepiece import Combination
from nightmode.eyepiece.suggestion import Suggestion
from nightmode.night.rest_of_night import best_instant_s
from nightmode.night.table import Night
from nightmode.night.verdict import verdict_at, verdicts
from nightmode.records import Record
from nightmode.report.eclipse import eclipse_json
from nightmode.report.sights import disc_json, face_json, light_json, moments_json, pair_json, variable_json
from nightmode.visibility.ranking import rounded_down_dex
from nightmode.visibility.reasons import Verdict
from nightmode.wording.figures import utc_iso
from nightmode.wording.problems import problem_text
from nightmode.wording.reasons import reason_text
from nightmode.wording.suggestion import why_text
from nightmode.words import Word

if TYPE_CHECKING:
    from nightmode.history.earlier import Earlier


#: For rows that do not fit, the date of the next night that shows them, or None.
NextFits = Mapping[int, dt.date | None]
#: What was seen of targets on earlier nights, by their key.
Before = Mapping[str, "Earlier"]


class Judged(Record, eq=False):
    """A night with a verdict on each row; at_s is the instant asked for (Unix seconds), or None."""

    night: Night
    verdicts: Sequence[Verdict]
    next_fits: NextFits
    at_s: float | None
    earlier: Before


def judged_rows(night: Night, at_s: float | None = None) -> tuple[Verdict, ...]:
    """Return a verdict on each row: at the instant given if the target is usable then, else at its best."""
    best = verdicts(night)
    if at_s is None:
        return best
    return tuple(
        verdict_at(night, row, at_s) if target.chance.is_up(at_s) else best[row]
        for row, target in enumerate(night.targets)
    )


def misfit_rows(night: Night, verdicts: Sequence[Verdict]) -> list[int]:
    """Return the rows of the targets that do not fit: out of reach, or without a usable stretch.

    The latter may be no worse than fair: a feature of the Moon that is lit all night, but by too high a Sun.
    """
    both = zip(night.targets, verdicts, strict=True)
    return [
        row for row, (target, verdict) in enumerate(both) if verdict.word is Word.OUT or not target.usable
    ]


def check_json(judged: Judged) -> dict[str, Any]:
    """Return the night as plain data: times in UTC, ISO 8601; targets in walk order.

    Some keys are there only in some cases: telescopes, and the telescope of each target, with several
    instruments; next_fit (a date or null) for targets that do not fit and are in next_fits; seen_before for
    targets looked at on an earlier night; align, and aim for targets that are up, if an instant is asked for.
    """
    night, at_s = judged.night, judged.at_s
    twilight, moon = night.twilights, night.moon
    dark = twilight.dark_s or (None, None)
    found: dict[str, Any] = {
        "night": night.date.isoformat(),
        "site": night.site.name,
        "telescope": night.kit.telescope.name,
        **({"telescopes": list(night.instruments.names)} if night.has_several else {}),
        "dark": {
            "from": utc_iso(dark[0]),
            "to": utc_iso(dark[1]),
            "sun_below_deg": twilight.sun_below_deg,
        },
        "moon": {
            "illuminated": round(moon.illuminated, 3),
            "rises": utc_iso(moon.rises_s[0] if moon.rises_s else None),
            "sets": utc_iso(moon.sets_s[0] if moon.sets_s else None),
            **eclipse_json(night.eclipse),
            **face_json(night, night.middle_s if at_s is None else at_s),
        },
        "targets": [_target(judged, row) for row in night.in_walk_order(at_s)],
        "problems": [problem_text(problem) for problem in night.problems],
    }
    if at_s is None:
        return found
    from nightmode.report.aim import align_json  # reads the stars

    return found | {"align": align_json(night, at_s)}


def _target(judged: Judged, row: int) -> dict[str, Any]:
    night, at_s = judged.night, judged.at_s
    target = night.targets[row]
    found: dict[str, Any] = {
        "name": target.subject.name,
        "kind": target.subject.kind.value,
        "ra_deg": round(target.ra_deg, 5),
        "dec_deg": round(target.dec_deg, 5),
        "usable": [[utc_iso(stretch.start_s), utc_iso(stretch.end_s)] for stretch in target.usable],
        "sets": utc_iso(target.sets_s),
        "rises": utc_iso(target.rises_s),
        "ends_by": target.usable[0].ends_by if target.usable else None,
        "find": _combination(target.find),
        "look": _look(target.look),
        "verdict": _verdict(judged, row),
    }
    if night.has_several:
        found["telescope"] = target.kit.telescope.name
    found |= _sights(judged, row)
    if before := judged.earlier.get(target.chance.key):
        found["seen_before"] = {
            "outcome": before.outcome.value,
            "night": before.night.isoformat(),
            "note": before.note,
        }
    if row in judged.next_fits:
        date = judged.next_fits[row]
        found["next_fit"] = date.isoformat() if date else None
    if at_s is not None:
        found["altitude_deg"] = round(night.altitude_at(row, at_s), 3)
        found["azimuth_deg"] = round(night.azimuth_at(row, at_s), 3)
        if night.altitude_at(row, at_s) > 0.0:
            from nightmode.report.aim import aim_json

            found["aim"] = aim_json(night, row, at_s)
    return found


def _sights(judged: Judged, row: int) -> dict[str, Any]:
    """Return by key what there is to see of a target beyond its verdict."""
    night, target = judged.night, judged.night.targets[row]
    found: dict[str, Any] = {}
    if target.feature:
        found["light"] = light_json(night, target.feature, instant_of(judged, row))
    if target.planet:
        found["disc"] = disc_json(target.planet, instant_of(judged, row))
    if target.variable:
        found["variable"] = variable_json(target.variable, instant_of(judged, row))
    if target.planet or target.variable:
        found["moments"] = moments_json(target.moments)
    if pair := night.pairs.get(row):
        found["pair"] = pair_json(pair)
    return found


def instant_of(judged: Judged, row: int) -> float:
    """Return the instant asked for, else that at which a target is highest while usable."""
    return best_instant_s(judged.night, row) if judged.at_s is None else judged.at_s


def _verdict(judged: Judged, row: int) -> dict[str, Any]:
    verdict = judged.verdicts[row]
    margin = None if verdict.margin_dex is None else rounded_down_dex(verdict.margin_dex)
    return {
        "word": verdict.word,
        "margin_dex": margin,
        "reason": reason_text(verdict, judged.night.site.zone),
    }


def _combination(combination: Combination | None) -> dict[str, Any] | None:
    if combination is None:
        return None
    return {
        "eyepiece": combination.eyepiece,
        "power": round(combination.power, 1),
        "true_field_deg": round(combination.true_field_deg, 3),
        "exit_pupil_mm": round(combination.exit_pupil_mm, 2),
    }


def _look(look: Suggestion | None) -> dict[str, Any] | None:
    if look is None:
        return None
    combination = look.combination
    extra = {"barlow": combination.barlow, "filter": look.filter, "reason": why_text(look.why)}
    return {**(_combination(combination) or {}), **extra}
