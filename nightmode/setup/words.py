"""The words of `setup`'s questions; light to import, for the help of the command."""

#: What is asked, what it means in half a line, and an example, by key.
WORDS = {
    "site": ("Where", "a name for the place", "Garden"),
    "latitude": ("Latitude", "north positive, or with N or S; or both: 48.21, 16.37", "48.21"),
    "longitude": ("Longitude", "east positive, or with E or W", "16.37"),
    "elevation": ("Height", "metres above the sea", "250"),
    "timezone": ("Time zone", "IANA name, or its city", "Europe/Vienna"),
    "dark": ("How dark", "Bortle 8 city, 5 suburb, 3 rural; meter 20.8; or star 5.5mag", "20.8"),
    "horizon": ("Horizon", "azimuth:altitude pairs, open NE-SW on a balcony, or none", "0:12,90:8,180:3"),
    "telescope": ("Telescope", "a name for it, or none for binoculars alone", "200 mm reflector"),
    "binoculars": ("Binoculars", "power x aperture/field; add mounted, one eye for a scope", "10x50/6.5"),
    "aperture": ("Aperture", "mm, width of the main lens or mirror", "200"),
    "focal_length": ("Focal length", "mm, of the telescope", "1200"),
    "obstruction": ("Obstruction", "mm, the secondary mirror's width; 0 for a refractor", "50"),
    "barrel": ("Focuser", "1.25 or 2 inch", "2"),
    "eyepieces": (
        "Eyepieces",
        "mm or mm/apparent field, zoom 8-24/60-40, commas, or none; -25 takes one away",
        "25/50,10/60",
    ),
    "barlows": ("Barlows", "factor, or none; -2 takes one away", "2"),
    "filters": ("Filters", "narrowband, oiii, hbeta, broadband, neutral, colour", "oiii"),
    "finder": ("Finder", "power x aperture/field, its view if not turned; or none", "8x50/5.5"),
    "bullseye": ("Bullseye sight", "its circles' diameters in degrees, dot, or none", "1,2.5,5"),
    "pupil": ("Dark pupil", "mm: about 7 when young, 5 at sixty", "6"),
    "min_altitude": ("Lowest altitude", "degrees; below it nothing is offered", "15"),
    "view": (
        "View",
        "of the field in the telescope: upright, turned, mirrored, as by a star diagonal",
        "turned",
    ),
    "hours": ("Hours", "from-to when you observe, local time, or all", "20:00-00:30"),
}


def flag_of(key: str) -> str:
    """Return the flag that answers a question."""
    return "--" + key.replace("_", "-")
