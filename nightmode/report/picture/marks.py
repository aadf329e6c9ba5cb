"""The marks of an outcome, the same in every picture, and small helpers for SVG."""

from collections.abc import Iterable, Sequence
from html import escape

from nightmode.model.session import LOOKED, Outcome

LEGEND = "Filled: seen. Ring: suspected. Cross: looked, not seen. Small dot: set aside or noted on."


def svg(width: float, height: float, parts: Iterable[str], title: str) -> str:
    """Return a picture of this size in its own units; title is for people who cannot see it."""
    return (
        f'<svg viewBox="0 0 {width:g} {height:g}" role="img" xmlns="http://www.w3.org/2000/svg">'
        f"<title>{escape(title)}</title>{''.join(parts)}</svg>"
    )


def mark(outcome: Outcome | None, x: float, y: float, radius: float, title: str) -> str:
    """Return the mark of an outcome at a place, with words shown under the pointer."""
    if outcome not in LOOKED:
        return spot("dot", x, y, radius * 0.5, title)
    if outcome is Outcome.NOT_SEEN:
        r = radius * 0.8
        shape = (
            f'<path class="cross" d="M{x - r:.1f} {y - r:.1f}l{2 * r:.1f} {2 * r:.1f}'
            f'm0 {-2 * r:.1f}l{-2 * r:.1f} {2 * r:.1f}"/>'
        )
    elif outcome is Outcome.SUSPECTED:
        shape = f'<circle class="ring" cx="{x:.1f}" cy="{y:.1f}" r="{radius - 0.7:.1f}"/>'
    else:
        return spot("ink", x, y, radius, title)
    return f"<g><title>{escape(title)}</title>{shape}</g>"


def spot(kind: str, x: float, y: float, radius: float, title: str) -> str:
    """Return a filled circle of a class of the page's style, with words shown under the pointer."""
    shape = f'<circle class="{kind}" cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}"/>'
    return f"<g><title>{escape(title)}</title>{shape}</g>"


def text(words: str, x: float, y: float, anchor: str = "start") -> str:
    """Return words at a place; anchor is start, middle or end."""
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>'


def rule(x1: float, y1: float, x2: float, y2: float) -> str:
    """Return a thin line."""
    return f'<path class="rule" d="M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}"/>'


def curve(points: Sequence[tuple[float, float]]) -> str:
    """Return a line through points."""
    return f'<path class="curve" d="M{"L".join(f"{x:.1f} {y:.1f}" for x, y in points)}"/>' if points else ""
