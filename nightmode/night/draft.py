"""Drafting a plan: out of everything known, what is worth it in some hours of a night, at one pace."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from nightmode.catalog.columns import Columns
from nightmode.model.target import Subject
from nightmode.night.choice import Choice, Pick
from nightmode.night.circumstances import Circumstances
from nightmode.night.listing import subject_at
from nightmode.night.opening import open_night
from nightmode.night.survey import Survey, survey
from nightmode.night.table import Array, Night
from nightmode.night.wishes import Wishes, reasons
from nightmode.night.worth import BODY_WORTH, GROUP_OF, MESSIER, SHOWPIECE, worth
from nightmode.sky.kernel import Sky
from nightmode.sky.track import tracks
from nightmode.walk.state import target_key

#: Of each group of kinds so many candidates, the best, are worked out exactly.
_POOL_A_GROUP = 30
#: A target that still rises at the end is left until it has this share of its height then (our own rule).
_WORTHY_SHARE = 0.75


@dataclass(frozen=True, eq=False)
class Draft:
    """What was chosen, in the order of the walk, and what became of everything else.

    night holds the candidates that were worked out exactly; left_out says by key why a target was not
    chosen. known, up, welcome count what there is, what can be observed in the hours, and what of that
    fits the wishes.
    """

    night: Night
    picks: tuple[Pick, ...]
    left_out: dict[str, str]
    known: int
    up: int
    welcome: int


def draft(
    sky: Sky, where: Circumstances, columns: Columns, bodies: Sequence[Subject], wishes: Wishes
) -> Draft:
    """Choose targets out of the catalogue's columns and the Solar System's bodies."""
    judged = survey(sky, where, columns, wishes.start_s, wishes.end_s)
    whys = reasons(columns, judged, wishes)
    welcome = [row for row, why in enumerate(whys) if not why]
    score = _scores(columns, judged, welcome, wishes)
    ranked = [welcome[index] for index in np.argsort(-score).tolist()]
    best = _pool(columns, ranked)
    kept = [body for body in bodies if not wishes.refuses(body.name, body.kind)]
    subjects = [subject_at(columns, row, _floor_deg(where, judged, row)) for row in best]
    night = open_night(sky, where, [*subjects, *_patient(sky, where, kept, wishes)])
    by_row = dict(zip(welcome, score.tolist(), strict=True))
    choice = Choice(night, [*(by_row[row] for row in best), *_body_scores(night, kept)], wishes)
    picks = choice.run()
    left_out = {target_key(name): why for name, why in zip(columns.name, whys, strict=True)}
    for place, row in enumerate(ranked, start=1):
        left_out[target_key(columns.name[row])] = _outranked(place, len(ranked))
    left_out |= {target_key(one.name): wishes.refuses(one.name, one.kind) or _outranked() for one in bodies}
    return Draft(
        night=night,
        picks=tuple(picks),
        left_out=left_out | choice.refused,
        known=len(columns.name) + len(bodies),
        up=int(np.count_nonzero(~np.isnan(judged.highest_deg))) + len(kept),
        welcome=len(welcome) + len(kept),
    )


def _outranked(place: int = 0, of: int = 0) -> str:
    return "fits, but others are worth more here" + (f" (place {place} of {of})" if place else "")


def _scores(columns: Columns, judged: Survey, rows: Sequence[int], wishes: Wishes) -> Array:
    names = [columns.name[row] for row in rows]
    shown = np.array([target_key(name) in wishes.showpieces for name in names], dtype=float)
    listed = np.array([name.startswith("M ") for name in names], dtype=float)
    value = worth(
        [columns.kind[row] for row in rows],
        judged.margin_dex[rows],
        judged.highest_deg[rows],
        columns.size_arcmin[rows],
        columns.magnitude[rows],
    )
    return value + SHOWPIECE * shown + MESSIER * listed


def _body_scores(night: Night, bodies: Sequence[Subject]) -> list[float]:
    """Return the worth of the bodies, which are the night's last targets."""
    first = len(night.targets) - len(bodies)
    heights = [max((one.end_altitude_deg for one in target.usable), default=0.0) for target in night.targets]
    return [
        BODY_WORTH.get(body.body or "", 0.0) + float(np.sin(np.radians(heights[first + index])))
        for index, body in enumerate(bodies)
    ]


def _pool(columns: Columns, ranked: Sequence[int]) -> list[int]:
    """Return the best rows of each group of kinds."""
    taken: Counter[str] = Counter()
    pool = []
    for row in ranked:
        group = GROUP_OF[columns.kind[row]]
        if taken[group] < _POOL_A_GROUP:
            taken[group] += 1
            pool.append(row)
    return pool


def _floor_deg(where: Circumstances, judged: Survey, row: int) -> float | None:
    """Return the lowest altitude worth its turn for a target that is still rising at the end, else None."""
    if not judged.rises_on[row]:
        return None
    floor = float(np.floor(_WORTHY_SHARE * judged.highest_deg[row]))
    return floor if floor > where.person.min_altitude_deg else None


def _patient(sky: Sky, where: Circumstances, bodies: Sequence[Subject], wishes: Wishes) -> list[Subject]:
    """Return the bodies, those still rising at the end with the altitude worth their turn."""
    if not bodies:
        return []
    last = np.array([wishes.end_s - 600.0, wishes.end_s])
    before, after = tracks(sky, where.site, bodies, last).altitude_deg.T
    usual = where.person.min_altitude_deg
    floors = np.where(after > before, np.floor(_WORTHY_SHARE * after), 0.0)
    return [
        body
        if floor <= (body.min_altitude_deg or usual)
        else body.model_copy(update={"min_altitude_deg": float(floor)})
        for body, floor in zip(bodies, floors, strict=True)
    ]
