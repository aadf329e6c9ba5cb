"""One target of the walk at one instant: what a page tells of it follows from these."""

from functools import cached_property
from zoneinfo import ZoneInfo

from nightmode.app.walker import Walker
from nightmode.eyepiece import Combination
from nightmode.model.session import Outcome
from nightmode.night.table import Night, NightTarget
from nightmode.records import Record
from nightmode.walk.order import Standing
from nightmode.walk.usable import Usable


class Glance(Record, eq=False):
    """A target, by its row, at an instant (Unix seconds)."""

    walker: Walker
    row: int
    now_s: float

    @cached_property
    def night(self) -> Night:
        """The night under the last reading of the sky."""
        return self.walker.night

    @cached_property
    def target(self) -> NightTarget:
        """The target, and the kit that it is looked at with."""
        return self.night.targets[self.row]

    @property
    def zone(self) -> ZoneInfo:
        """The time zone of the site."""
        return self.night.site.zone

    @property
    def combination(self) -> Combination | None:
        """What it is looked at with; None without any."""
        return self.walker.combination(self.row)

    @property
    def stretch(self) -> Usable | None:
        """The stretch in which it can be observed now, else the next one, else None."""
        return self.target.chance.stretch(self.now_s)

    @property
    def standing(self) -> Standing:
        """How it stands in the walk."""
        return self.walker.standing(self.row, self.now_s)

    @property
    def outcome(self) -> Outcome | None:
        """The last outcome noted, or None."""
        return self.walker.state.outcome(self.target.chance.key)
