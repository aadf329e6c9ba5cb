"""The first and the last words of `nightmode say`."""

import datetime as dt
from collections.abc import Sequence
from zoneinfo import ZoneInfo

from nightmode.wording.figures import time_of_day
from nightmode.wording.spoken.ear import for_ear, name_for_ear
from nightmode.wording.spoken.sentences import said, sentences

CAUTION = "never point telescope, finder or eye at the Sun, or sweep near it"
#: At most this many targets without a turn are named.
MOST_NAMES = 12
LAST_WORDS = (
    "that was the night",
    "keep warm, mind your feet on dark ground, and rest before you drive home tired",
)


def opening(title: str, date: dt.date, count: int) -> tuple[str, ...]:
    """Return title and night of the plan, how many targets have a turn, and the caution about the Sun."""
    targets = f"{count or 'no'} target{'' if count == 1 else 's'} to look at"
    return (*sentences(name_for_ear(title)), *said(f"the night of {date.isoformat()}", targets, CAUTION))


def dark_said(dark: tuple[float, float] | None, is_deep: bool, zone: ZoneInfo) -> tuple[str, ...]:
    """Return when the dark begins and ends; is_deep says whether the Sun gets 18 degrees down."""
    if dark is None:
        return said("no darkness tonight")
    told = f"dark from {time_of_day(dark[0], zone)} to {time_of_day(dark[1], zone)}"
    return said(told if is_deep else f"{told}, with twilight all night")


def moon_said(lit: float, rises: Sequence[float], sets: Sequence[float], zone: ZoneInfo) -> tuple[str, ...]:
    """Return the phase of the Moon (lit: 0 to 1) and its risings and settings, in order of time."""
    passes = sorted([(at_s, "rises") for at_s in rises] + [(at_s, "sets") for at_s in sets])
    told = [f"and {does} at {time_of_day(at_s, zone)}" for at_s, does in passes]
    phase = "new" if lit < 0.005 else "full" if lit >= 0.995 else f"{lit * 100:.0f} % lit"
    return said(f"the Moon is {phase}" + "".join(f" {time}" for time in told))


def left_out(names: Sequence[str]) -> tuple[str, ...]:
    """Return the names of the targets without a turn tonight; of many, the first few and how many more."""
    if not names:
        return ()
    few = names if len(names) <= MOST_NAMES else names[: MOST_NAMES - 1]
    told = [
        *map(name_for_ear, few),
        *([f"and {for_ear(str(more))} more"] if (more := len(names) - len(few)) else []),
    ]
    return sentences(f"not tonight: {', '.join(told)}")


def at_time(at_s: float, zone: ZoneInfo) -> tuple[str, ...]:
    """Return a time of day: "At twenty-one fifteen."."""
    return sentences(f"at {for_ear(time_of_day(at_s, zone))}")
