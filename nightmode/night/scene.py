"""What the visibility model needs to know of glows on a night: their light, their sky, the glass."""

from collections.abc import Sequence

from nightmode.arrays import Indices
from nightmode.catalog.light import lights_of
from nightmode.eyepiece import Combination
from nightmode.model.target import shines_in
from nightmode.night.conditions import conditions_at
from nightmode.night.glass import glass_with
from nightmode.night.table import Night
from nightmode.records import Record, replace
from nightmode.visibility.conditions import Conditions
from nightmode.visibility.filters import filter_loss_mag
from nightmode.visibility.glass import Glass, together
from nightmode.visibility.profile import Light


class Scene(Record, eq=False):
    """N targets, each under its own sky and in its own eyepiece: arrays (N,), curves of light (N, radii)."""

    light: Light
    conditions: Conditions
    glass: Glass

    def some(self, which: Indices) -> "Scene":
        """Return the scene of some of the targets."""
        count = len(self.light.magnitude)
        return Scene(self.light.some(which), self.conditions.some(which, count), self.glass.some(which))


def scene_of(
    night: Night, rows: Indices, columns: Indices, combinations: Sequence[Combination], zenith_mag: float
) -> Scene:
    """Return the scene of targets `rows`, each at its own minute and through its own combination."""
    subjects = [night.targets[row].subject for row in rows]
    through = together([
        glass_through(night, row, combination) for row, combination in zip(rows, combinations, strict=True)
    ])  # fmt: skip
    return Scene(lights_of(subjects), conditions_at(night, rows, columns, zenith_mag), through)


def glass_through(night: Night, row: int, combination: Combination) -> Glass:
    """Return what a target is seen through: a combination in its instrument, and the filter suggested."""
    sky_filter_mag, object_filter_mag = filter_losses(night, row)
    bare = glass_with(night.targets[row].kit.telescope, night.person, combination)
    return replace(bare, sky_filter_mag=sky_filter_mag, object_filter_mag=object_filter_mag)


def filter_losses(night: Night, row: int) -> tuple[float, float]:
    """Return the magnitudes the filter suggested for a target takes off sky and object."""
    target = night.targets[row]
    name = target.look.filter if target.look else None
    passband = next((filter_.passband for filter_ in target.kit.filters if filter_.name == name), None)
    return filter_loss_mag(passband, shines_in(target.subject)) if passband else (0.0, 0.0)
