"""What a filter takes from the sky and from the object, in magnitudes.

Worked from the CIE 1951 scotopic curve V'(lambda): an even sky spectrum has an equivalent width of 98 nm to
the dark-adapted eye, and a filter's share is its width times V' at its wavelength. Widths are what such
filters usually have (common practice, no published source): narrowband 482-506 nm, O III 494-506 nm, H-beta
482-490 nm. Of a nebula's light for the dark-adapted eye, O III 495.9 + 500.7 nm and H-beta 486.1 nm count,
with 5007 / H-beta = 10 in planetary nebulae and remnants, 1.5 in the usual emission nebula, 0.15 where
hydrogen shines alone (usual values, from memory); a tenth of a hydrogen nebula's light is in other lines and
starlight. Glass passes 90 percent.

Observers gain less by a filter than these widths promise: IN_PRACTICE of a nebula's light is left to it. Rays
that pass tilted, other light in catalogued magnitudes and the darker field may all have a part in that; the
figure is fitted to what observers tell of nebulae with filters (no published source).
"""

import numpy as np

GLASS = 0.9
IN_PRACTICE = 0.7
NARROWBAND, OIII, HBETA = "narrowband", "oiii", "hbeta"
SKY_SHARE = {NARROWBAND: 0.23, OIII: 0.12, HBETA: 0.07}
#: What passes of the light of an object that shines in ... (the words of `kinds.ShinesIn`).
PASSED = {
    "oiii": {NARROWBAND: 0.97, OIII: 0.92, HBETA: 0.05},
    "both": {NARROWBAND: 0.95, OIII: 0.68, HBETA: 0.28},
    "hbeta": {NARROWBAND: 0.90, OIII: 0.17, HBETA: 0.75},
}


def filter_loss_mag(passband: str, shines_in: str) -> tuple[float, float]:
    """Return the magnitudes a filter takes off (sky, object), for a passband and the light of an object.

    Objects that do not shine in lines lose what the sky loses, so a filter only darkens the view.
    Broadband, neutral and colour filters are counted as no help and no harm: (0, 0).
    """
    if passband not in SKY_SHARE:
        return 0.0, 0.0
    sky = SKY_SHARE[passband] * GLASS
    if shines_in not in PASSED:
        return _mag(sky), _mag(sky)
    return _mag(sky), _mag(PASSED[shines_in][passband] * GLASS * IN_PRACTICE)


def _mag(share: float) -> float:
    return float(-2.5 * np.log10(share))
