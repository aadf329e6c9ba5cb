"""A theme of red levels as Textual's colours, every one of them red or black."""

from textual.theme import Theme as TextualTheme

from nightmode.model.theme import Red, Theme

_BLACK = "#000000"
#: Words in the names of Textual's variables, in the order they are looked for, and the role that each gets.
_ROLES = (
    ("background", "black"), ("surface", "black"), ("panel", "black"), ("boost", "black"),
    ("border", "line"), ("scrollbar", "line"), ("disabled", "faint"), ("muted", "faint"), ("footer", "faint"),
    ("warning", "strong"), ("error", "alert"), ("accent", "strong"), ("primary", "strong"), ("key", "strong"),
)  # fmt: skip


def colours(red: Red) -> dict[str, str]:
    """Return the CSS variables red-line, red-faint, red-text, red-strong, red-alert and their colours."""
    return {f"red-{role}": f"#{getattr(red, role):02x}0000" for role in Red.model_fields}


def textual_theme(theme: Theme) -> TextualTheme:
    """Return Textual's theme with every variable that it knows set to a red of this theme, or to black.

    The names come from Textual itself, so that a variable it gains later is caught as well.
    """
    own = colours(theme.red)
    base = TextualTheme(
        name=f"red-{theme.name}",
        primary=own["red-strong"],
        secondary=own["red-text"],
        foreground=own["red-text"],
        background=_BLACK,
        surface=_BLACK,
        panel=_BLACK,
        warning=own["red-strong"],
        error=own["red-alert"],
        success=own["red-text"],
        accent=own["red-strong"],
    )
    generated = base.to_color_system().generate()
    base.variables = {name: _red(name, value, own) for name, value in generated.items()} | own
    return base


def _red(name: str, value: str, own: dict[str, str]) -> str:
    if "text-style" in name or name.startswith("link-style"):
        return "underline" if name == "link-style" else "none"
    if name.endswith("cursor-background") or name in {
        "screen-selection-background",
        "input-selection-background",
    }:
        return own["red-strong"]
    if name.endswith("cursor-foreground") or name.endswith("selection-foreground"):
        return own["red-strong"]
    for word, role in _ROLES:
        if word in name and not (word == "scrollbar" and "background" in name):
            return _BLACK if role == "black" else own[f"red-{role}"]
    return own["red-text"]
