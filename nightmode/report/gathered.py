"""What happened to the sessions gathered, one line for each."""

from collections.abc import Sequence

from nightmode.history.gathering import Fate, Gathered

_TAKEN = (Fate.NEW, Fate.LONGER, Fate.DIFFERS)


def gathered_text(found: Sequence[Gathered]) -> str:
    """Return a line on each session taken in, then how many were not, and why."""
    taken = [session for session in found if session.fate in _TAKEN]
    looks = sum(len(session.sitting.last_looks) for session in taken)
    lines = [f"Took in {_count(len(taken), 'session')}" + (f", {_count(looks, 'target')}" if taken else "")]
    lines += [_line(session) for session in taken]
    for fate in (Fate.HERE, Fate.REHEARSAL):
        if number := sum(session.fate is fate for session in found):
            lines.append(f"{fate[0].upper()}{fate[1:]}: {number}")
    return "\n".join(lines)


def _line(session: Gathered) -> str:
    told = "" if session.fate is Fate.NEW else f"; {session.fate} {session.beside}: both are kept"
    return f"  {session.kept_as}{told}"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" + ("" if number == 1 else "s")
