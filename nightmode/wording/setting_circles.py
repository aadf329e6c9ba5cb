"""The figures of setting circles, in hours and minutes or degrees and minutes."""

from nightmode.sky.setting_circles import CircleReadings
from nightmode.wording.figures import round_angle

#: (short label, name, figures)
Reading = tuple[str, str, str]


def circle_rows(found: CircleReadings) -> list[tuple[Reading, Reading]]:
    """Return the figures in pairs, in the order in which they are needed at a mount."""
    altitude, azimuth = f"{found.altitude_deg:.1f}°", round_angle(found.azimuth_deg, 1)
    angle, sidereal = signed_hours(found.hour_angle_deg), hours_minutes(found.sidereal_deg)
    return [
        (("alt", "altitude", altitude), ("az", "azimuth", azimuth)),
        (
            ("RA", "right asc.", hours_minutes(found.ra_deg)),
            ("dec", "declination", degrees_minutes(found.dec_deg)),
        ),
        (("HA", "hour angle", angle), ("LST", "sidereal", sidereal)),
    ]


def hours_minutes(angle_deg: float) -> str:
    """Return an angle as hours and minutes of right ascension, to a tenth of a minute: "18h54.3m"."""
    tenths = round(angle_deg % 360.0 / 15.0 * 600.0) % 14400
    return f"{tenths // 600}h{tenths % 600 / 10:04.1f}m"


def signed_hours(angle_deg: float) -> str:
    """Return an hour angle of -180 to 180 degrees with its sign, to the minute: "+3h12m"."""
    minutes = round(abs(angle_deg) / 15.0 * 60.0)
    return f"{'-' if angle_deg < 0 else '+'}{minutes // 60}h{minutes % 60:02d}m"


def degrees_minutes(angle_deg: float) -> str:
    """Return a declination with its sign, to the minute of arc: "+33°04′"."""
    minutes = round(abs(angle_deg) * 60.0)
    return f"{'-' if angle_deg < 0 else '+'}{minutes // 60}°{minutes % 60:02d}′"
