"""The instruments of one night: several telescopes and binoculars under one sky."""

from nightmode.model.kit import Kit
from nightmode.records import Record


class Instruments(Record):
    """The kits of a night, one for each instrument; there is at least one, and the first is the main one.

    The first `shared` of them serve any target; those after them serve the targets that name them.
    """

    kits: tuple[Kit, ...]
    shared: int = 1

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the instruments."""
        return tuple(kit.telescope.name for kit in self.kits)

    def place(self, name: str) -> int | None:
        """Return the place of an instrument by its name, compared without case, or None."""
        wanted = name.casefold()
        return next((place for place, name in enumerate(self.names) if name.casefold() == wanted), None)
