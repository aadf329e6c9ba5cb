"""Which instrument each target is looked at with while the night is walked."""

from collections.abc import Mapping

from nightmode.model.session import Entry
from nightmode.night.each_target import under_sky, with_kit
from nightmode.night.table import Night
from nightmode.night.verdict import moonless_zenith_mag


class Equipment:
    """The night under the last reading of the sky, each target with the instrument that the observer uses.

    That is the instrument that suits the target, until the observer takes another. A target that was ticked
    keeps the instrument it was ticked with, also when the session is opened again.
    """

    def __init__(self, opened: Night, ticks: Mapping[str, Entry]) -> None:
        self._opened = opened
        self._reading: Entry | None = None
        self._taken = _ticked_with(opened, ticks) if opened.has_several else {}
        self._night = self._with_taken(opened)

    def night(self, reading: Entry | None) -> Night:
        """Return the night under a reading of the sky, or under none: one object until something changes."""
        if reading != self._reading:
            self._reading, read = reading, self._opened
            if reading is not None and reading.sky_brightness is not None:
                at_s = reading.at.timestamp()
                read = under_sky(read, moonless_zenith_mag(read, reading.sky_brightness, at_s))
            self._night = self._with_taken(read)
        return self._night

    def take_over(self, opened: Night) -> None:
        """Go on with the night opened again: the rows are those of before, with more or fewer at the end."""
        self._opened, self._reading = opened, None
        self._taken = {row: place for row, place in self._taken.items() if row < len(opened.targets)}
        self._night = self._with_taken(opened)

    def take_next(self, row: int) -> None:
        """Take the next instrument of the list for a target; the first follows the last."""
        kits = self._night.instruments.kits
        in_use = self._night.targets[row].kit
        place = next(place for place, kit in enumerate(kits) if kit is in_use)
        self._taken[row] = (place + 1) % len(kits)
        self._night = with_kit(self._night, row, self._taken[row])

    def _with_taken(self, night: Night) -> Night:
        for row, place in self._taken.items():
            if night.targets[row].kit is not night.instruments.kits[place]:
                night = with_kit(night, row, place)
        return night


def _ticked_with(night: Night, ticks: Mapping[str, Entry]) -> dict[int, int]:
    """Return for each row that was ticked the place of the instrument it was ticked with."""
    found = {}
    for key, tick in ticks.items():
        row, place = night.row(key), night.instruments.place(tick.telescope) if tick.telescope else None
        if row is not None and place is not None:
            found[row] = place
    return found
