"""The first page, made without Textual, so that it can be read while the screens are still loading."""

from collections.abc import Mapping

from nightmode.app.hours import dark_before, dark_since, is_before_dusk, is_evening
from nightmode.app.pages.budget import UNBOUNDED, budget_of, drawn
from nightmode.app.pages.line import Line
from nightmode.app.pages.main import main_page
from nightmode.app.say import Say
from nightmode.app.walker import Walker
from nightmode.night.table import Night
from nightmode.session.record import Session


def first_page(
    night: Night,
    session: Session,
    now_s: float,
    size: tuple[int, int],
    say: Say | None,
    role_light: Mapping[str, float],
) -> list[Line]:
    """Return the first page for a size (columns, rows): the walk, or before dusk the set-up list.

    role_light is the light of each role, divided by what text is meant to give.
    """
    walker = Walker(night, session)
    budget = UNBOUNDED if night.is_sun_up(now_s) else budget_of(size, role_light)
    if is_before_dusk(night, now_s):
        from nightmode.app.pages.checklist import checklist_of, checklist_page

        listed = checklist_of(night, is_evening(night, now_s))
        return drawn(checklist_page(night, now_s, listed, size, budget), size, budget)
    since_s = dark_since(walker, dark_before(walker.state, now_s))
    page = main_page(walker, now_s, size, say, since_s, budget=budget)
    return drawn(page, size, budget)
