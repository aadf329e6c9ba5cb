"""The page that stands first. It needs no screen: it is read while what the screens need still loads."""

from nightmode.app.hours import dark_before, dark_since, is_before_dusk, is_evening, is_sun_up
from nightmode.app.pages.line import Line
from nightmode.app.pages.main import main_page
from nightmode.app.walker import Say, Walker
from nightmode.night.table import Night
from nightmode.session.record import Session


def first_page(
    night: Night, session: Session, now_s: float, size: tuple[int, int], say: Say | None
) -> list[Line]:
    """Return what the screens show first for a size (columns, rows): the walk, or before dusk the list."""
    walker = Walker(night, session)
    if is_before_dusk(night, now_s):
        from nightmode.app.pages.checklist import checklist_items, hour_page

        evening = is_evening(night, now_s)
        return hour_page(night, now_s, evening, checklist_items(night, evening), size)
    since_s = dark_since(walker, dark_before(walker.state, now_s))
    return main_page(walker, now_s, size, say, since_s, is_sun_up(walker.night, now_s))
