"""Lines on what there is to see of a double star, a variable star, a feature of the Moon or a planet."""

from nightmode.app.glance import Glance
from nightmode.app.pages.line import Line, Role, line, wrap
from nightmode.model.sight import Pair
from nightmode.model.target import Double, LunarFeature, Star
from nightmode.night.feature_verdict import least_aperture_mm
from nightmode.night.rest_of_night import best_hour
from nightmode.sky.globes import PlanetTonight
from nightmode.visibility.reasons import GoodLight
from nightmode.visibility.relief import FeatureTonight
from nightmode.wording.moon import light_until, sun_over_it, tilt
from nightmode.wording.pairs import IN_ITS_GLARE, beside_it, two_stars, what_parts_them, where_it_stands
from nightmode.wording.planets import best_text, disc_text, moment_line, moons_row
from nightmode.wording.variables import eclipse_times, instant_label, instant_text, light_text

LABEL = 9
DRAWN = "moons"
#: Left out first: the best hour of the night serves planning more than looking.
BEST = "best"
#: A needed aperture up to this is not told, in mm: every telescope has it.
WORTH_SAYING_MM = 40.0


def what_lines(glance: Glance, block: int) -> list[Line]:
    """Return the lines below the target's kind: its figures tonight."""
    target, told = glance.target, []
    pair = glance.night.pairs.get(glance.row)
    if pair and isinstance(target.subject, Double):
        told.append(two_stars(target.subject, pair))
    if target.planet:
        told.append(disc_text(target.planet, glance.now_s, glance.zone))
    if target.variable:
        told.append(light_text(target.variable, glance.now_s))
    return [line((row, "text")) for words in told for row in wrap(words, block, most=2)]


def sight_lines(glance: Glance, block: int) -> list[Line]:
    """Return the lines that tell what to look for and when, each with a label, at most `block` cells wide."""
    target = glance.target
    changes = _variable(glance)
    if pair := glance.night.pairs.get(glance.row):
        return _labelled([*_pair(pair), *changes], block)
    if target.feature and isinstance(target.subject, LunarFeature):
        return _labelled(_feature(glance, target.subject, target.feature), block)
    if target.planet:
        return _labelled(_planet(glance, target.planet), block)
    beside = target.subject.companion if isinstance(target.subject, Star) else None
    companion = [("beside", beside_it(beside))] if beside else []
    return _labelled([*companion, *changes], block)


def _variable(glance: Glance) -> list[tuple[str, str]]:
    """Return when a star is next at its faintest or brightest, or that this is not known."""
    target, now_s, zone = glance.target, glance.now_s, glance.zone
    if target.variable is None:
        return []
    coming = next((moment for moment in target.moments if moment.ends_s > now_s), None)
    if coming is not None:
        return [("faintest", eclipse_times(coming, zone))]
    return [(instant_label(target.variable.star), instant_text(target.variable, now_s, zone))]


def _planet(glance: Glance, tonight: PlanetTonight) -> list[tuple[str, str]]:
    target, now_s, zone = glance.target, glance.now_s, glance.zone
    lines = []
    if drawn := moons_row(tonight, now_s, target.kit.telescope.shows):
        lines.append((DRAWN, drawn))
    coming = [moment for moment in target.moments if moment.ends_s > now_s][:2]
    lines += [
        ("" if place else "moment", moment_line(moment, now_s, zone)) for place, moment in enumerate(coming)
    ]
    if best := best_hour(glance.night, glance.row):
        lines.append((BEST, best_text(best.highest_deg, best.at_s, (best.begins_s, best.ends_s), zone)))
    return lines


def _feature(glance: Glance, feature: LunarFeature, tonight: FeatureTonight) -> list[tuple[str, str]]:
    night, now_s = glance.night, glance.now_s
    has_good_light = isinstance(glance.walker.verdict(glance.row, now_s).reason, GoodLight)
    sun_deg, climbs_deg = night.along(tonight.sun_deg, now_s), night.change_in_an_hour(tonight.sun_deg, now_s)
    lines = [
        ("Sun", sun_over_it(sun_deg, climbs_deg, are_shadows_told=has_good_light)),
        ("light", light_until(tonight, now_s, night.end_s, glance.zone)),
    ]
    face = night.face
    turned = tilt(
        feature, night.along(face.libration_lat_deg, now_s), night.along(face.libration_lon_deg, now_s)
    )
    if turned:
        lines.append(("tilt", turned))
    needs_mm = least_aperture_mm(feature, tonight, night.column(now_s))
    return lines + ([("needs", f"{needs_mm:.0f} mm of aperture")] if needs_mm >= WORTH_SAYING_MM else [])


def _pair(pair: Pair) -> list[tuple[str, str]]:
    lines = [("split", what_parts_them(pair))]
    if stands := where_it_stands(pair):
        lines.append(("where", stands))
    if pair.in_glare:
        lines.append(("", IN_ITS_GLARE))
    return lines


def _labelled(lines: list[tuple[str, str]], block: int) -> list[Line]:
    found = []
    for label, words in lines:
        if label == DRAWN:  # its blanks are part of it: whole or not at all
            if len(words) + LABEL <= block:
                found.append(line((label.ljust(LABEL), "faint"), (words, "text")))
            continue
        first, *rest = wrap(words, block - LABEL, most=2)
        told: Role = "spare" if label == BEST else "text"
        found.append(line((label.ljust(LABEL), "spare" if label == BEST else "faint"), (first, told)))
        found += [line((" " * LABEL, "line"), (more, told)) for more in rest]
    return found
