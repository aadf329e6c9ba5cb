"""Gives each target of a night the instrument that suits it: one sky, several kits."""

from collections.abc import Sequence

from nightmode.catalog.one_view import view_arcmin
from nightmode.eyepiece.instrument import Offer, least_changes, suited
from nightmode.model.instruments import Instruments
from nightmode.model.problem import Problem
from nightmode.night.conditions import best_columns
from nightmode.night.equipping import equip
from nightmode.night.table import Night, SkyTable
from nightmode.records import replace
from nightmode.walk.order import walk_order
from nightmode.words import Word


def equip_each(sky: SkyTable, instruments: Instruments) -> Night:
    """Return the night with each target under the kit that it names, or else under one that suits it.

    Among kits that suit a target equally, take those that change the instrument least in the order of the
    walk.
    """
    if len(instruments.kits) == 1:
        return equip(sky, instruments.kits[0])
    named = [_named(instruments, target.subject.telescope) for target in sky.targets]
    free = [row for row, place in enumerate(named) if place is None]
    needed = {0, *(place for place in named if place is not None), *range(instruments.shared if free else 0)}
    nights = {place: equip(sky, instruments.kits[place]) for place in sorted(needed)}
    suits: dict[int, tuple[int, ...]] = {row: (place or 0,) for row, place in enumerate(named)}
    if free and instruments.shared > 1:
        suits |= _suited(sky, [nights[place] for place in range(instruments.shared)], free)
    order = walk_order(sky.chances, float(sky.time_s[0]))
    chosen = dict(zip(order, least_changes([suits[row] for row in order]), strict=True))
    targets = tuple(nights[chosen[row]].targets[row] for row in range(len(sky.targets)))
    return replace(
        nights[0], targets=targets, instruments=instruments, problems=_problems([*nights.values()])
    )


def with_kit(night: Night, row: int, place: int) -> Night:
    """Return the night with the target of this row under the kit at this place."""
    alone = equip(night.only([row]), night.instruments.kits[place]).targets[0]
    return replace(night, targets=(*night.targets[:row], alone, *night.targets[row + 1 :]))


def under_sky(night: Night, zenith_mag: float) -> Night:
    """Return the night with instruments and eyepieces chosen again for another sky brightness.

    zenith_mag is the moonless brightness at the zenith in mag/arcsec², from a reading at the telescope.
    Places, times and order of the targets stay as they are.
    """
    return equip_each(replace(night, zenith_mag=zenith_mag), night.instruments)


def _named(instruments: Instruments, name: str | None) -> int | None:
    return None if name is None else instruments.place(name)


def _suited(sky: SkyTable, nights: Sequence[Night], rows: Sequence[int]) -> dict[int, tuple[int, ...]]:
    """Return for each of these rows the places of the kits that suit it, judged at its best instant."""
    from nightmode.night.verdict import words_at  # only where there is a choice: it takes long to load

    up = [row for row in rows if sky.targets[row].usable]
    columns = best_columns(sky, [target.subject for target in sky.targets], sky.chances)[up]
    words = [dict(zip(up, words_at(night, up, columns), strict=True)) for night in nights]
    return {
        row: suited(
            sky.targets[row].subject,
            [_offer(night, row, told.get(row, Word.OUT)) for night, told in zip(nights, words, strict=True)],
            view_arcmin(sky.targets[row].subject.name),
        )
        for row in rows
    }


def _offer(night: Night, row: int, word: Word) -> Offer:
    target = night.targets[row]
    field_deg = max((combination.true_field_deg for combination in target.choices), default=0.0)
    return Offer(word, field_deg, target.kit.telescope.aperture_mm)


def _problems(nights: Sequence[Night]) -> tuple[Problem, ...]:
    """Return the problems under any of the kits, each of them once."""
    return tuple(dict.fromkeys(problem for night in nights for problem in night.problems))
