"""The words for an eclipse of the Moon."""

from zoneinfo import ZoneInfo

from nightmode.sky.eclipse import LunarEclipse
from nightmode.wording.figures import span_text, time_of_day


def eclipse_text(eclipse: LunarEclipse, zone: ZoneInfo) -> str:
    """Return it in a line: "total eclipse of the Moon: in the umbra 04:33-07:52, total 05:26-06:31"."""
    if eclipse.umbra is None:
        deepest = time_of_day(eclipse.greatest_s, zone)
        return f"penumbral eclipse of the Moon, deepest at {deepest}: a faint shade"
    words = f"{eclipse.kind} eclipse of the Moon: in the umbra {span_text(*eclipse.umbra, zone)}"
    if eclipse.total:
        return f"{words}, total {span_text(*eclipse.total, zone)}"
    return f"{words}, deepest at {time_of_day(eclipse.greatest_s, zone)} ({eclipse.magnitude:.0%})"


def eclipse_now(eclipse: LunarEclipse, now_s: float, zone: ZoneInfo) -> str | None:
    """Return a few words for a thin line while the umbra is near or on the Moon, else None."""
    for span, words in ((eclipse.total, "total"), (eclipse.umbra, "in eclipse")):
        if span and span[0] <= now_s < span[1]:
            return f"{words} until {time_of_day(span[1], zone)}"
    if eclipse.umbra and eclipse.umbra[0] - 3600.0 <= now_s < eclipse.umbra[0]:
        return f"eclipse from {time_of_day(eclipse.umbra[0], zone)}"
    return None
