"""The combinations of eyepieces and Barlows in a telescope, and which one to find a target with.

`suggestion` and `filters` choose the combination and the filter to look with.
"""

from collections.abc import Sequence
from itertools import product

from nightmode import optics
from nightmode.model.kit import Barlow, Binoculars, Eyepiece, Kit, Telescope
from nightmode.records import Record

#: For finding, the beam may be this many times as wide as the eye's pupil: a third of the light is lost, but
#: the field is what counts (common practice, no published source).
FINDING_SPILL = 1.25


class Combination(Record):
    """An eyepiece in the telescope, with or without a Barlow, and the figures of the two.

    barlow_factor is below 1 for a focal reducer, 1 without Barlow and reducer.
    """

    eyepiece: str
    barlow: str | None
    power: float
    true_field_deg: float
    exit_pupil_mm: float
    barlow_factor: float = 1.0

    @property
    def name(self) -> str:
        """Eyepiece and Barlow as they are told: "9 mm + Barlow 2x"."""
        return f"{self.eyepiece} + {self.barlow}" if self.barlow else self.eyepiece

    @property
    def widens(self) -> bool:
        """Whether a focal reducer is in it."""
        return self.barlow_factor < 1.0


class Limits(Record):
    """The lowest and highest sensible power: by the eye's pupil, and by aperture or air."""

    lowest_power: float
    highest_power: float
    dawes_arcsec: float
    seeing_arcsec: float

    @property
    def aperture_mm(self) -> float:
        """The aperture, for which its Dawes limit stands."""
        return optics.DAWES_MM_ARCSEC / self.dawes_arcsec


def limits(kit: Kit, pupil_mm: float, seeing_arcsec: float) -> Limits:
    """Return the limits for a telescope, an eye and the steadiness of the air."""
    aperture_mm = kit.telescope.aperture_mm
    return Limits(
        lowest_power=float(optics.lowest_useful_magnification(aperture_mm, pupil_mm)),
        highest_power=float(optics.highest_useful_magnification(aperture_mm, seeing_arcsec)),
        dawes_arcsec=float(optics.dawes_limit_arcsec(aperture_mm)),
        seeing_arcsec=seeing_arcsec,
    )


def combinations(kit: Kit) -> list[Combination]:
    """Return every combination that can be put together, lowest power first; of equal ones, without Barlow.

    A barrel never goes into a narrower hole: eyepiece into Barlow, Barlow into focuser. Into a wider one it
    goes with an adapter. Binoculars have one combination for each power, under their own name.
    """
    if isinstance(kit.telescope, Binoculars):
        return _fixed(kit.telescope)
    telescope, barlows = kit.telescope, [None, *kit.barlows]
    made = [
        _combine(telescope, eyepiece, barlow)
        for eyepiece, barlow in product(kit.eyepieces, barlows)
        if _fits(telescope.barrel_in, eyepiece, barlow)
    ]
    return sorted(made, key=lambda made: (made.power, made.barlow is not None, -made.true_field_deg))


class Misfit(Record):
    """A part whose barrel is too wide for the Barlow of the name `into`, or for the focuser (None)."""

    part: str
    barrel_in: float
    into: str | None
    hole_in: float


def misfits(kit: Kit) -> list[Misfit]:
    """Return what cannot be put together: first what does not go into the focuser at all."""
    if isinstance(kit.telescope, Binoculars):
        return []
    hole_in = kit.telescope.barrel_in
    parts: tuple[Eyepiece | Barlow, ...] = (*kit.eyepieces, *kit.barlows)
    found = [Misfit(part.name, part.barrel_in, None, hole_in) for part in parts if part.barrel_in > hole_in]
    return found + [
        Misfit(eyepiece.name, eyepiece.barrel_in, barlow.name, barlow.barrel_in)
        for barlow, eyepiece in product(kit.barlows, kit.eyepieces)
        if barlow.barrel_in < eyepiece.barrel_in <= hole_in
    ]


def _fits(hole_in: float, eyepiece: Eyepiece, barlow: Barlow | None) -> bool:
    if barlow is None:
        return eyepiece.barrel_in <= hole_in
    return eyepiece.barrel_in <= barlow.barrel_in <= hole_in


def _fixed(binoculars: Binoculars) -> list[Combination]:
    return [
        Combination(
            eyepiece=binoculars.name,
            barlow=None,
            power=power,
            true_field_deg=field_deg,
            exit_pupil_mm=float(optics.exit_pupil_mm(binoculars.aperture_mm, power)),
        )
        for power, field_deg in binoculars.settings
    ]


def _combine(telescope: Telescope, eyepiece: Eyepiece, barlow: Barlow | None) -> Combination:
    factor = barlow.factor if barlow else 1.0
    power = float(optics.magnification(telescope.focal_length_mm, eyepiece.focal_length_mm, factor))
    field_deg = optics.true_field_deg(
        telescope.focal_length_mm,
        eyepiece.focal_length_mm,
        eyepiece.apparent_field_deg,
        field_stop_mm=eyepiece.field_stop_mm,
        barlow_factor=factor,
    )
    return Combination(
        eyepiece=eyepiece.name,
        barlow=barlow.name if barlow else None,
        power=power,
        true_field_deg=float(field_deg),
        exit_pupil_mm=float(optics.exit_pupil_mm(telescope.aperture_mm, power)),
        barlow_factor=factor,
    )


def find_with(made: Sequence[Combination], bounds: Limits) -> Combination | None:
    """Return the combination to find with: the widest field whose beam is little wider than the eye's pupil.

    If there is none, the widest field there is; never with a Barlow or a reducer. None if no eyepiece fits.
    """
    plain = [combination for combination in made if combination.barlow is None]
    within = [
        combination for combination in plain if combination.power * FINDING_SPILL >= bounds.lowest_power
    ]
    return max(
        within or plain,
        key=lambda combination: (combination.true_field_deg, -combination.power),
        default=None,
    )


def sensible(made: Sequence[Combination], bounds: Limits) -> list[Combination]:
    """Return the combinations within the limits of eye, aperture and seeing; lowest power first.

    If there is none, the one of lowest power, so that there is always something to look with.
    """
    within = [
        combination
        for combination in made
        if bounds.lowest_power <= combination.power <= bounds.highest_power
    ]
    return within or list(made[:1])
