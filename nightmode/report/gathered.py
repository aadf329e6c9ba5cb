"""What became of sessions that were brought along, in a line each."""

from collections.abc import Sequence

from nightmode.history.gathering import Fate, Gathered

_TAKEN = (Fate.NEW, Fate.LONGER, Fate.DIFFERS)


def gathered_text(found: Sequence[Gathered]) -> str:
    """Return a line on each session taken in, then how many were not, and why."""
    taken = [one for one in found if one.fate in _TAKEN]
    looks = sum(len(one.sitting.last_looks) for one in taken)
    lines = [f"Took in {_count(len(taken), 'session')}" + (f", {_count(looks, 'target')}" if taken else "")]
    lines += [_line(one) for one in taken]
    for fate in (Fate.HERE, Fate.REHEARSAL):
        if number := sum(one.fate is fate for one in found):
            lines.append(f"{fate[0].upper()}{fate[1:]}: {number}")
    return "\n".join(lines)


def _line(one: Gathered) -> str:
    told = "" if one.fate is Fate.NEW else f"; {one.fate} {one.beside}: both are kept"
    return f"  {one.kept_as}{told}"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" + ("" if number == 1 else "s")
