"""What happened to the sessions gathered, one line for each."""

from collections.abc import Sequence

from nightmode.history.gathering import Fate, Gathered

#: What is said of a session that is kept beside its copy here, and of those that are not taken in.
_BESIDE = {Fate.LONGER: "goes further than", Fate.DIFFERS: "differs from"}
_NOT_TAKEN = {Fate.HERE: "Already here", Fate.REHEARSAL: "A rehearsal, left where it is"}


def gathered_text(found: Sequence[Gathered]) -> str:
    """Return a line on each session taken in, then how many were not, and why."""
    taken = [session for session in found if session.fate not in _NOT_TAKEN]
    looks = sum(len(session.sitting.last_looks) for session in taken)
    lines = [f"Took in {_count(len(taken), 'session')}" + (f", {_count(looks, 'target')}" if taken else "")]
    lines += [_line(session) for session in taken]
    for fate, words in _NOT_TAKEN.items():
        if number := sum(session.fate is fate for session in found):
            lines.append(f"{words}: {number}")
    return "\n".join(lines)


def _line(session: Gathered) -> str:
    words = _BESIDE.get(session.fate)
    told = f"; {words} {session.beside}: both are kept" if words else ""
    return f"  {session.kept_as}{told}"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" + ("" if number == 1 else "s")
