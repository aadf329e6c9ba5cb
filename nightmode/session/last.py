"""Remembers what `nightmode` alone goes on with."""

from pathlib import Path

import tomli_w

from nightmode.errors import NightmodeError
from nightmode.files.places import last_plan_file, prepare
from nightmode.files.replace import safe_replace
from nightmode.files.toml import read_toml
from nightmode.model.base import Model


class LastPlan(Model):
    """What `nightmode` alone goes on with: a plan, its journal, the observer's file if one was named."""

    plan: str
    session: str
    observer: str = ""


def remember_plan(plan: Path, session: Path, observer: Path | None = None) -> None:
    """Note down the plan and the journal in use. NightmodeError if that cannot be written."""
    paths = {"plan": str(plan.absolute()), "session": str(session.absolute())}
    if observer is not None:
        paths["observer"] = str(observer.absolute())
    text = tomli_w.dumps(paths)
    if not _is_text(text):
        raise NightmodeError(str(plan), "not remembered, a name is not UTF-8", "rename the file")
    safe_replace(prepare(last_plan_file()), text, force=True, private=True)


def _is_text(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def last_plan() -> LastPlan | None:
    """Return what `remember_plan` wrote last; None, and no error, if nothing can be read."""
    try:
        return read_toml(last_plan_file(), LastPlan)
    except NightmodeError:
        return None
