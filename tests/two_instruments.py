"""Two instruments on a hill, for the tests that need more than one: the place and the kit are invented."""

SITE = """
[[site]]
name = "Hill"
latitude_deg = 47.0
longitude_deg = 11.0
timezone = "Europe/Vienna"
sky_brightness = 21.4
"""
#: The site, a telescope and binoculars of an observer.toml; the eyepieces are each test's own.
HILL = f"""{SITE}\
[[telescope]]
name = "Grey tube"
aperture_mm = 300
focal_length_mm = 1500
obstruction_mm = 70
barrel_in = 2
[[binoculars]]
name = "Old 10x50"
magnification = 10
aperture_mm = 50
true_field_deg = 6.5
"""
