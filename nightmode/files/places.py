"""Where files are on this computer, and the name of a session's file. Loaded first, so kept light."""

import datetime as dt
import hashlib
import re
import unicodedata
from pathlib import Path
from typing import Literal

import platformdirs

from nightmode.errors import NightmodeError
from nightmode.files.replace import make_folder
from nightmode.files.text import trouble

PROGRAM = "nightmode"
LONGEST_PART = 40


def observer_file() -> Path:
    """Return the path of observer.toml in the user's configuration folder."""
    return platformdirs.user_config_path(PROGRAM, appauthor=False) / "observer.toml"


def sessions_folder(rehearsal: bool = False) -> Path:
    """Return the folder of the journals; rehearsals have a folder of their own, so they never count."""
    folder = "rehearsals" if rehearsal else "sessions"
    return platformdirs.user_data_path(PROGRAM, appauthor=False) / folder


def log_file() -> Path:
    """Return the path of the program's own log, where tracebacks go."""
    return platformdirs.user_log_path(PROGRAM, appauthor=False) / "nightmode.log"


def history_cache_file() -> Path:
    """Return the path of what was read of the journals before; it may be deleted at any time."""
    return platformdirs.user_cache_path(PROGRAM, appauthor=False) / "history.json"


def prepare(path: Path) -> Path:
    """Make the folder of one of the program's own files, for the user alone, and return the path.

    Not for paths that the user gave: where a memory stick is not plugged in, no folder must be made in its
    place. NightmodeError if the folder cannot be made.
    """
    try:
        make_folder(path.parent)
    except OSError as error:
        raise trouble(path.parent, error, "the folder is not made") from None
    return path


def shipped(kind: Literal["plans", "themes"]) -> Path:
    """Return the folder of the plans or themes that come with the program.

    In an installed copy they are inside the package, in a checkout beside it. NightmodeError if
    they are in neither place.
    """
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "shipped" / kind, package.parent / kind):
        if folder.is_dir():
            return folder
    raise NightmodeError(kind, "the files that come with the program are missing", "install nightmode again")


def journal_name(title: str, date: dt.date, site: str) -> str:
    """Return the file name of a session from night, plan and site, valid on any system.

    It does not depend on the contents of the plan: if the plan is changed during the night, the session stays
    the same. Four hexadecimal digits distinguish titles that would give the same name.
    """
    digits = hashlib.sha256(f"{title}\0{site}".encode(errors="replace")).hexdigest()[:4]
    parts = [date.isoformat(), _part(title), _part(site), digits]
    return "-".join(part for part in parts if part) + ".toml"


def last_plan_file() -> Path:
    """Return the path of the file that remembers what `nightmode` alone goes on with."""
    return platformdirs.user_state_path(PROGRAM, appauthor=False) / "last-plan.toml"


def _part(text: str) -> str:
    latin = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", latin.lower())[:LONGEST_PART].strip("-")
