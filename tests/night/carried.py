"""The kits of the cases of common practice, as their tables give them."""

from nightmode.model.kit import Barlow, Eyepiece, Filter, Kit, Telescope


def kit_of(name, given):
    """Return the kit of a table: aperture and focal length, eyepieces with their fields, Barlow, filters."""
    return Kit(
        telescope=Telescope(
            name=name,
            aperture_mm=given["aperture_mm"],
            focal_length_mm=given["focal_length_mm"],
            obstruction_mm=given.get("obstruction_mm", 0.0),
        ),
        eyepieces=tuple(
            Eyepiece(name=f"{focal} mm", focal_length_mm=focal, apparent_field_deg=field)
            for focal, field in given["eyepieces"]
        ),
        barlows=(Barlow(name="Barlow", factor=given["barlow"]),) if "barlow" in given else (),
        filters=tuple(Filter(name=band, passband=band) for band in given["filters"]),
    )
