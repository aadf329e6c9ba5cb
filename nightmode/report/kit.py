"""What a kit gives: every combination, the telescope's limits, and an answer to a printed power."""

from typing import Any

from nightmode import defaults, eyepiece, optics
from nightmode.errors import NightmodeError
from nightmode.eyepiece import Combination
from nightmode.eyepiece.fitness import Fitness, fitness
from nightmode.model.chosen import site_of
from nightmode.model.kit import Binoculars, Kit
from nightmode.model.observer import Observer, Person
from nightmode.model.plan import Plan
from nightmode.night.circumstances import instruments_of
from nightmode.night.glass import apparent_steps_arcsec, glass_at
from nightmode.night.opening import USUAL_ZENITH_MAG, zenith_mag
from nightmode.records import Record
from nightmode.visibility.eye import star_limit_mag
from nightmode.wording.figures import cut, field, power
from nightmode.wording.kit import (
    binoculars_claim_text,
    claim_text,
    good_for_text,
    instrument_text,
    misfit_text,
)

#: The exit pupil in mm for which the faintest star is worked out if the kit has no eyepiece (common
#: practice).
USUAL_PUPIL_MM = 1.0


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
        limit = star_limit_mag(self.zenith_mag, glass_at(telescope, self.person, power))
        return float(limit) - self.extinction


def kit_reports(plan: Plan | None, observer: Observer) -> list[KitReport]:
    """Return a report on each instrument of the plan, else on the usual one; the main instrument comes first.

    NightmodeError if there is none.
    """
    planned = plan is not None and plan.instruments
    if not planned and not observer.telescope and not observer.binoculars:
        raise NightmodeError(
            "telescope",
            "is not known yet",
            "give a plan with one (nightmode kit plan.toml) or run nightmode setup first",
        )
    site = site_of(plan, observer)
    return [
        KitReport(
            kit=kit,
            person=observer.observer,
            zenith_mag=zenith_mag(site) if site else USUAL_ZENITH_MAG,
            extinction=site.extinction if site else defaults.MAG_PER_AIRMASS,
        )
        for kit in instruments_of(plan, observer).kits
    ]


def claim(report: KitReport, claimed: float) -> str:
    """Return one sentence on whether a power printed on a box is useful."""
    telescope = report.kit.telescope
    if isinstance(telescope, Binoculars):
        return binoculars_claim_text(telescope, claimed)
    suits = fitness(claimed, telescope.aperture_mm, report.limits)
    return claim_text(suits, claimed, telescope.aperture_mm, report.limits)


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
        closest = float(apparent_steps_arcsec(telescope)[0]) / strongest
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
    name = cut(combination.name, 29)
    magnification, true_field = power(combination.power), field(combination.true_field_deg)
    pupil, (_, good) = f"{combination.exit_pupil_mm:.1f} mm", _suits(report, combination)
    return f"{name:<29} {magnification:>5} {true_field:>5} {pupil:>7}  {good}"


def _suits(report: KitReport, combination: Combination) -> tuple[Fitness, str]:
    """Return whether a combination suits, and in a few words what it is good for or why it is not."""
    aperture_mm = report.kit.telescope.aperture_mm
    suits = fitness(combination.power, aperture_mm, report.limits)
    return suits, good_for_text(suits, combination.exit_pupil_mm, aperture_mm, report.person)


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
    suits, good = _suits(report, combination)
    return {
        "eyepiece": combination.eyepiece,
        "barlow": combination.barlow,
        "power": round(combination.power, 1),
        "true_field_deg": round(combination.true_field_deg, 3),
        "exit_pupil_mm": round(combination.exit_pupil_mm, 2),
        "fitness": suits,
        "good_for": good,
    }
