"""What there is to see of pairs, variable stars, features of the Moon and planets, briefly, for paper."""

from nightmode.model.sight import Sight
from nightmode.model.target import Double, LunarFeature, Star
from nightmode.night.rest_of_night import best_instant_s
from nightmode.night.table import Night
from nightmode.wording.moon import light_until, what_it_is
from nightmode.wording.pairs import beside_it, two_stars, where_it_stands
from nightmode.wording.planets import disc_text, moment_line
from nightmode.wording.variables import tonight_text


def shown_tonight(night: Night, row: int) -> str:
    """Return what a target shows tonight at its best hour, or "" if nothing is known."""
    target, zone = night.targets[row], night.site.zone
    at_s = best_instant_s(night, row)
    changes = tonight_text(target.variable, target.moments, at_s, zone) if target.variable else ""
    if (pair := night.pairs.get(row)) and isinstance(target.subject, Double):
        told = (two_stars(target.subject, pair), where_it_stands(pair), changes)
        return "; ".join(words for words in told if words)
    if target.feature and isinstance(target.subject, LunarFeature):
        what = what_it_is(target.subject, night.along(target.feature.seen_deg, at_s))
        return f"{what}; light {light_until(target.feature, at_s, night.end_s, zone)}"
    if target.planet:
        happens = [
            moment_line(moment, at_s, zone)
            for moment in target.moments
            if moment.sight is not Sight.RING_THIN
        ]
        return "; ".join([disc_text(target.planet, at_s, zone), *happens])
    if isinstance(target.subject, Star) and target.subject.companion:
        return "; ".join(
            words for words in (f"beside it {beside_it(target.subject.companion)}", changes) if words
        )
    return changes
