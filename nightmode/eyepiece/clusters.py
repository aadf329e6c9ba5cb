"""The combination that suits a star cluster: sky around an easy one, most stars of a faint one."""

from collections.abc import Sequence

from nightmode.eyepiece import Combination
from nightmode.eyepiece.shown import Shown, best_contrast, is_easy, rank
from nightmode.eyepiece.why import Chosen, Why

#: Star clusters want dark sky round them: twice their size at least, a little more where they are easy
#: anyway, and a wide beam (common practice, no published source).
CLUSTER_ROOM, CLUSTER_AMPLE_ROOM, CLUSTER_PUPIL_MM = 2.0, 2.1, 2.5
#: In a small telescope a compact one still wants this power, down to this exit pupil (common practice).
COMPACT_POWER, COMPACT_PUPIL_MM = 90.0, 1.2


def for_cluster(size_deg: float, framing: Sequence[Combination], shown: Shown) -> Chosen:
    """Return the combination for a cluster, and why, from those whose field holds it."""
    roomy = [choice for choice in framing if choice.true_field_deg >= CLUSTER_ROOM * size_deg] or framing[:1]
    ample = [
        choice
        for choice in roomy
        if choice.true_field_deg >= CLUSTER_AMPLE_ROOM * size_deg and _is_bright_enough(choice)
    ] or roomy[:1]
    usual = ample[-1] if size_deg else ample[0]
    best = None if is_easy(shown(usual)) else _for_its_stars(roomy, usual, shown)
    if best is None or best == usual:
        return usual, Why.SKY_AROUND
    return best, Why.MORE_STARS if best.power > usual.power else Why.GATHERS


def _for_its_stars(roomy: Sequence[Combination], usual: Combination, shown: Shown) -> Combination | None:
    """Return the lowest power at which the stars make a cluster easy, else the one of most contrast.

    Less power than an easy one gets is taken only for a better word: a low power shows the glow of a small
    cluster best, but a glow is not what a cluster is looked at for (common practice, no published source).
    """
    higher = [choice for choice in roomy if choice.power >= usual.power]
    if (enough := next((choice for choice in higher if is_easy(shown(choice))), None)) is not None:
        return enough
    of_all, resolving = best_contrast(roomy, shown), best_contrast(higher, shown)
    if of_all is None or resolving is None or rank(shown(of_all)) < rank(shown(resolving)):
        return of_all
    return resolving


def _is_bright_enough(choice: Combination) -> bool:
    is_compact = choice.power <= COMPACT_POWER and choice.exit_pupil_mm >= COMPACT_PUPIL_MM
    return is_compact or choice.exit_pupil_mm >= CLUSTER_PUPIL_MM
