"""A plan without targets, for a field at 51 degrees north in December."""

FIELD = """
title = "In a field"
night = 2026-12-12

[site]
name = "North field"
latitude_deg = 51.0
longitude_deg = 10.0
timezone = "Europe/Berlin"
bortle = 4

[telescope]
name = "Long tube"
aperture_mm = 150
focal_length_mm = 900
"""
WITH_EYEPIECE = (
    FIELD
    + """
[[eyepiece]]
name = "25 mm"
focal_length_mm = 25
"""
)
