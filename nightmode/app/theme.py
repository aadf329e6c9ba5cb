"""The theme of red levels: one that comes with the program, or a file of the observer's own."""

import os
from pathlib import Path

from nightmode.app.say import Say, refusal
from nightmode.errors import NightmodeError
from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.model.theme import Red, Theme
from nightmode.records import replace

#: Made without the checks that a file gets: they would slow every start for the sake of the observer's own
#: themes.
EMBER = Theme.model_construct(
    name="ember",
    about="Low and even, for a dark site. The default.",
    red=Red.model_construct(line=38, faint=68, text=104, strong=136, alert=188),
)


def theme_named(name: str) -> tuple[Theme, Say | None]:
    """Return the theme of a name or a file, and what to say if the default theme had to be taken instead.

    name  a theme that comes with the program ("cinder"), or the path of a theme.toml; "" for the default
    """
    if name in {"", EMBER.name}:
        return EMBER, None
    try:
        return read_toml(_theme_file(name), Theme), None
    except NightmodeError as error:
        said = refusal(error)
        return EMBER, replace(said, text=f"{said.text} The theme {EMBER.name} is used")


def _theme_file(name: str) -> Path:
    ours = {path.stem: path for path in shipped("themes").glob("*.toml")}
    if name in ours:
        return ours[name]
    if Path(name).suffix == ".toml":
        return Path(os.path.expanduser(name))  # noqa: PTH111  the other one fails on ~nobody
    names = ", ".join(sorted(ours))
    raise NightmodeError("theme", f"there is no theme called {name}", f"write one of {names}, or a path")
