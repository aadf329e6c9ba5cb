"""One cell of the night's table: a target at one minute."""

from functools import cached_property

from nightmode.model.kit import Instrument
from nightmode.night.table import Night, NightTarget
from nightmode.records import Record


class Cell(Record, eq=False):
    """A target of a night, by its row, at one minute, by its column."""

    night: Night
    row: int
    column: int

    @property
    def target(self) -> NightTarget:
        """The target, and the kit that it is looked at with."""
        return self.night.targets[self.row]

    @property
    def telescope(self) -> Instrument:
        """The telescope or binoculars that it is looked at with."""
        return self.target.kit.telescope

    @property
    def at_s(self) -> float:
        """The minute, in Unix seconds."""
        return float(self.night.time_s[self.column])

    @cached_property
    def altitude_deg(self) -> float:
        """Its apparent altitude."""
        return float(self.night.altitude_deg[self.row, self.column])

    @property
    def is_moon_up(self) -> bool:
        """Whether the Moon stands above the level horizon."""
        return bool(self.night.moon.altitude_deg[self.column] > 0.0)
