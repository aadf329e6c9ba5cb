"""The figures of setting circles as they are read off: hours and minutes, degrees and minutes."""

from nightmode.sky.circles import Circles

#: (short label, name, figures)
Figure = tuple[str, str, str]


def circle_rows(found: Circles) -> list[tuple[Figure, Figure]]:
    """Return the figures two by two, in the order in which they are needed at a mount."""
    altitude, azimuth = f"{found.altitude_deg:.1f}°", f"{found.azimuth_deg % 360:.1f}°"
    angle, sidereal = signed_hours(found.hour_angle_deg), hours(found.sidereal_deg)
    return [
        (("alt", "altitude", altitude), ("az", "azimuth", azimuth)),
        (("RA", "right asc.", hours(found.ra_deg)), ("dec", "declination", degrees(found.dec_deg))),
        (("HA", "hour angle", angle), ("LST", "sidereal", sidereal)),
    ]


def hours(angle_deg: float) -> str:
    """Return an angle as hours and minutes of right ascension, to a tenth of a minute: "18h54.3m"."""
    tenths = round(angle_deg % 360.0 / 15.0 * 600.0) % 14400
    return f"{tenths // 600}h{tenths % 600 / 10:04.1f}m"


def signed_hours(angle_deg: float) -> str:
    """Return an hour angle of -180 to 180 degrees with its sign, to the minute: "+3h12m"."""
    minutes = round(abs(angle_deg) / 15.0 * 60.0)
    return f"{'-' if angle_deg < 0 else '+'}{minutes // 60}h{minutes % 60:02d}m"


def degrees(angle_deg: float) -> str:
    """Return a declination with its sign, to the minute of arc: "+33°04′"."""
    minutes = round(abs(angle_deg) * 60.0)
    return f"{'-' if angle_deg < 0 else '+'}{minutes // 60}°{minutes % 60:02d}′"
