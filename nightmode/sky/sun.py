"""How far targets stand from the Sun, so that a screen can warn before a telescope is pointed by day."""

from collections.abc import Sequence

import numpy as np

from nightmode.model.site import Site
from nightmode.model.target import Body, Fixed, Subject
from nightmode.sky.kernel import Sky
from nightmode.sky.track import BodyPath, body_path
from nightmode.sky.vantage import separation_deg, stand


def sun_path(sky: Sky, site: Site, time_unix_s: np.ndarray) -> BodyPath:
    """Return the Sun's apparent topocentric place over instants (T,) in unix seconds."""
    return body_path(stand(sky, site, time_unix_s).see("sun"))


def sun_separation_deg(
    sky: Sky, site: Site, subjects: Sequence[Subject], time_unix_s: np.ndarray
) -> np.ndarray:
    """Return the angle between each subject and the Sun's centre in degrees, (N, T)."""
    vantage = stand(sky, site, time_unix_s)
    sun = body_path(vantage.see("sun"))
    rows = np.empty((len(subjects), sun.ra_deg.size))
    seen: dict[str, np.ndarray] = {}
    for row, subject in enumerate(subjects):
        if isinstance(subject, Fixed):
            rows[row] = separation_deg(subject.ra_deg, subject.dec_deg, sun.ra_deg, sun.dec_deg)
        if not isinstance(subject, Body):
            continue
        if subject.body not in seen:
            path = body_path(vantage.see(subject.body))
            seen[subject.body] = separation_deg(path.ra_deg, path.dec_deg, sun.ra_deg, sun.dec_deg)
        rows[row] = seen[subject.body]
    return rows
