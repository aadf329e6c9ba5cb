"""Judges the whole catalogue at once: what this telescope shows from this site in some hours of a night."""

from collections.abc import Iterator, Sequence

import numpy as np

from nightmode import eyepiece
from nightmode.arrays import Array, Flags, Indices
from nightmode.catalog.columns import Columns
from nightmode.catalog.light import light_in
from nightmode.eyepiece.choices import without_barlow
from nightmode.eyepiece.dim import for_stars
from nightmode.eyepiece.filters import PLAIN_DEX, passbands
from nightmode.eyepiece.pairs import for_pairs
from nightmode.kinds import SINGLE, Kind, ShinesIn
from nightmode.model.kit import Binoculars, Kit
from nightmode.night.circumstances import Circumstances
from nightmode.night.glass import apparent_steps_arcsec, glass_at, glass_with
from nightmode.night.opening import zenith_mag
from nightmode.night.usable import clearance, dark_levels_deg
from nightmode.records import Record, replace
from nightmode.sky.dark import sun_altitude, sun_altitude_at
from nightmode.sky.kernel import Sky
from nightmode.sky.moon import moon_at
from nightmode.sky.refraction import refracted_deg
from nightmode.sky.track import fixed_components
from nightmode.sky.vantage import Vantage, stand
from nightmode.sky.vectors import altitude_of, azimuth_of, separation_deg, unit_vectors
from nightmode.sky.window import minute_columns, night_window
from nightmode.visibility.conditions import Conditions
from nightmode.visibility.eye import star_limit_mag
from nightmode.visibility.filters import filter_loss_mag
from nightmode.visibility.margin import margin, word
from nightmode.visibility.points import star_margin_dex
from nightmode.visibility.profile import Light
from nightmode.visibility.splitting import PairMargins, pair_margins
from nightmode.words import Word

#: Minutes between the instants of a survey: coarse, as the best objects are worked out exactly afterwards.
STEP_MIN = 10.0
#: The next smaller telescope has this share of the aperture (a usual step from one size to the next, common
#: practice, no published source), but at least so many mm.
NEXT_SMALLER, LEAST_MM = 2 / 3, 50.0
#: More shows at each step of so many dex from easy on, up to so many steps: first that it is there, then its
#: shape and brightest parts, then what it is made of, then how that is built. An open cluster is rich when so
#: many of its stars show (our own rules).
_STAGE_DEX, _STAGES, _RICH = 0.6, 4.0, 50.0


class Survey(Record, eq=False):
    """N objects in some hours of a night, (N,) each. Altitudes are in degrees.

    culminates_deg  the greatest altitude, even behind the horizon line or by day
    highest_deg     the greatest altitude while the object can be observed, NaN if it never can
    margin_dex      what the word goes by: light or separation over the threshold then, NaN if not known
    contrast_dex    how far it stands out then: of glows the contrast alone, of all else the margin
    word            the verdict word
    rises_on        whether the object is highest at the end of the hours, and still rising
    sky_mag         how bright the sky is behind the object then, in mag/arcsec2; NaN if it never can
    of_age          whether this instrument shows more of it (`stage`) than the next smaller one (`smaller`)
    """

    culminates_deg: Array
    highest_deg: Array
    margin_dex: Array
    contrast_dex: Array
    word: np.ndarray
    rises_on: np.ndarray
    sky_mag: Array
    of_age: Flags


class _Instants(Record, eq=False):
    """N objects, each at the instant when it stands highest while it can be observed.

    ever            (N,) whether there is one
    altitude_deg, sky_mag, loss_mag   (N,) its altitude, the sky behind it, what its light loses
    glowing         (G,) the rows of those that are judged by their light
    light           the light of these
    """

    ever: Flags
    altitude_deg: Array
    sky_mag: Array
    loss_mag: Array
    glowing: Indices
    light: Light


def survey(sky: Sky, circumstances: Circumstances, columns: Columns, start_s: float, end_s: float) -> Survey:
    """Return the survey of the objects of columns between two instants (Unix seconds), with the main kit."""
    return surveys(sky, each_kit(circumstances)[0], columns, start_s, end_s)[0]


def surveys(
    sky: Sky, circumstances: Circumstances, columns: Columns, start_s: float, end_s: float
) -> tuple[Survey, ...]:
    """Return a survey for each kit that is not for single targets; what depends on the sky is done once."""
    count = max(2, round((end_s - start_s) / 60.0 / STEP_MIN) + 1)
    vantage = stand(sky, circumstances.site, np.linspace(start_s, end_s, count))
    north, east, up = fixed_components(vantage, unit_vectors(columns.ra_deg, columns.dec_deg))
    altitude_deg = refracted_deg(altitude_of(north, east, up))
    # What never gets high enough is left out here: half of the sky.
    rows = np.flatnonzero((altitude_deg > circumstances.person.min_altitude_deg).any(axis=1))
    azimuth_deg = azimuth_of(north[rows], east[rows], up[rows])
    kinds = [columns.kind[row] for row in rows.tolist()]
    usable = np.zeros(altitude_deg.shape, dtype=bool)
    usable[rows] = _usable(vantage, circumstances, kinds, altitude_deg[rows], azimuth_deg)
    best = np.argmax(np.where(usable, altitude_deg, -99.0), axis=1)
    way_deg = np.zeros(len(best))
    way_deg[rows] = azimuth_deg[np.arange(len(rows)), best[rows]]
    instants = _instants(vantage, circumstances, columns, usable, altitude_deg, best, way_deg)
    return tuple(
        _survey(under, columns, instants, altitude_deg.max(axis=1), instants.ever & (best == count - 1))
        for under in each_kit(circumstances)
    )


def _survey(
    circumstances: Circumstances,
    columns: Columns,
    instants: _Instants,
    culminates_deg: Array,
    rises_on: Flags,
) -> Survey:
    """Return the survey with one kit."""
    seen = _through(circumstances, columns, instants.ever, instants)
    here = _stage_of(columns, seen)
    there = replace(circumstances, kit=smaller(circumstances.kit))
    in_smaller = _stage_of(columns, _through(there, columns, instants.ever & (here > 0), instants))
    return Survey(
        culminates_deg=culminates_deg,
        highest_deg=np.where(instants.ever, instants.altitude_deg, np.nan),
        margin_dex=seen.margin_dex,
        contrast_dex=seen.contrast_dex,
        word=seen.word,
        rises_on=rises_on,
        sky_mag=instants.sky_mag,
        of_age=here > in_smaller,
    )


def each_kit(circumstances: Circumstances) -> list[Circumstances]:
    """Return the circumstances with each kit alone, of those that are not for single targets."""
    kits = circumstances.instruments.kits[: circumstances.shared]
    return [replace(circumstances, kit=kit, others=(), shared=1) for kit in kits]


def best_of(found: Sequence[Survey]) -> Survey:
    """Return for each object the figures of the kit that shows it best: by word, then by margin."""
    first, *others = found
    if not others:
        return first
    words = np.array([judged.word for judged in found])
    names = "margin_dex", "contrast_dex", "of_age"
    every = {name: np.array([getattr(survey, name) for survey in found]) for name in names}
    rank = np.vectorize(lambda told: told.rank, otypes=[float])(words)
    kit = (100.0 * rank - np.nan_to_num(every["margin_dex"], nan=-9.0)).argmin(axis=0)
    rows = np.arange(kit.size)
    chosen = {name: figures[kit, rows] for name, figures in every.items()}
    return replace(first, word=words[kit, rows], **chosen)


def _instants(
    vantage: Vantage,
    circumstances: Circumstances,
    columns: Columns,
    usable: Flags,
    altitude_deg: Array,
    best: Indices,
    way_deg: Array,
) -> _Instants:
    """Return what the kits have in common; best (N,) is the instant of each object, way_deg its azimuth."""
    ever = np.asarray(usable.any(axis=1))
    high_deg = altitude_deg[np.arange(len(best)), best]
    rows, (sky_mag, loss_mag) = np.flatnonzero(ever), np.full((2, len(best)), np.nan)
    if rows.size:
        conditions = _conditions(vantage, circumstances, best[rows], high_deg[rows], way_deg[rows])
        sky_mag[rows], loss_mag[rows] = conditions.sky_mag(), conditions.loss_mag()
    known = ~(np.isnan(columns.magnitude) & np.isnan(columns.surface_brightness_mag))
    glowing = np.flatnonzero(ever & ~np.isin(columns.kind, [*SINGLE, Kind.DOUBLE]) & known)
    return _Instants(
        ever=ever,
        altitude_deg=high_deg,
        sky_mag=sky_mag,
        loss_mag=loss_mag,
        glowing=glowing,
        light=light_in(columns, glowing),
    )


class _Seen(Record, eq=False):
    """How objects show with one kit, (N,) each: see `Survey`."""

    margin_dex: Array
    contrast_dex: Array
    word: np.ndarray
    stars: Array


def _through(circumstances: Circumstances, columns: Columns, wanted: Flags, instants: _Instants) -> _Seen:
    """Return how the objects wanted (N,) show with one kit."""
    dex, contrast_dex, stars = (
        np.full(len(wanted), np.nan),
        np.full(len(wanted), np.nan),
        np.zeros(len(wanted)),
    )
    which = np.flatnonzero(wanted[instants.glowing])
    some = instants.glowing[which]
    dex[some], contrast_dex[some], stars[some] = _glows(circumstances, columns, instants, which)
    single = np.flatnonzero(wanted & np.isin(columns.kind, SINGLE))
    dex[single] = _star_dex(
        circumstances, columns.magnitude[single], instants.sky_mag[single], instants.loss_mag[single]
    )
    pairs = np.flatnonzero(wanted & np.isin(columns.kind, [Kind.DOUBLE]))
    split = _splits(circumstances, columns, instants, pairs)
    dex[pairs] = split.margin_dex
    words = word(dex)
    words[pairs] = split.word
    return _Seen(dex, np.where(np.isnan(contrast_dex), dex, contrast_dex), words, stars)


def _stage_of(columns: Columns, seen: _Seen) -> Array:
    return stage(columns.kind, seen.contrast_dex, seen.word, seen.stars)


def stage(kinds: Sequence[Kind], contrast_dex: Array, words: np.ndarray, stars_seen: Array) -> Array:
    """Return how much shows, (N,): 0 unless it is plain, then 1 to 4 with more and more detail.

    A double that is easy has 1, an open cluster 1 if it is rich, an asterism always 0.
    """
    steps = 1.0 + np.floor((np.nan_to_num(contrast_dex, nan=-1.0) - PLAIN_DEX) / _STAGE_DEX)
    clusters = np.isin(kinds, [Kind.OPEN_CLUSTER])
    most = np.full(len(kinds), _STAGES)
    most[np.isin(kinds, [Kind.ASTERISM])] = 0.0
    most[clusters] = stars_seen[clusters] >= _RICH
    return np.where(np.isin(kinds, [Kind.DOUBLE]), words == Word.EASY, np.clip(steps, 0.0, most))


def smaller(kit: Kit) -> Kit:
    """Return the kit with the next smaller instrument at the same exit pupils, to compare with.

    It is never smaller than 50 mm, so a very small instrument is compared with one nearly as large.
    """
    telescope = kit.telescope
    share = max(NEXT_SMALLER, min(1.0, LEAST_MM / telescope.aperture_mm))
    powers = ("magnification", "magnifications") if isinstance(telescope, Binoculars) else ()
    lengths = () if powers else ("focal_length_mm", "obstruction_mm")
    scaled: dict[str, object] = {name: getattr(telescope, name) * share for name in ("aperture_mm", *lengths)}
    for name in powers:
        own = getattr(telescope, name)
        if own is not None:
            scaled[name] = tuple(power * share for power in own) if isinstance(own, tuple) else own * share
    return kit.model_copy(update={"telescope": telescope.model_copy(update=scaled)})


def _usable(
    vantage: Vantage,
    circumstances: Circumstances,
    kinds: Sequence[Kind],
    altitude_deg: Array,
    azimuth_deg: Array,
) -> np.ndarray:
    night_s = minute_columns(night_window(circumstances.site, circumstances.date))
    lowest_deg = float(sun_altitude(vantage.sky, circumstances.site, night_s[::5]).min())
    return clearance(
        altitude_deg,
        azimuth_deg,
        sun_altitude_at(vantage),
        minimum_deg=np.full(len(kinds), circumstances.person.min_altitude_deg),
        horizon=circumstances.site.horizon,
        dark_level_deg=dark_levels_deg(kinds, lowest_deg),
    ).usable


def _glows(
    circumstances: Circumstances, columns: Columns, instants: _Instants, wanted: Indices
) -> tuple[Array, Array, Array]:
    """Return the best margin and contrast over eyepieces and filters, and the most stars, of what glows.

    wanted are places in `instants.glowing`; one value for each of them.
    """
    rows = instants.glowing[wanted]
    choices = without_barlow(_choices(circumstances), or_reducer=True)
    if not choices or not len(rows):
        return np.full(len(rows), np.nan), np.full(len(rows), np.nan), np.zeros(len(rows))
    sky_mag, loss_mag = instants.sky_mag[rows], instants.loss_mag[rows]
    light = instants.light.some(wanted)
    through = [glass_with(circumstances.kit.telescope, circumstances.person, choice) for choice in choices]

    def seen(which: Indices, **filtered: Array) -> tuple[Array, Array, Array]:
        found = [
            margin(light.some(which), sky_mag[which], loss_mag[which], replace(bare, **filtered))
            for bare in through
        ]
        # The best of all, for no combination is suggested that costs a word.
        return (
            np.fmax.reduce([margins.margin_dex for margins in found]),
            np.fmax.reduce([margins.contrast_dex for margins in found]),
            np.fmax.reduce([margins.stars_seen for margins in found]),
        )

    dex, contrast_dex, stars = seen(np.arange(len(rows)))
    for which, losses in _filtered(circumstances, [columns.shines_in[row] for row in rows]):
        sky_filter_mag, object_filter_mag = losses.T
        helped, clearer, _ = seen(which, sky_filter_mag=sky_filter_mag, object_filter_mag=object_filter_mag)
        dex[which], contrast_dex[which] = np.fmax(dex[which], helped), np.fmax(contrast_dex[which], clearer)
    return dex, contrast_dex, stars


def _star_dex(circumstances: Circumstances, magnitude: Array, sky_mag: Array, loss_mag: Array) -> Array:
    """Return the margin of single stars at the power that suits them, each at its own instant."""
    choices = _choices(circumstances)
    if not choices or not len(magnitude):
        return np.full(len(magnitude), np.nan)
    powers = np.array([choice.power for choice in choices])
    power = powers[for_stars(magnitude, choices, _bounds(circumstances))]
    glass = glass_at(circumstances.kit.telescope, circumstances.person, power)
    return star_margin_dex(magnitude, loss_mag, star_limit_mag(sky_mag, glass))


def _filtered(circumstances: Circumstances, lights: Sequence[ShinesIn]) -> Iterator[tuple[Indices, Array]]:
    """Yield for each filter the places of what it can help, and the loss of sky and object in magnitudes."""
    for filter_ in circumstances.kit.filters:
        helped = [place for place, light in enumerate(lights) if filter_.passband in passbands(light)]
        if helped:
            losses = [filter_loss_mag(filter_.passband, lights[place]) for place in helped]
            yield np.array(helped), np.array(losses)


def _conditions(
    vantage: Vantage, circumstances: Circumstances, at: Indices, altitude_deg: Array, azimuth_deg: Array
) -> Conditions:
    moon = moon_at(vantage)
    apart = separation_deg(azimuth_deg, altitude_deg, moon.azimuth_deg[at], moon.altitude_deg[at])
    return Conditions(
        zenith_mag(circumstances.site),
        altitude_deg,
        mag_per_airmass=circumstances.site.extinction,
        moon_phase_angle_deg=moon.light_phase_deg[at],
        moon_separation_deg=apart,
        moon_altitude_deg=moon.altitude_deg[at],
        sun_altitude_deg=sun_altitude_at(vantage)[at],
    )


def _splits(
    circumstances: Circumstances, columns: Columns, instants: _Instants, rows: Indices
) -> PairMargins:
    """Return the margins of doubles, each at its own instant and at the power that suits it."""
    telescope, person = circumstances.kit.telescope, circumstances.person
    separation_arcsec = columns.separation_arcsec[rows]
    primary_mag, companion_mag = columns.magnitude[rows], columns.companion_magnitude[rows]
    difference_mag = np.nan_to_num(np.abs(companion_mag - primary_mag))
    choices = _choices(circumstances)
    power = np.full(len(rows), np.nan)
    if choices:
        powers = np.array([choice.power for choice in choices])
        bounds = _bounds(circumstances)
        power = powers[for_pairs(separation_arcsec, difference_mag, companion_mag, choices, bounds)]
    fainter_mag = np.where(np.isnan(companion_mag), primary_mag, companion_mag)
    limit_mag = star_limit_mag(instants.sky_mag[rows], glass_at(telescope, person, power))
    return pair_margins(
        telescope.aperture_mm,
        separation_arcsec,
        difference_mag,
        altitude_deg=instants.altitude_deg[rows],
        seeing_arcsec=person.seeing_arcsec,
        power=power,
        apparent_steps_arcsec=apparent_steps_arcsec(telescope),
        star_dex=star_margin_dex(fainter_mag, instants.loss_mag[rows], limit_mag),
    )


def _bounds(circumstances: Circumstances) -> eyepiece.Limits:
    return eyepiece.limits(
        circumstances.kit, circumstances.person.pupil_mm, circumstances.person.seeing_arcsec
    )


def _choices(circumstances: Circumstances) -> list[eyepiece.Combination]:
    return eyepiece.sensible(eyepiece.combinations(circumstances.kit), _bounds(circumstances))
