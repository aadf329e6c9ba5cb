"""What a kit gives: every combination, the telescope's limits, and an answer to a printed power."""

from collections.abc import Sequence
from enum import StrEnum
from typing import Any

from nightmode import eyepiece, optics
from nightmode.eyepiece import Combination
from nightmode.model.kit import Binoculars, Kit
from nightmode.model.observer import Person
from nightmode.night.glass import least_apparent_arcsec, star_glass
from nightmode.records import Record
from nightmode.visibility.eye import star_limit_mag
from nightmode.wording.figures import cut, field, power
from nightmode.wording.kit import instrument_text, misfit_text

#: What an exit pupil of so many mm and more is good for. Common practice, no published source.
GOOD_FOR = (
    (4.0, "widest views, large nebulae"),
    (2.5, "clusters, large faint objects"),
    (1.5, "galaxies, nebulae, globulars"),
    (1.2, "globulars, small planetaries"),
    (0.7, "planets, Moon, doubles"),
    (0.5, "close doubles, still air"),
)
#: The exit pupil in mm for which the faintest star is worked out if the kit has no eyepiece (common
#: practice).
USUAL_PUPIL_MM = 1.0
#: A printed power that differs by less than this share from that of binoculars is taken to be the same.
SAME_POWER = 0.05


class Fitness(StrEnum):
    """Whether a combination's power suits the telescope, the eye and the air."""

    GOOD = "good"
    TOO_MUCH = "too much"
    STILL_AIR = "still air only"
    TOO_LITTLE = "too little"


class KitReport(Record):
    """A kit, an eye, and a site: its zenith in mag/arcsec², its extinction in magnitudes per airmass."""

    kit: Kit
    person: Person
    zenith_mag: float
    extinction: float

    @property
    def limits(self) -> eyepiece.Limits:
        """The telescope's limits."""
        return eyepiece.limits(self.kit, self.person.pupil_mm, self.person.seeing_arcsec)

    @property
    def highest_by_aperture(self) -> float:
        """Twice the aperture in mm."""
        return float(optics.highest_useful_magnification(self.kit.telescope.aperture_mm))

    def faintest_star_mag(self) -> float:
        """The faintest star in the zenith at the highest power that the limits leave."""
        telescope, bounds = self.kit.telescope, self.limits
        made = eyepiece.sensible(eyepiece.combinations(self.kit), bounds)
        power = made[-1].power if made else telescope.aperture_mm / USUAL_PUPIL_MM
        limit = star_limit_mag(self.zenith_mag, **star_glass(telescope, self.person, power))
        return float(limit) - self.extinction


def fitness(report: KitReport, combination: Combination) -> Fitness:
    """Return whether the power of a combination is good, too high, too low, or for steady air only."""
    if combination.power > report.highest_by_aperture:
        return Fitness.TOO_MUCH
    if combination.power > report.limits.highest_power:
        return Fitness.STILL_AIR
    return Fitness.TOO_LITTLE if combination.power < report.limits.lowest_power else Fitness.GOOD


def good_for(report: KitReport, combination: Combination) -> str:
    """Return in a few words what a combination is good for, or why it is not."""
    telescope, person = report.kit.telescope, report.person
    match fitness(report, combination):
        case Fitness.TOO_MUCH:
            return f"too much for {telescope.aperture_mm:.0f} mm"
        case Fitness.STILL_AIR:
            return f"too much for air of {person.seeing_arcsec:.1f}″"
        case Fitness.TOO_LITTLE:
            return f"too little: pupil of {person.pupil_mm:.1f} mm"
    return next(
        (words for least, words in GOOD_FOR if combination.exit_pupil_mm >= least - 1e-9), GOOD_FOR[-1][1]
    )


def claim(report: KitReport, claimed: float) -> str:
    """Return one sentence on whether a power printed on a box is useful."""
    if isinstance(report.kit.telescope, Binoculars):
        powers = [made.power for made in eyepiece.combinations(report.kit)]
        return _claim_of_binoculars(report.kit.telescope, powers, claimed)
    aperture_mm, highest = report.kit.telescope.aperture_mm, report.highest_by_aperture
    times = f"{power(claimed)} is {claimed / aperture_mm:.2g} times the aperture in mm"
    size = f"{aperture_mm:.0f} mm"
    if claimed > highest:
        return f"{times}; {size} carries at most {highest:.0f}x: more only grows dim and blurred."
    air, lowest = report.limits.highest_power, report.limits.lowest_power
    if claimed > air:
        seeing = report.person.seeing_arcsec
        return f"{times}; {size} carries it, but air of {seeing:.1f}″ carries {air:.0f}x: for still nights."
    if claimed < lowest:
        beam = aperture_mm / claimed
        return f"{times}; its beam of {beam:.1f} mm is wider than the eye's pupil: from {lowest:.0f}x on."
    return f"{times}; {size} carries it: up to {highest:.0f}x is useful."


def _claim_of_binoculars(binoculars: Binoculars, powers: Sequence[float], claimed: float) -> str:
    """Return one sentence on a power claimed for binoculars, which have fixed powers."""
    near = any(abs(claimed / own - 1.0) < SAME_POWER for own in powers)
    if near or (binoculars.is_zoom and powers[0] <= claimed <= powers[-1]):
        beam = float(optics.exit_pupil_mm(binoculars.aperture_mm, claimed))
        return f"{power(claimed)} is a power that {binoculars.name} has, in a beam of {beam:.1f} mm."
    ends = f"{power(powers[0])} to {power(powers[-1])}"
    own = ends if binoculars.is_zoom else ", ".join(map(power, powers))
    return f"{binoculars.name} has {own} and no other power: nothing makes {power(claimed)} of it."


def kit_table(report: KitReport) -> str:
    """Return the report on a kit as text of at most 80 columns."""
    lines = [*_limits(report), ""]
    made = eyepiece.combinations(report.kit)
    if made:
        lines.append(f"{'to look with':<29} {'power':>5} {'field':>5} {'pupil':>7}  good for")
        lines += [_row(report, combination) for combination in made]
    else:
        lines.append("no eyepiece that fits: add [[eyepiece]] tables to the plan or to observer.toml")
    pairs = [misfit_text(misfit) for misfit in eyepiece.misfits(report.kit)]
    return "\n".join(line.rstrip() for line in [*lines, *([""] if pairs else []), *(f"- {p}" for p in pairs)])


def _limits(report: KitReport) -> list[str]:
    telescope, person, bounds = report.kit.telescope, report.person, report.limits
    star = f"faintest star         {report.faintest_star_mag():.1f} in a sky of {report.zenith_mag:.1f}"
    if isinstance(telescope, Binoculars):
        held = "on a mount" if telescope.mounted else "in the hand"
        strongest = telescope.settings[-1][0]
        closest = least_apparent_arcsec(telescope) / strongest
        at = "this power" if telescope.has_one_power else power(strongest)
        return [
            instrument_text(telescope),
            f"splits                {closest:.0f}″ at {at}, {held}",
            star,
        ]
    rayleigh = float(optics.rayleigh_limit_arcsec(telescope.aperture_mm))
    by_aperture = report.highest_by_aperture
    highest = [f"highest useful power  {by_aperture:.0f}x (2 x aperture in mm)"]
    if bounds.highest_power < by_aperture:
        highest[0] += f"; air of {person.seeing_arcsec:.1f}″ carries {bounds.highest_power:.0f}x"
        highest.append(f"{'':22}(set your own air: seeing_arcsec in observer.toml)")
    return [
        instrument_text(telescope),
        f"splits                {bounds.dawes_arcsec:.2f}″ (Dawes), {rayleigh:.2f}″ (Rayleigh)",
        *highest,
        f"lowest useful power   {bounds.lowest_power:.0f}x (pupil of {person.pupil_mm:.1f} mm)",
        star,
    ]


def _row(report: KitReport, combination: Combination) -> str:
    name = cut(combination.eyepiece + (f" + {combination.barlow}" if combination.barlow else ""), 29)
    magnification, true_field = power(combination.power), field(combination.true_field_deg)
    pupil, good = f"{combination.exit_pupil_mm:.1f} mm", good_for(report, combination)
    return f"{name:<29} {magnification:>5} {true_field:>5} {pupil:>7}  {good}"


def kit_json(report: KitReport, claimed: float | None = None) -> dict[str, Any]:
    """Return the kit as plain data."""
    telescope, bounds = report.kit.telescope, report.limits
    found: dict[str, Any] = {
        "telescope": telescope.name,
        "aperture_mm": telescope.aperture_mm,
        "focal_length_mm": None if isinstance(telescope, Binoculars) else telescope.focal_length_mm,
        "limits": {
            "dawes_arcsec": round(bounds.dawes_arcsec, 3),
            "rayleigh_arcsec": round(float(optics.rayleigh_limit_arcsec(telescope.aperture_mm)), 3),
            "highest_power": report.highest_by_aperture,
            "highest_power_in_this_air": round(bounds.highest_power, 1),
            "lowest_power": round(bounds.lowest_power, 1),
            "faintest_star_mag": round(report.faintest_star_mag(), 2),
            "sky_mag": round(report.zenith_mag, 2),
        },
        "combinations": [
            _combination(report, combination) for combination in eyepiece.combinations(report.kit)
        ],
        "not_together": [misfit_text(misfit) for misfit in eyepiece.misfits(report.kit)],
    }
    if claimed is not None:
        found["claim"] = {"power": claimed, "answer": claim(report, claimed)}
    return found


def _combination(report: KitReport, combination: Combination) -> dict[str, Any]:
    return {
        "eyepiece": combination.eyepiece,
        "barlow": combination.barlow,
        "power": round(combination.power, 1),
        "true_field_deg": round(combination.true_field_deg, 3),
        "exit_pupil_mm": round(combination.exit_pupil_mm, 2),
        "fitness": fitness(report, combination),
        "good_for": good_for(report, combination),
    }
