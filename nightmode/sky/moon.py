"""The Moon through a night."""

from functools import cached_property

import numpy as np

from nightmode.model.site import Site
from nightmode.records import Record
from nightmode.sky.bodies import RADIUS_KM
from nightmode.sky.crossings import crossings
from nightmode.sky.eclipse import NEAR_FULL_DEG, umbra_share
from nightmode.sky.kernel import Sky, bends_light
from nightmode.sky.place import body_path
from nightmode.sky.refraction import HORIZON_REFRACTION_DEG, refracted_deg
from nightmode.sky.vantage import Vantage, horizontal, stand
from nightmode.sky.vectors import angle_between_deg
from nightmode.visibility.moonlight import phase_loss_mag

_PHASES_DEG = np.arange(0.0, 181.0)


class MoonTrack(Record, eq=False):
    """The Moon over the instants of a night, (T,) each: topocentric, centre of the disc.

    altitude_deg is apparent (refracted); ra_deg and dec_deg are on J2000 axes; phase_angle_deg is the angle
    Sun-Moon-observer (0 full, 180 new); light_phase_deg is the phase angle of a Moon that gives as much
    light, which differs only in an eclipse. illuminated (0 to 1) and waxing hold for the middle of the night.
    rises_s, sets_s: when (Unix seconds) the upper limb passes the level horizon (34' of refraction).
    """

    sky: Sky
    time_s: np.ndarray
    altitude_deg: np.ndarray
    azimuth_deg: np.ndarray
    ra_deg: np.ndarray
    dec_deg: np.ndarray
    distance_km: np.ndarray
    phase_angle_deg: np.ndarray
    light_phase_deg: np.ndarray
    illuminated: float
    rises_s: tuple[float, ...]
    sets_s: tuple[float, ...]

    @cached_property
    def waxing(self) -> bool:
        """Whether the Moon is on its way to full; worked out when first asked for."""
        middle = self.time_s.size // 2
        return bool(elongation_east_deg(self.sky, self.time_s[middle : middle + 1])[0] < 180.0)


def moon_night(sky: Sky, site: Site, time_s: np.ndarray) -> MoonTrack:
    """Return the Moon over instants (T,) in Unix seconds."""
    return moon_at(stand(sky, site, time_s))


def moon_at(vantage: Vantage) -> MoonTrack:
    """Return `moon_night` for a vantage taken already."""
    sky, time_s = vantage.sky, vantage.time_s
    position = vantage.see("moon")
    path = body_path(position)
    altitude_deg, azimuth_deg = horizontal(vantage.rotation, position.xyz.au)
    limb_deg = altitude_deg + np.degrees(np.arcsin(RADIUS_KM["moon"] / path.distance_km))
    passed = crossings(time_s, limb_deg + HORIZON_REFRACTION_DEG)
    phase_angle_deg = phase_angle(position.xyz.km, vantage.see("sun").xyz.km)
    middle = phase_angle_deg.size // 2
    return MoonTrack(
        sky=sky,
        time_s=time_s,
        altitude_deg=refracted_deg(altitude_deg),
        azimuth_deg=azimuth_deg,
        ra_deg=path.ra_deg,
        dec_deg=path.dec_deg,
        distance_km=path.distance_km,
        phase_angle_deg=phase_angle_deg,
        light_phase_deg=_light_phase_deg(sky, time_s, phase_angle_deg),
        illuminated=float(illuminated(phase_angle_deg[middle])),
        rises_s=tuple(passed.time_s[passed.rising].tolist()),
        sets_s=tuple(passed.time_s[~passed.rising].tolist()),
    )


def _light_phase_deg(sky: Sky, time_s: np.ndarray, phase_angle_deg: np.ndarray) -> np.ndarray:
    """Return the phase angle at which the Moon would give as much light as it does, eclipsed or not."""
    near = np.flatnonzero(phase_angle_deg < NEAR_FULL_DEG)
    if not near.size:
        return phase_angle_deg
    dimmed = -2.5 * np.log10(np.maximum(1.0 - umbra_share(sky, time_s[near]), 1e-6))
    found = phase_angle_deg.copy()
    loss = phase_loss_mag(phase_angle_deg[near]) + dimmed
    found[near] = np.interp(loss, phase_loss_mag(_PHASES_DEG), _PHASES_DEG)
    return found


def phase_angle(body_km: np.ndarray, sun_km: np.ndarray) -> np.ndarray:
    """Return the angle Sun-body-observer in degrees, (T,), from positions (3, T) seen by the observer."""
    return angle_between_deg(-body_km, sun_km - body_km, axis=0)


def illuminated(phase_angle_deg: np.ndarray) -> np.ndarray:
    """Return the lit fraction of a disc, 0 to 1 (Meeus, Astronomical Algorithms, equation 41.1 and 48.1)."""
    return (1.0 + np.cos(np.radians(phase_angle_deg))) / 2.0


def elongation_east_deg(sky: Sky, time_s: np.ndarray) -> np.ndarray:
    """Return how far the Moon is east of the Sun in apparent geocentric longitude, 0 to 360 degrees, (T,)."""
    from skyfield.framelib import ecliptic_frame

    earth = sky.body("earth").at(sky.time(time_s))
    longitudes = [
        earth.observe(sky.body(name))
        .apparent(deflectors=bends_light(name))
        .frame_latlon(ecliptic_frame)[1]
        .degrees
        for name in ("moon", "sun")
    ]
    return (longitudes[0] - longitudes[1]) % 360.0
