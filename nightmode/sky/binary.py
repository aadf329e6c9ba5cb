"""Double stars with an orbit: separation and position angle for a year. Numbers in, numbers out."""

import numpy as np

from nightmode.model.target import Double, Orbit
from nightmode.records import replace


def companion_place(orbit: Orbit, year: float) -> tuple[float, float]:
    """Return separation in arcsec and position angle in degrees, 0 to 360, at a decimal year.

    Source: Meeus, Astronomical Algorithms, 2nd ed. 1998, chapter 57.
    """
    anomaly = _eccentric_anomaly(
        2 * np.pi * ((year - orbit.periastron_year) / orbit.period_years % 1.0), orbit.eccentricity
    )
    radius = orbit.axis_arcsec * (1.0 - orbit.eccentricity * np.cos(anomaly))
    stretch = np.sqrt((1.0 + orbit.eccentricity) / (1.0 - orbit.eccentricity))
    true_anomaly = 2.0 * np.arctan2(stretch * np.sin(anomaly / 2), np.cos(anomaly / 2))
    along = true_anomaly + np.radians(orbit.omega_deg)
    across = np.sin(along) * np.cos(np.radians(orbit.inclination_deg))
    angle_deg = np.degrees(np.arctan2(across, np.cos(along))) + orbit.node_deg
    # Twice, because the first gives 360 itself for an angle just below 0.
    return float(radius * np.hypot(across, np.cos(along))), float(angle_deg % 360.0 % 360.0)


def _eccentric_anomaly(mean_anomaly: float, eccentricity: float) -> float:
    """Return the solution of Kepler's equation by Newton's method, from a start that always converges."""
    anomaly = mean_anomaly if eccentricity < 0.8 else np.pi
    for _ in range(50):
        miss = anomaly - eccentricity * np.sin(anomaly) - mean_anomaly
        step = miss / (1.0 - eccentricity * np.cos(anomaly))
        anomaly -= step
        if abs(step) < 1e-12:
            break
    return float(anomaly)


def of_year(double: Double, year: float) -> Double:
    """Return a double star with separation and position angle of a year, where its orbit is known."""
    if double.orbit is None:
        return double
    separation, angle = companion_place(double.orbit, year)
    return replace(double, separation_arcsec=separation, position_angle_deg=angle, epoch_year=year)


def precession_of_angle_deg(ra_deg: float, dec_deg: float, years: float) -> float:
    """Return by how many degrees a position angle grows in so many years, as the celestial pole moves.

    Rate 0.0056 degree a year times sin(right ascension) / cos(declination): Couteau, Observing Visual Double
    Stars, 1981 (from memory). It matters near the poles only: 7 degrees for Polaris from 2000 to 2027.
    """
    return float(0.0056 * years * np.sin(np.radians(ra_deg)) / max(np.cos(np.radians(dec_deg)), 1e-3))


def drift_clock(position_angle_deg: float, view: str) -> float:
    """Return the clock hour, 0 to 12, of a companion, on a dial where stars leave the field at 3 o'clock.

    Stars leave the field in the west. "upright" and "turned" show north, east, south, west counter-clockwise,
    "mirrored" clockwise. On such a dial neither the mount, the tube nor the hour makes a difference.
    """
    turned = (position_angle_deg + 90.0) / 30.0
    return (3.0 + turned if view == "mirrored" else 3.0 - turned) % 12.0
