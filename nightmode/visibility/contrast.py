"""What the eye can just see against a background.

Source of everything here: Crumey 2014, MNRAS 442, 2600, "Human contrast threshold and astronomical
visibility", in its full-range forms. The star threshold R x B falls a little as the background brightens from
0.022 to 0.065 cd/m2 (by 0.03 mag here, far more in the scotopic form): it is held level there, so that a
brighter sky never helps.
Backgrounds in cd/m2 at the eye, targets in steradians at the eye. F is the field factor: 1 for young
laboratory observers who see half of the targets, 1.4 to 2.4 for observers under the sky.
"""

import numpy as np
from numpy.typing import ArrayLike

DARKEST_CD_M2 = 1e-5
#: About the disc of the Sun (from memory): the law of the bend is not drawn further, where q would reach 0.
BRIGHTEST_CD_M2 = 1e9
SR_PER_ARCMIN2 = (np.pi / 180.0 / 60.0) ** 2

# Where R x B turns back, and its value there: worked out from the coefficients below.
DIP_CD_M2 = 0.021567
DIP_LUX = 1.44553e-08

_A = (5.949e-08, -2.389e-07, 2.459e-07, 0.000412, -0.0004225)
_B = (9.606e-06, -4.112e-05, 5.019e-05, 0.004837, -0.004884)


def _full_range(luminance: np.ndarray, c: tuple[float, ...]) -> np.ndarray:
    quarter = luminance**-0.25
    return np.sqrt((c[0] * quarter + c[1]) * quarter + c[2]) + c[3] * quarter + c[4]


def ricco_factor_sr(background_cd_m2: ArrayLike) -> np.ndarray:
    """Return R, eq. 28: a small target (area below R / C_inf) shows when contrast times area exceeds R."""
    background = _not_darker(background_cd_m2)
    fitted = _full_range(background, _A) ** 2
    return np.where(background > DIP_CD_M2, np.maximum(fitted, DIP_LUX / background), fitted)


def large_target_threshold(background_cd_m2: ArrayLike) -> np.ndarray:
    """Return C_inf, eq. 40: the threshold contrast of a target so large that its size no longer matters."""
    return _full_range(_not_darker(background_cd_m2), _B)


def contrast_threshold(
    background_cd_m2: ArrayLike, area_sr: ArrayLike, field_factor: ArrayLike = 1.0
) -> np.ndarray:
    """Return the threshold contrast of a target of any size, eqs 41 to 44."""
    background = _not_darker(background_cd_m2)
    q = _bend(background)
    small = ricco_factor_sr(background) / np.asarray(area_sr, float)
    large = large_target_threshold(background)
    return np.asarray(field_factor, float) * (small**q + large**q) ** (1.0 / q)


def star_threshold_lux(background_cd_m2: ArrayLike, field_factor: ArrayLike = 1.0) -> np.ndarray:
    """Return the faintest starlight that shows on a background, in lux at the eye, eq. 34."""
    background = _not_darker(background_cd_m2)
    return np.asarray(field_factor, float) * ricco_factor_sr(background) * background


def favour_dex(sky_mag: ArrayLike, loss_mag: ArrayLike) -> np.ndarray:
    """Return in dex, up to a constant, how well a sky and a loss of light in the air favour a glow.

    By the whole loss and half the sky's magnitudes, because under a dark sky the threshold falls with the
    square root of the background (de Vries, Rose).
    """
    return 0.2 * np.asarray(sky_mag, float) - 0.4 * np.asarray(loss_mag, float)


def _not_darker(background_cd_m2: ArrayLike) -> np.ndarray:
    """Backgrounds below 1e-5 cd/m2 count as that (sect. 2.3): the eye's own noise."""
    return np.maximum(np.asarray(background_cd_m2, float), DARKEST_CD_M2)


def _bend(background: np.ndarray) -> np.ndarray:
    """q, how sharply small-target law turns into large-target law (eqs 42 to 44)."""
    log_b = np.log10(np.minimum(background, BRIGHTEST_CD_M2))
    return np.where(
        background < 0.193, 0.6, np.where(background < 3.40, 0.8861 + 0.4 * log_b, 1.146 - 0.0885 * log_b)
    )
