"""The observer's lists for a night: their own items, the instruments, and the star to set the finder on."""

from nightmode.night.aligning import align_at_dusk
from nightmode.night.table import Night
from nightmode.wording.kit import instruments_item
from nightmode.wording.place import align_words


def before_dark(night: Night) -> tuple[str, ...]:
    """Return what to do before dark; with a finder, the star to set it on comes last."""
    star = align_at_dusk(night) if night.has_finder else None
    finder = (f"finder, at dusk: {align_words(star, night.person.fist_deg)}",) if star else ()
    return (*night.person.before_dark, *instruments_item(night.instruments.names), *finder)


def packing_up(night: Night) -> tuple[str, ...]:
    """Return what to do when packing up."""
    return (*night.person.packing_up, *instruments_item(night.instruments.names))
