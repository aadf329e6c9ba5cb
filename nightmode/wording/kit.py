"""What is said of the parts of a kit."""

from nightmode.eyepiece import Misfit


def misfit_text(misfit: Misfit) -> str:
    """Return in a sentence that two parts do not go together."""
    into = misfit.into or "the focuser"
    part, hole = f"{misfit.part} ({misfit.barrel_in:g} inch)", f"{into} ({misfit.hole_in:g} inch)"
    return f"{part} does not go into {hole}"
