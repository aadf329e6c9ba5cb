"""The words for instruments, the parts of a kit and what its powers are good for."""

from collections.abc import Sequence

from nightmode import optics
from nightmode.eyepiece import Limits, Misfit
from nightmode.eyepiece.fitness import Fitness, has_power
from nightmode.model.kit import Binoculars, Instrument
from nightmode.model.observer import Person
from nightmode.wording.figures import cut, power

#: What an exit pupil of so many mm and more is good for. Common practice, no published source.
GOOD_FOR = (
    (4.0, "widest views, large nebulae"),
    (2.5, "clusters, large faint objects"),
    (1.5, "galaxies, nebulae, globulars"),
    (1.2, "globulars, small planetaries"),
    (0.7, "planets, Moon, doubles"),
    (0.5, "close doubles, still air"),
)
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
    powers = [f"{setting:g}" for setting, _ in binoculars.settings]
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

    The words alone if they begin with its name, or if no instrument is given. What is too long first loses
    what goes without saying: "17 mm + O III".
    """
    if not instrument or f"{words} ".startswith(f"{instrument} "):
        return cut(_shorter(words, width), width)
    words = cut(_shorter(words, width - len(instrument) - 2), width - _LEAST_NAME - 2)
    return f"{cut(instrument, width - len(words) - 2)}: {words}"


def _shorter(words: str, width: int) -> str:
    """Return words without "eyepiece" and "filter" if they are too long with them."""
    return words if len(words) <= width else words.replace(" eyepiece", "").replace(" filter", "")


def misfit_text(misfit: Misfit) -> str:
    """Return a sentence that says which two parts do not fit together."""
    into = misfit.into or "the focuser"
    part, hole = f"{misfit.part} ({misfit.barrel_in:g} inch)", f"{into} ({misfit.hole_in:g} inch)"
    return f"{part} does not go into {hole}"


def good_for_text(suits: Fitness, exit_pupil_mm: float, aperture_mm: float, person: Person) -> str:
    """Return in a few words what a power is good for by its exit pupil, or why it does not suit."""
    match suits:
        case Fitness.TOO_MUCH:
            return f"too much for {aperture_mm:.0f} mm"
        case Fitness.STILL_AIR:
            return f"too much for air of {person.seeing_arcsec:.1f}″"
        case Fitness.TOO_LITTLE:
            return f"too little: pupil of {person.pupil_mm:.1f} mm"
    return next((words for least_mm, words in GOOD_FOR if exit_pupil_mm >= least_mm - 1e-9), GOOD_FOR[-1][1])


def claim_text(suits: Fitness, claimed: float, aperture_mm: float, bounds: Limits) -> str:
    """Return one sentence on whether a power printed on the box of a telescope is useful."""
    times = f"{power(claimed)} is {claimed / aperture_mm:.2g} times the aperture in mm"
    size, highest = f"{aperture_mm:.0f} mm", float(optics.highest_useful_magnification(aperture_mm))
    match suits:
        case Fitness.TOO_MUCH:
            return f"{times}; {size} carries at most {highest:.0f}x: more only grows dim and blurred."
        case Fitness.STILL_AIR:
            air = f"air of {bounds.seeing_arcsec:.1f}″ carries {bounds.highest_power:.0f}x"
            return f"{times}; {size} carries it, but {air}: for still nights."
        case Fitness.TOO_LITTLE:
            beam, lowest = f"its beam of {aperture_mm / claimed:.1f} mm", f"{bounds.lowest_power:.0f}x"
            return f"{times}; {beam} is wider than the eye's pupil: from {lowest} on."
    return f"{times}; {size} carries it: up to {highest:.0f}x is useful."


def binoculars_claim_text(binoculars: Binoculars, claimed: float) -> str:
    """Return one sentence on a power claimed for binoculars, which have powers of their own and no other."""
    if has_power(binoculars, claimed):
        beam = float(optics.exit_pupil_mm(binoculars.aperture_mm, claimed))
        return f"{power(claimed)} is a power that {binoculars.name} has, in a beam of {beam:.1f} mm."
    powers = [power(own) for own, _ in binoculars.settings]
    has = f"{powers[0]} to {powers[-1]}" if binoculars.is_zoom else ", ".join(powers)
    return f"{binoculars.name} has {has} and no other power: nothing makes {power(claimed)} of it."
