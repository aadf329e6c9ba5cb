"""Types the ticks of a printed sheet into a session: each answer is on the disk before the next question."""

import datetime as dt
from collections.abc import Callable
from contextlib import suppress

from nightmode.errors import NightmodeError
from nightmode.history.pencil import Pencilled, read_line, read_pencilled_time, read_seeing, read_sky
from nightmode.model.session import Entry, Event
from nightmode.model.target import Body
from nightmode.night.predicted import predicted
from nightmode.night.table import Night
from nightmode.night.verdict import moonless_zenith_mag, verdict_at
from nightmode.session.record import Session
from nightmode.setup.answers import make
from nightmode.walk.state import target_key
from nightmode.wording.entries import entry_text
from nightmode.wording.figures import span_text

KEYS = (
    "y seen, s suspected, x not seen, n only a note; then time and note: y 19:40 round\n"
    "Enter: nothing was pencilled; u undo; q stop here, go on later."
)
_UNDO, _STOP = "u", "q"


class Entering:
    """One pass over the sheet of a night.

    ask    asks for a line; EOFError from it ends the pass, and what was entered stays
    say    tells the observer something
    now_s  the present, in Unix seconds: nothing can be entered for a later time
    """

    def __init__(
        self,
        night: Night,
        session: Session,
        ask: Callable[[str], str],
        say: Callable[[str], None],
        now_s: float,
    ) -> None:
        self._night, self._session, self._ask, self._say = night, session, ask, say
        self._now_s = now_s
        #: The time of the line before, which holds for a line without one.
        self._last_s: float | None = None

    def run(self) -> int:
        """Ask about the evening, then about each target without a tick; return how many entries there are."""
        before = len(self._session.state.live)
        with suppress(EOFError):
            if not before:
                self._evening()
            self._say(KEYS)
            self._targets()
        return max(0, len(self._session.state.live) - before)

    def _evening(self) -> None:
        """Ask when the session began, and about air and sky."""
        self._until_it_fits("Began at (like 19:30, Enter skips): ", self._began)
        if self._last_s is None:
            return
        self._until_it_fits("Seeing (I best to V worst, Enter skips): ", self._seeing)
        self._until_it_fits(
            "Sky (meter reading like 21.1, faintest star like 5.5mag, Enter skips): ", self._sky
        )

    def _until_it_fits(self, prompt: str, take: Callable[[str], None]) -> None:
        while text := self._answer(prompt):
            try:
                take(text)
                break
            except NightmodeError as problem:
                self._say(f"  {problem}")

    def _answer(self, prompt: str) -> str:
        """Return an answer without blanks around it. EOFError if it is to stop."""
        text = self._ask(prompt).strip()
        if text.lower() == _STOP:
            raise EOFError
        return text

    def _began(self, text: str) -> None:
        self._last_s = self._time(text)

    def _seeing(self, text: str) -> None:
        self._do(Event.CHECK, self._last_s, seeing=read_seeing(text))

    def _sky(self, text: str) -> None:
        self._do(Event.SKY, self._last_s, sky_brightness=read_sky(text))

    def _targets(self) -> None:
        """Ask about each target without a tick, in the order of the sheet; an undo goes back to one."""
        rows = [row for row in self._night.in_walk_order() if not self._is_ticked(row)]
        at = 0
        while at < len(rows):
            undone = self._target(rows[at])
            at = rows.index(undone) if undone in rows else at + 1

    def _is_ticked(self, row: int) -> bool:
        return self._session.state.outcome(self._night.targets[row].chance.key) is not None

    def _target(self, row: int) -> int | None:
        """Ask about one target until the answer fits; after an undo return the row to go back to."""
        target = self._night.targets[row]
        zone = self._night.site.zone
        up = ", ".join(span_text(stretch.start_s, stretch.end_s, zone) for stretch in target.usable)
        while text := self._answer(f"{target.subject.name} ({up or 'not up'}): "):
            try:
                if text.lower() == _UNDO:
                    return self._undo(row)
                self._enter(row, read_line(text))
                break
            except NightmodeError as problem:
                self._say(f"  {problem}")
        return None

    def _undo(self, row: int) -> int:
        """Take back the last entry; return its row, or this one if it was not about a target."""
        last = self._session.state.last_undoable
        if last is None:
            raise NightmodeError("undo", "nothing is left to take back", "write what was seen")
        self._do(Event.UNDO, last.at.timestamp(), target=last.target)
        self._say(f"  undone: {entry_text(last)}")
        back = self._night.row(target_key(last.target)) if last.target else row
        return row if back is None else back

    def _enter(self, row: int, line: Pencilled) -> None:
        """Write the entry of a line. NightmodeError if it has no time, or the target was out of sight."""
        at_s = self._time(line.time) if line.time else self._last_s
        if at_s is None:
            raise NightmodeError("time", "none is known yet", "write it like y 19:40")
        self._check_up(row, at_s)
        self._do(
            Event.TICK if line.outcome else Event.NOTE,
            at_s,
            target=self._night.targets[row].subject.name,
            outcome=line.outcome,
            altitude_deg=round(self._night.altitude_at(row, at_s), 1),
            azimuth_deg=round(self._night.azimuth_at(row, at_s), 1),
            note=line.note,
            **(self._predicted(row, at_s) if line.outcome else {}),
        )
        self._last_s = at_s

    def _check_up(self, row: int, at_s: float) -> None:
        """Raise NightmodeError if a target was below the horizon then, or lost in daylight."""
        subject, height_deg = self._night.targets[row].subject, self._night.altitude_at(row, at_s)
        if height_deg < 0:
            what = f"stood below the horizon then ({height_deg:.0f}°)"
            raise NightmodeError(subject.name, what, "look at the time again")
        if self._night.is_sun_up(at_s) and not isinstance(subject, Body):
            what = "cannot have been seen then: the Sun was up"
            raise NightmodeError(subject.name, what, "write a quarter past midnight as 0:15")

    def _predicted(self, row: int, at_s: float) -> dict[str, object]:
        """Return the verdict that a walk would have shown then, under the sky that was read."""
        night, reading = self._night, self._session.state.sky_reading
        zenith_mag = None
        if reading is not None and reading.sky_brightness is not None:
            zenith_mag = moonless_zenith_mag(night, reading.sky_brightness, reading.at.timestamp())
        found = predicted(night, row, verdict_at(night, row, at_s, zenith_mag=zenith_mag))
        if night.has_several:  # the one that the sheet suggested
            found["telescope"] = night.targets[row].kit.telescope.name
        return found

    def _time(self, text: str) -> float:
        return read_pencilled_time(text, self._night, self._now_s)

    def _do(self, event: Event, at_s: float | None, **fields: object) -> None:
        at = dt.datetime.fromtimestamp(at_s or 0.0, self._night.site.zone)
        self._session.do_or_drop(make(Entry, "entry", event=event, at=at, **fields))
