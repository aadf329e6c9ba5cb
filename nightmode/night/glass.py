"""What the visibility model asks of telescope, eyepiece and eye: put together in this one place."""

from nightmode.eyepiece import Combination
from nightmode.model.kit import Telescope
from nightmode.model.observer import Person


def star_glass(telescope: Telescope, person: Person, power: float) -> dict[str, float]:
    """Return the figures that decide how faint a star shows (`visibility.eye.star_limit_mag`)."""
    return {
        "aperture_mm": telescope.aperture_mm,
        "obstruction_mm": telescope.obstruction_mm,
        "transmission": telescope.transmission,
        "magnification": power,
        "pupil_mm": person.pupil_mm,
        "field_factor": person.experience,
    }


def glass(telescope: Telescope, person: Person, combination: Combination) -> dict[str, float]:
    """Return the figures that decide how a glow shows (`visibility.verdict.margin`)."""
    return star_glass(telescope, person, combination.power) | {"true_field_deg": combination.true_field_deg}
