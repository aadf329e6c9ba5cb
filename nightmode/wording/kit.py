"""The words for instruments and the parts of a kit."""

from collections.abc import Sequence

from nightmode.eyepiece import Misfit
from nightmode.model.kit import Binoculars, Instrument
from nightmode.wording.figures import cut

#: At least this many characters of an instrument's name are kept.
_LEAST_NAME = 5


def instrument_text(instrument: Instrument) -> str:
    """Return in a line what an instrument is: its name, aperture, and focal ratio or power."""
    if isinstance(instrument, Binoculars):
        held = "on a mount" if instrument.mounted else "in the hand"
        eyes = "two eyes" if instrument.eyes == 2 else "one eye"
        figures = f"{instrument.aperture_mm:.0f} mm, {_powers(instrument)}, {eyes}, {held}"
    else:
        ratio = instrument.focal_length_mm / instrument.aperture_mm
        figures = f"{instrument.aperture_mm:.0f} mm, f/{ratio:.1f}"
    return f"{instrument.name}: {figures}"


def _powers(binoculars: Binoculars) -> str:
    """Return "10x", "20-60x" of a zoom, "20x, 40x, 60x" of several."""
    powers = [f"{power:g}" for power, _ in binoculars.settings]
    return f"{powers[0]}-{powers[-1]}x" if binoculars.is_zoom else "x, ".join(powers) + "x"


def names_text(names: Sequence[str]) -> str:
    """Return names in a row: "A", "A and B", "A, B and C"."""
    *before, last = names
    return f"{', '.join(before)} and {last}" if before else last


def instruments_item(names: Sequence[str]) -> tuple[str, ...]:
    """Return the checklist item that names the instruments; nothing if there is only one."""
    return (f"instruments: {names_text(names)}",) if len(names) > 1 else ()


def instrument_and(instrument: str, words: str, width: int) -> str:
    """Return an instrument and words on it in at most `width` characters, its name cut: "Grey t…: 12 mm".

    The words alone if they begin with its name, or if no instrument is given.
    """
    if not instrument or f"{words} ".startswith(f"{instrument} "):
        return cut(words, width)
    words = cut(words, width - _LEAST_NAME - 2)
    return f"{cut(instrument, width - len(words) - 2)}: {words}"


def misfit_text(misfit: Misfit) -> str:
    """Return a sentence that says which two parts do not fit together."""
    into = misfit.into or "the focuser"
    part, hole = f"{misfit.part} ({misfit.barrel_in:g} inch)", f"{into} ({misfit.hole_in:g} inch)"
    return f"{part} does not go into {hole}"
