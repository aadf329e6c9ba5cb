"""`nightmode enter PLAN`: ticks from a printed sheet, typed into an ordinary session."""

import argparse
import datetime as dt
import re
import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from nightmode.cli.arguments import Commands, add_plan
from nightmode.errors import NightmodeError

if TYPE_CHECKING:
    from nightmode.model.session import Entry, Outcome
    from nightmode.night.table import Night
    from nightmode.session.record import Session

EXAMPLE = """\
example:
  nightmode enter plan.toml --night 2026-12-13
A line for each target: y seen, s suspected, x not seen, n only a note; then the time, then the note:
  y 19:40 small and round, brighter middle
Without a time, that of the line before. Enter: nothing pencilled. u: undo. q: stop here, go on later.
"""
KEYS = (
    "y seen, s suspected, x not seen, n only a note; then time and note: y 19:40 round\n"
    "Enter: nothing was pencilled; u undo; q stop here, go on later."
)
#: Key, time, note. The time may be close to the key, and written with a point, an h or nothing in it.
_LINE = re.compile(r"([ysxn])(?:\s*(\d{1,2}[:.h]?\d{2})(?=\s|$))?(?:\s+(.+))?", re.IGNORECASE | re.ASCII)
#: Seeing on the scale of Antoniadi, as a figure or as the numeral.
_SEEING = {str(number): numeral for number, numeral in enumerate(("I", "II", "III", "IV", "V"), start=1)}
_STOP = "q"


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "enter",
        help="type the ticks of a printed sheet into a session",
        description="Asks target by target, in the order of the sheet, and keeps each answer at once.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add_plan(parser)
    parser.add_argument(
        "--session", type=Path, metavar="FILE", help="the journal; else one in your data folder"
    )
    parser.add_argument("--red", action="store_true", help="print in red on black")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Ask, write the entries, and say where the session is."""
    from nightmode.files.text import path_text
    from nightmode.light.asking import asker
    from nightmode.light.terminal import red_stdout
    from nightmode.night.loading import load_night, new_head
    from nightmode.session.opening import opened
    from nightmode.sky.typed_time import read_date

    now_s = time.time()
    loaded = load_night(args.plan, args.observer, read_date(args.night), now_s)
    if now_s < loaded.night.time_s[0]:
        what = f"the night of {loaded.night.date} has not begun yet"
        raise NightmodeError("night", what, "name one that is over with --night")
    red = args.red or loaded.night.person.red
    with (
        red_stdout(red),
        opened(loaded.path, new_head(loaded, False), args.session, False, now_s) as (session, words),
    ):
        if words:
            print(words)
        count = Entering(loaded.night, session, asker(red), print, now_s).run()
        told = f"Wrote {count} {'entry' if count == 1 else 'entries'} to"
        print(f"{told}\n  {path_text(session.path, longest=None)}")
    return 0


class Entering:
    """One pass over the sheet. now_s is the present: nothing can be entered for a later time."""

    def __init__(
        self,
        night: "Night",
        session: "Session",
        ask: Callable[[str], str],
        say: Callable[[str], None],
        now_s: float,
    ) -> None:
        self.night, self.session, self.ask, self.say = night, session, ask, say
        self.now_s = now_s
        self.last_s: float | None = None

    def run(self) -> int:
        """Ask about the evening, then about each target without a tick; return how many entries there are."""
        from nightmode.report.check import in_walk_order

        before = len(self.session.state.live)
        try:
            if not before:
                self._evening()
            self.say(KEYS)
            rows = [row for row in in_walk_order(self.night) if not self._ticked(row)]
            at = 0
            while at < len(rows):
                undone = self._target(rows[at])
                at = rows.index(undone) if undone in rows else at + 1
        except EOFError:
            pass
        return max(0, len(self.session.state.live) - before)

    def _ticked(self, row: int) -> bool:
        return self.session.state.outcome(self.night.targets[row].chance.key) is not None

    def _evening(self) -> None:
        """Ask when the session began, and about air and sky."""
        self._until_it_fits("Began at (like 19:30, Enter skips): ", self._began)
        if self.last_s is None:
            return
        self._until_it_fits("Seeing (I best to V worst, Enter skips): ", self._seeing)
        self._until_it_fits(
            "Sky (meter reading like 21.1, faintest star like 5.5mag, Enter skips): ", self._sky
        )

    def _began(self, text: str) -> None:
        self.last_s = self._time(text)

    def _seeing(self, text: str) -> None:
        from nightmode.model.session import Event

        seeing = _SEEING.get(text, text.upper())
        if seeing not in _SEEING.values():
            raise NightmodeError("seeing", f"{text!r} is not on its scale", "write I to V, or 1 to 5")
        self._check(Event.CHECK, seeing=seeing)

    def _sky(self, text: str) -> None:
        from nightmode.model.session import Event
        from nightmode.setup.answers import number
        from nightmode.visibility.sky import mag_of_naked_eye_limit

        if text.lower().endswith("mag"):
            limit = number(text, "sky", "mag")
            self._check(Event.SKY, sky_brightness=round(float(mag_of_naked_eye_limit(limit)), 2))
        else:
            self._check(Event.SKY, sky_brightness=number(text, "sky"))

    def _check(self, event: object, **fields: object) -> None:
        self._do(event=event, at=self._local(self.last_s), **fields)

    def _until_it_fits(self, prompt: str, take: Callable[[str], None]) -> None:
        while text := self.ask(prompt).strip():
            if text.lower() == _STOP:
                raise EOFError
            try:
                take(text)
                break
            except NightmodeError as problem:
                self.say(f"  {problem}")

    def _target(self, row: int) -> int | None:
        """Ask about one target until the answer fits; after an undo return the row to go back to."""
        prompt = f"{self.night.targets[row].subject.name} ({self._spans(row) or 'not up'}): "
        while (text := self.ask(prompt).strip()).lower() != _STOP:
            try:
                if text.lower() == "u":
                    return self._undo(row)
                if text:
                    self._line(row, text)
                return None
            except NightmodeError as problem:
                self.say(f"  {problem}")
        raise EOFError

    def _spans(self, row: int) -> str:
        from nightmode.wording.figures import time_of_day

        zone = self.night.site.zone
        usable = self.night.targets[row].usable
        return ", ".join(
            f"{time_of_day(stretch.start_s, zone)}-{time_of_day(stretch.end_s, zone)}" for stretch in usable
        )

    def _undo(self, row: int) -> int:
        """Take back the last entry; return its row, or this one if it was not about a target."""
        from nightmode.model.session import Event
        from nightmode.walk.state import target_key

        last = self.session.state.last_undoable
        if last is None:
            raise NightmodeError("undo", "nothing is left to take back")
        self._do(event=Event.UNDO, at=last.at, target=last.target)
        self.say(f"  undone: {last.target or 'the sky of the evening'}")
        back = self.night.row(target_key(last.target)) if last.target else row
        return row if back is None else back

    def _line(self, row: int, text: str) -> None:
        """Read key, time and note, and write the entry. NightmodeError if one of them does not fit."""
        from nightmode.model.session import Event

        match = _LINE.fullmatch(text)
        if not match:
            raise NightmodeError(
                repr(text), "does not begin with y, s, x or n", "write it like y 19:40 small, round"
            )
        key, moment, note = match.groups()
        at_s = self._time(moment) if moment else self.last_s
        if at_s is None:
            raise NightmodeError("time", "none is known yet", "write it like y 19:40")
        name, height = self._can_be_at(row, at_s), self.night.altitude_at(row, at_s)
        outcome = _outcome(key.lower())
        said = self._predicted(row, at_s) if outcome else {}
        self._do(
            event=Event.TICK if outcome else Event.NOTE,
            at=self._local(at_s),
            target=name,
            outcome=outcome,
            altitude_deg=round(height, 1),
            azimuth_deg=round(self.night.azimuth_at(row, at_s), 1),
            note=note or "",
            **said,
        )
        self.last_s = at_s

    def _can_be_at(self, row: int, at_s: float) -> str:
        """Return the target's name. NightmodeError if it was below the horizon then, or lost in daylight."""
        from nightmode.model.target import Body
        from nightmode.sky.dark import SUNSET_DEG

        subject, height = self.night.targets[row].subject, self.night.altitude_at(row, at_s)
        if height < 0:
            what = f"stood below the horizon then ({height:.0f}°)"
            raise NightmodeError(subject.name, what, "look at the time again")
        if self.night.sun_altitude_at(at_s) > SUNSET_DEG and not isinstance(subject, Body):
            what = "cannot have been seen then: the Sun was up"
            raise NightmodeError(subject.name, what, "write a quarter past midnight as 0:15")
        return subject.name

    def _predicted(self, row: int, at_s: float) -> dict[str, object]:
        """Return the verdict that a walk would have shown then, under the sky that was read."""
        from nightmode.night.predicted import predicted
        from nightmode.night.verdict import moonless_zenith_mag, verdict_at

        night, reading = self.night, self.session.state.sky_reading
        zenith_mag = None
        if reading is not None and reading.sky_brightness is not None:
            zenith_mag = moonless_zenith_mag(night, reading.sky_brightness, reading.at.timestamp())
        found = predicted(night, row, verdict_at(night, row, at_s, zenith_mag=zenith_mag))
        if night.has_several:  # the one that the sheet suggested
            found["telescope"] = night.targets[row].kit.telescope.name
        return found

    def _time(self, text: str) -> float:
        """Return an instant of this night. NightmodeError if it is not a time, or is still to come."""
        from nightmode.sky.typed_time import read_time

        figures = re.sub("[:.h]", "", text, flags=re.IGNORECASE)
        colon = f"{figures[:-2]}:{figures[-2:]}" if figures.isdecimal() else text
        try:
            at_s = read_time(colon, self.night.site, self.night.date, "time")
        except NightmodeError:
            at_s = None
        if at_s is None or not self.night.time_s[0] <= at_s <= self.night.time_s[-1]:
            raise NightmodeError("time", f"{text!r} is not a time of this night", "write it like 19:40")
        if at_s > self.now_s:
            raise NightmodeError(
                "time", f"{text} on this night is still to come", "name the night with --night"
            )
        return at_s

    def _local(self, at_s: float | None) -> dt.datetime:
        return dt.datetime.fromtimestamp(at_s or 0.0, self.night.site.zone)

    def _do(self, **fields: object) -> "Entry":
        from nightmode.model.session import Entry
        from nightmode.setup.answers import make

        entry = make(Entry, "entry", **fields)
        self.session.do(entry)
        return entry


def _outcome(key: str) -> "Outcome | None":
    """Return the outcome that a key stands for; None for n, which is only a note."""
    from nightmode.model.session import Outcome

    return {"y": Outcome.SEEN, "s": Outcome.SUSPECTED, "x": Outcome.NOT_SEEN}.get(key)
