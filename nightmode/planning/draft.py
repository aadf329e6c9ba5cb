"""Drafts a plan: chooses from everything known the best targets for some hours of a night."""

from collections import Counter
from collections.abc import Sequence, Set

import numpy as np

from nightmode.arrays import Array, Flags, Indices
from nightmode.catalog.columns import Columns
from nightmode.eyepiece import combinations, limits, sensible
from nightmode.kinds import GROUP_OF, SINGLE, Kind
from nightmode.model.target import Body, LunarFeature, Subject
from nightmode.night.circumstances import Circumstances
from nightmode.night.each_target import equip_each
from nightmode.night.opening import night_sky
from nightmode.night.table import Night
from nightmode.planning.choice import Choice, Pick, Worth
from nightmode.planning.listing import subject_at
from nightmode.planning.renown import renown, showpiece_renown
from nightmode.planning.request import Wishes, objection, welcome_rows
from nightmode.planning.score import (
    LOW_POWER,
    Powers,
    Showing,
    body_score,
    glow_scores,
    pair_scores,
    shines_as,
    star_scores,
)
from nightmode.planning.sources import Candidates, described
from nightmode.planning.survey import Survey, best_of, each_kit, surveys
from nightmode.planning.traits import traits_of
from nightmode.records import Record, replace
from nightmode.sky.kernel import Sky
from nightmode.sky.track import tracks
from nightmode.sky.vectors import separation_deg
from nightmode.visibility.objections import InPlan, Objection, Outranked
from nightmode.walk.state import target_key

#: Of each group of kinds this many candidates, those with the best scores, are worked out exactly.
_POOL_A_GROUP, _POOL_OF_AGE = 30, 15
#: At low power what is wide is worth looking at, and that is clusters above all (our own rule).
_VARIETY_IN_BINOCULARS = 0.5
#: Two pairs so close are seen together at the power that parts them.
_SECOND_PAIR_DEG = 0.1
#: A planet, or the Moon, with this score is left out by nobody.
_GRAND, _GRAND_RENOWN = 4.2, 3.0
#: A target that still rises at the end of the hours is offered once it has this share of its altitude then,
#: or this altitude in degrees (our own rule).
_WORTHY_SHARE, _WORTHY_DEG = 0.75, 30.0


class Draft(Record, eq=False):
    """What was chosen, in the order of the walk, and the figures by which everything was judged.

    night holds the candidates that were worked out exactly; refused says by key why some of these were not
    taken. ranked holds the rows of columns that fit the wishes, the best score first.
    """

    night: Night
    picks: tuple[Pick, ...]
    refused: dict[str, Objection]
    columns: Columns
    bodies: tuple[Body, ...]
    judged: Survey
    wishes: Wishes
    ranked: tuple[int, ...]

    @property
    def known(self) -> int:
        """How many objects are known in all."""
        return len(self.columns.name) + len(self.bodies)

    @property
    def up(self) -> int:
        """How many objects of the catalogue can be observed in the hours."""
        return int(np.count_nonzero(~np.isnan(self.judged.highest_deg)))

    def why(self, keys: Set[str]) -> Objection | None:
        """Return what happened to the target that has these keys; None if it was not considered."""
        if keys & {self.night.targets[pick.row].chance.key for pick in self.picks}:
            return InPlan()
        if told := next((self.refused[key] for key in keys if key in self.refused), None):
            return told
        for body in self.bodies:
            if target_key(body.name) in keys:
                return self.wishes.refuses_body(body.name, body.kind) or Outranked()
        for row, name in enumerate(self.columns.name):
            if target_key(name) in keys:
                return objection(self.columns, self.judged, self.wishes, row) or self._rank(row)
        return None

    def _rank(self, row: int) -> Objection:
        return Outranked(self.ranked.index(row) + 1, len(self.ranked))


def draft(sky: Sky, circumstances: Circumstances, candidates: Candidates, wishes: Wishes) -> Draft:
    """Return a draft: targets chosen from the candidates by the wishes."""
    columns, bodies = candidates.columns, candidates.bodies
    found = surveys(sky, circumstances, columns, wishes.start_s, wishes.end_s)
    judged = best_of(found)
    welcome = welcome_rows(columns, judged, wishes)
    each = each_kit(circumstances)
    score = _best_scores(each, candidates, found, welcome, wishes)
    # Who wants what is left of a list does not ask for the best known.
    known, first = _renown(each, columns, judged, welcome) * (not wishes.favour)
    ranked = [welcome[index] for index in np.argsort(-score - known - first).tolist()]
    best = _pool(columns, judged.of_age, ranked)
    kept = [body for body in bodies if not wishes.refuses_body(body.name, body.kind)]
    subjects = [_subject(candidates, row, _floor_deg(circumstances, judged, row)) for row in best]
    placed = night_sky(sky, circumstances, [*subjects, *_patient(sky, circumstances, kept, wishes)])
    # Judged as `check` would judge within these hours.
    night = equip_each(replace(placed, hours_s=(wishes.start_s, wishes.end_s)), circumstances.instruments)
    powers = max(map(_powers, each), key=lambda powers: powers.highest)
    of_bodies = _body_scores(night, kept, powers)
    places = np.searchsorted(welcome, best)
    # Whoever asks for a list has chosen already.
    of_age = judged.of_age[best] & _is_sight(columns, best) & (not (candidates.listed or wishes.favour))
    variety = _VARIETY_IN_BINOCULARS if powers.highest < LOW_POWER else 1.0
    nothing = np.zeros(len(kept))
    worth = Worth(
        score=np.append(score[places], of_bodies),
        renown=np.append(known[places], _GRAND_RENOWN * (of_bodies >= _GRAND)),
        first=np.append(first[places], nothing),
        of_age=np.append(of_age, nothing.astype(bool)),
    )
    choice = Choice(night, traits_of(night.targets), worth, wishes, variety)
    picks = tuple(choice.run())
    return Draft(night, picks, choice.refused, columns, bodies, judged, wishes, tuple(ranked))


def _renown(each: Sequence[Circumstances], columns: Columns, judged: Survey, rows: Sequence[int]) -> Array:
    """Return two renowns of rows, (2, R): with the largest kit under this sky, and as showpieces besides."""
    if not rows:
        return np.zeros((2, 0))
    largest_mm = max(circumstances.kit.telescope.aperture_mm for circumstances in each)
    darkest_mag = float(np.nanmax(judged.sky_mag[list(rows)]))
    names = [columns.name[row] for row in rows]
    return np.array([renown(names, largest_mm, darkest_mag), showpiece_renown(names)])


def _is_sight(columns: Columns, rows: Sequence[int]) -> Flags:
    """Return which rows are more than a test: of the pairs that an aperture just parts, the famous."""
    return np.array(
        [
            columns.kind[row] is not Kind.DOUBLE or target_key(columns.name[row]) in described()
            for row in rows
        ],
        dtype=bool,
    )


def _subject(candidates: Candidates, row: int, min_altitude_deg: float | None) -> Subject:
    original = candidates.originals.get(candidates.columns.name[row])
    if original is None:
        return subject_at(candidates.columns, row, min_altitude_deg)
    return replace(original, min_altitude_deg=min_altitude_deg)


def _best_scores(
    each: Sequence[Circumstances],
    candidates: Candidates,
    found: Sequence[Survey],
    rows: Sequence[int],
    wishes: Wishes,
) -> Array:
    """Return the score of rows, each with the best kit for it among those that show it well enough."""
    worths = []
    for circumstances, judged in zip(each, found, strict=True):
        score = _scores(circumstances, candidates, judged, rows, wishes)
        welcome = np.array([wishes.welcomes(told) for told in judged.word[list(rows)]], dtype=bool)
        worths.append(np.where(welcome, score, -np.inf))
    return np.maximum.reduce(worths)


def _scores(
    circumstances: Circumstances,
    candidates: Candidates,
    judged: Survey,
    rows: Sequence[int],
    wishes: Wishes,
) -> Array:
    """Return the score of rows of the columns, each by the rule for its kind."""
    columns = candidates.columns
    which, powers = np.array(rows, dtype=np.intp), _powers(circumstances)
    kinds = [columns.kind[row] for row in rows]
    names = [columns.name[row] for row in rows]
    shown = _shown(circumstances, columns, judged, which)
    favour = np.array(
        [wishes.favour.get(target_key(name), 0.0) + candidates.favour.get(name, 0.0) for name in names],
        dtype=float,
    )
    is_pair, is_single = np.isin(kinds, [Kind.DOUBLE]), np.isin(kinds, SINGLE)
    worths = np.select(
        [is_pair, is_single],
        [pair_scores(shown, powers), star_scores(shown)],
        glow_scores(shown, powers),
    )
    return worths + favour


def _shown(circumstances: Circumstances, columns: Columns, judged: Survey, rows: Indices) -> Showing:
    """Return how rows of the columns show, for their scores."""
    tenth_mag, nebula_mag = columns.tenth_star_magnitude[rows], columns.surface_brightness_mag[rows]
    kinds = [columns.kind[row] for row in rows.tolist()]
    return Showing(
        kind=list(map(shines_as, kinds, tenth_mag, nebula_mag)),
        hubble_type=[columns.hubble_type[row] for row in rows.tolist()],
        magnitude=columns.magnitude[rows],
        companion_mag=columns.companion_magnitude[rows],
        separation_arcsec=columns.separation_arcsec[rows],
        size_arcmin=columns.size_arcmin[rows],
        dex=judged.contrast_dex[rows],
        is_in_two_pairs=_in_two_pairs(columns, rows),
        sky_mag=judged.sky_mag[rows],
        highest_deg=judged.highest_deg[rows],
        best_deg=90.0 - np.abs(circumstances.site.latitude_deg - columns.dec_deg[rows]),
    )


def _in_two_pairs(columns: Columns, rows: Indices) -> Flags:
    """Return which rows (R,) of the columns are pairs with another one of the rows in the same view."""
    pairs = np.flatnonzero(np.isin(columns.kind, [Kind.DOUBLE])[rows])
    pairs = pairs[np.argsort(columns.dec_deg[rows[pairs]])]
    ra_deg, dec_deg = columns.ra_deg[rows[pairs]], columns.dec_deg[rows[pairs]]
    found = np.zeros(len(rows), dtype=bool)
    for step in range(1, len(pairs)):
        one = np.flatnonzero(dec_deg[step:] - dec_deg[:-step] < _SECOND_PAIR_DEG)
        if not one.size:
            break
        other = one + step
        near = separation_deg(ra_deg[one], dec_deg[one], ra_deg[other], dec_deg[other]) < _SECOND_PAIR_DEG
        found[pairs[one[near]]] = found[pairs[other[near]]] = True
    return found


def _powers(circumstances: Circumstances) -> Powers:
    made = combinations(circumstances.kit)
    choices = sensible(
        made, limits(circumstances.kit, circumstances.person.pupil_mm, circumstances.person.seeing_arcsec)
    )
    return Powers(circumstances.kit.telescope.aperture_mm, choices[0].power, choices[-1].power)


def _body_scores(night: Night, bodies: Sequence[Body], powers: Powers) -> Array:
    """Return the scores of the bodies, which are the last targets of the night."""
    first = len(night.targets) - len(bodies)
    heights = [
        max((stretch.end_altitude_deg for stretch in target.usable), default=0.0) for target in night.targets
    ]
    scores = [
        body_score(night.targets[row], low_power=powers.highest < LOW_POWER)
        + float(np.sin(np.radians(heights[row])))
        for row in range(first, len(night.targets))
    ]
    return np.array(scores, dtype=float)


def _pool(columns: Columns, of_age: Flags, ranked: Sequence[int]) -> list[int]:
    """Return the best rows of each group of kinds, from rows in order of score; and of those come of age."""
    taken: Counter[tuple[str, bool]] = Counter()
    pool = []
    for row in ranked:
        place = (GROUP_OF[columns.kind[row]], bool(of_age[row]))
        if taken[place] < (_POOL_OF_AGE if of_age[row] else _POOL_A_GROUP):
            taken[place] += 1
            pool.append(row)
    return pool


def _floor_deg(circumstances: Circumstances, judged: Survey, row: int) -> float | None:
    """Return from which altitude on to offer a target that still rises at the end of the hours, else None."""
    if not judged.rises_on[row]:
        return None
    floor = float(np.floor(min(_WORTHY_DEG, _WORTHY_SHARE * judged.highest_deg[row])))
    return floor if floor > circumstances.person.min_altitude_deg else None


def _patient(sky: Sky, circumstances: Circumstances, bodies: Sequence[Body], wishes: Wishes) -> list[Body]:
    """Return the bodies; those that still rise at the end of the hours get a least altitude.

    Features of the Moon do not: their light does not wait.
    """
    if not bodies:
        return []
    last = np.array([wishes.end_s - 600.0, wishes.end_s])
    before, after = tracks(sky, circumstances.site, bodies, last).altitude_deg.T
    usual = circumstances.person.min_altitude_deg
    floors = np.where(after > before, np.floor(np.minimum(_WORTHY_DEG, _WORTHY_SHARE * after)), 0.0)
    return [
        body
        if isinstance(body, LunarFeature) or floor <= (body.min_altitude_deg or usual)
        else replace(body, min_altitude_deg=float(floor))
        for body, floor in zip(bodies, floors, strict=True)
    ]
