"""A garden with a small telescope, for the commands of the day before: place and kit are invented."""

#: The site, the telescope and the eyepiece of an observer.toml.
GARDEN = """
[[site]]
name = "Garden"
latitude_deg = 48.2
longitude_deg = 16.4
timezone = "Europe/Vienna"
sky_brightness = 20.8
[[telescope]]
name = "150 mm"
aperture_mm = 150
focal_length_mm = 750
[[eyepiece]]
name = "25 mm"
focal_length_mm = 25
"""
