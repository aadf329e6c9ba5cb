"""Themes on the screen: a file of red levels becomes Textual's colours, every one of them red or black."""

import os
from pathlib import Path

from textual.theme import Theme as TextualTheme

from nightmode.errors import NightmodeError
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.model.theme import Red, Theme

#: Not checked as a file is: that would cost every start what only a theme of the observer's needs.
EMBER = Theme.model_construct(
    name="ember",
    about="Low and even, for a dark site. The default.",
    red=Red.model_construct(line=38, faint=68, text=104, strong=136, alert=188),
)
_BLACK = "#000000"
#: Words in the names of Textual's variables, in the order they are looked for, and the role that each gets.
_ROLES = (
    ("background", "black"), ("surface", "black"), ("panel", "black"), ("boost", "black"),
    ("border", "line"), ("scrollbar", "line"), ("disabled", "faint"), ("muted", "faint"), ("footer", "faint"),
    ("warning", "strong"), ("error", "alert"), ("accent", "strong"), ("primary", "strong"), ("key", "strong"),
)  # fmt: skip


def theme_named(name: str) -> tuple[Theme, str]:
    """Return the theme of this name, or of this file, and one sentence if the default had to do instead.

    name  a theme that comes with the program ("cinder"), or the path of a theme.toml; "" for the default
    """
    if name in {"", EMBER.name}:
        return EMBER, ""
    try:
        return read_toml(_theme_file(name), Theme), ""
    except NightmodeError as error:
        return EMBER, f"{error} The theme {EMBER.name} is used."


def _theme_file(name: str) -> Path:
    ours = {path.stem: path for path in shipped("themes").glob("*.toml")}
    if name in ours:
        return ours[name]
    if Path(name).suffix == ".toml":
        return Path(os.path.expanduser(name))  # noqa: PTH111  the other one fails on ~nobody
    names = ", ".join(sorted(ours))
    raise NightmodeError("theme", f"there is no theme called {name}", f"write one of {names}, or a path")


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
