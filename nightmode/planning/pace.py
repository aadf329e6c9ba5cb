"""Finds out whether all targets can be reached before they set, as the walk offers them."""

from collections.abc import Sequence

from nightmode.walk.order import Chance, walk_order


def schedule(
    chances: Sequence[Chance], start_s: float, end_s: float, pace_s: float
) -> list[tuple[float, int]] | None:
    """Return (instant, index) for each target in the order in which the walk offers them, or None.

    From start_s on the first target in walk order that is up takes pace_s; while none is up, the observer
    waits. None if a target sets before or during its turn, or is not reached by end_s.
    """
    waiting, now_s, found = list(walk_order(chances, start_s)), start_s, []
    while waiting:
        up = next((index for index in waiting if chances[index].is_up(now_s)), None)
        if up is None:
            starts = [stretch.start_s for index in waiting if (stretch := chances[index].stretch(now_s))]
            if len(starts) < len(waiting):
                return None
            now_s = min(starts)
            continue
        stretch = chances[up].stretch(now_s)
        if stretch is None or now_s + pace_s > min(stretch.end_s, end_s) + 1.0:
            return None
        found.append((now_s, up))
        waiting.remove(up)
        now_s += pace_s
    return found
