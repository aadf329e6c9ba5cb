"""What is told of an eclipse of the Moon."""

from zoneinfo import ZoneInfo

from nightmode.sky.eclipse import LunarEclipse, Span
from nightmode.wording.figures import clock


def eclipse_text(eclipse: LunarEclipse, zone: ZoneInfo) -> str:
    """Return it in a line: "total eclipse of the Moon: in the umbra 04:33-07:52, total 05:26-06:31"."""
    if eclipse.umbra is None:
        return f"penumbral eclipse of the Moon, deepest at {clock(eclipse.greatest, zone)}: a faint shade"
    words = f"{eclipse.kind} eclipse of the Moon: in the umbra {_span(eclipse.umbra, zone)}"
    if eclipse.total:
        return f"{words}, total {_span(eclipse.total, zone)}"
    return f"{words}, deepest at {clock(eclipse.greatest, zone)} ({eclipse.magnitude:.0%})"


def eclipse_now(eclipse: LunarEclipse, now_s: float, zone: ZoneInfo) -> str | None:
    """Return what a thin line has room for while the umbra is near or on the Moon, else None."""
    for span, words in ((eclipse.total, "total"), (eclipse.umbra, "in eclipse")):
        if span and span[0] <= now_s < span[1]:
            return f"{words} until {clock(span[1], zone)}"
    if eclipse.umbra and eclipse.umbra[0] - 3600.0 <= now_s < eclipse.umbra[0]:
        return f"eclipse from {clock(eclipse.umbra[0], zone)}"
    return None


def _span(span: Span, zone: ZoneInfo) -> str:
    return f"{clock(span[0], zone)}-{clock(span[1], zone)}"
