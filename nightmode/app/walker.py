"""What the keys do to the session, and which target is shown. The time is always an argument."""

import datetime as dt
from collections.abc import Mapping
from contextlib import suppress
from typing import TYPE_CHECKING

from nightmode.aim.align import AlignStar
from nightmode.app.equipment import Equipment
from nightmode.app.outlook import Outlook
from nightmode.app.say import Say, refusal
from nightmode.errors import NightmodeError
from nightmode.eyepiece import Combination
from nightmode.model.session import Dew, Entry, Event, Outcome, Seeing
from nightmode.night.aligning import align_star
from nightmode.night.predicted import predicted
from nightmode.night.table import Night, NightTarget
from nightmode.night.verdict import verdict_at
from nightmode.records import replace
from nightmode.session.record import Session
from nightmode.visibility.reasons import Verdict
from nightmode.visibility.sky import mag_of_naked_eye_limit
from nightmode.walk.state import OCTANTS, State, target_key
from nightmode.wording.air import air_text
from nightmode.wording.entries import (
    ADDED,
    CLEAR,
    WHITE_LIGHT,
    clouds_text,
    entry_text,
    points_text,
    seeing_text,
    sky_text,
)
from nightmode.wording.figures import HAS_ENDED, cut

if TYPE_CHECKING:
    from nightmode.history.earlier import Earlier

LONGEST_NAME = 80
#: Outcomes that need the target above the horizon.
_SIGHTED = (Outcome.SEEN, Outcome.SUSPECTED)


class Walker(Outlook):
    """Walks through the night: knows which target is shown, and records what the observer says.

    The target shown stays until it is ticked, left with a key, or sets: a target that has just risen never
    takes its place.
    """

    def __init__(
        self, night: Night, session: Session, earlier: "Mapping[str, Earlier] | None" = None
    ) -> None:
        self.session = session
        #: What was seen of the targets on earlier nights, by key; it may still be filling when the walk
        #: begins.
        self.earlier: Mapping[str, Earlier] = {} if earlier is None else earlier
        self._equipment = Equipment(night, session.state.ticks)
        self._night = night
        self._held: int | None = None
        self._looking_elsewhere = False
        self._gone: int | None = None
        self._step_of_eyepiece = 0
        self._verdict: tuple[tuple[object, ...], Verdict] | None = None
        self._align: tuple[tuple[int, frozenset[str]], AlignStar | None] | None = None

    @property
    def night(self) -> Night:
        """The night under the last reading of the sky, if there is one, with the instruments in use."""
        night = self._equipment.night(self.state.sky_reading)
        if night is not self._night:
            self._night, self._step_of_eyepiece = night, 0
        return night

    @property
    def state(self) -> State:
        """The session so far, as it is on disk."""
        return self.session.state

    def shown(self, now_s: float) -> int | None:
        """Return the row of the target shown, or None; where it is done, left or has set, take the next."""
        if self._held is not None and (self._looking_elsewhere or self.is_current(self._held, now_s)):
            return self._held
        if self._held is not None and not self.night.targets[self._held].chance.is_up(now_s):
            self._gone = self._held
        offered = self.queue(now_s)
        self._hold(offered[0] if offered else None)
        return self._held

    def gone(self, now_s: float) -> Say | None:
        """Return, once, that the target shown can no longer be seen, and which one has taken its place."""
        shown = self.shown(now_s)
        row, self._gone = self._gone, None
        if row is None or row == shown:
            return None
        ended = [stretch for stretch in self.night.targets[row].usable if stretch.end_s <= now_s]
        if not ended:
            return None
        words = f"{self.name(row)} {HAS_ENDED[ended[-1].ends_by]}"
        return Say(words if shown is None else f"{words}; this is {self.name(shown)}")

    def name(self, row: int | None) -> str:
        """Return the name of a target; of None the night's."""
        return "the night" if row is None else self.night.targets[row].subject.name

    @property
    def looks_elsewhere(self) -> bool:
        """Whether the observer has stepped away from the current target."""
        return self._looking_elsewhere

    def _hold(self, row: int | None, elsewhere: bool = False) -> None:
        if row != self._held:
            self._step_of_eyepiece = 0
        self._held, self._looking_elsewhere = row, elsewhere

    def step(self, by: int, now_s: float) -> None:
        """Show the target `by` places further in the walk order; the first follows the last."""
        order = self.order(now_s)
        if not order:
            return
        shown = self.shown(now_s)
        place = order.index(shown) if shown is not None else -1 if by > 0 else 0
        row = order[(place + by) % len(order)]
        is_first_offered = row in self.queue(now_s)[:1]
        self._hold(row, elsewhere=not is_first_offered)

    def show(self, row: int) -> None:
        """Show one target until it is ticked or left."""
        self._hold(row, elsewhere=True)

    def take_in(self, night: Night, now_s: float) -> Say:
        """Go on with a night of one more row, and show that target; where a session is watched, only that."""
        self.take_over(night)
        row = len(night.targets) - 1
        self.show(row)
        if self.session.is_watched:
            return Say(f"{self.name(row)} is shown here only, and not noted")
        return self._do(f"{self.name(row)} is {ADDED}", Event.ADD, now_s, row)

    def take_over(self, night: Night) -> None:
        """Go on with the night opened again: the rows are those of before, with more or fewer at the end."""
        self._gone = None  # it may be the one that is taken out
        self._equipment.take_over(night)

    def back(self) -> None:
        """Go back to the current target."""
        self._hold(None)

    def combination(self, row: int) -> Combination | None:
        """Return the combination to look with: the suggested one or the one stepped to; None without any."""
        choices = self.night.targets[row].choices
        return choices[self._step_of_eyepiece % len(choices)] if choices else None

    def verdict(self, row: int, now_s: float) -> Verdict:
        """Return the verdict on a target through the combination shown, worked out once a minute."""
        minute, combination = int(now_s // 60), self.combination(row)
        asked = (self.night, row, minute, combination)
        if self._verdict is None or self._verdict[0] != asked:
            found = verdict_at(self.night, row, minute * 60.0, combination)
            self._verdict = (asked, found)
        return self._verdict[1]

    def align_first(self, row: int, now_s: float) -> AlignStar | None:
        """Return the star to set the finder on, worked out once a minute; None after the first tick."""
        if self.state.ticks or self.looks_elsewhere or not self.night.targets[row].kit.finders:
            return None
        asked = int(now_s // 60), self.state.clear_octants
        if self._align is None or self._align[0] != asked:
            self._align = (asked, align_star(self.night, asked[0] * 60.0, row, asked[1]))
        return self._align[1]

    def other_eyepiece(self) -> None:
        """Show the next sensible combination of eyepiece and Barlow."""
        self._step_of_eyepiece += 1

    def other_instrument(self, now_s: float) -> Say | None:
        """Take the next instrument for the target shown; return what to say if there is no other."""
        row, night = self.shown(now_s), self.night
        if row is None:
            return Say("nothing is up; j and k show the targets")
        if not night.has_several:
            return Say(f"this plan has one instrument: {night.kit.telescope.name}")
        self._equipment.take_next(row)
        return None

    @property
    def has_other_eyepiece(self) -> bool:
        """Whether the combination shown is not the suggestion."""
        choices = self.night.targets[self._held].choices if self._held is not None else ()
        return bool(choices) and self._step_of_eyepiece % len(choices) != 0

    def tick(self, outcome: Outcome, now_s: float) -> Say:
        """Record the outcome for the target shown, and show the next target once that is on disk."""
        row = self.shown(now_s)
        if row is None:
            return Say("nothing is up to tick; j and k show the targets")
        name = self.night.targets[row].subject.name
        is_below = outcome in _SIGHTED and self.night.altitude_at(row, now_s) < 0.0
        slip = ", though it is below the horizon: u undoes" if is_below else ""
        said = self._do(f"{name}: {outcome.value}{slip}", Event.TICK, now_s, row, outcome=outcome)
        if said.alert:
            return said
        self._hold(None)
        return replace(said, ticked=self.state.live[-1])

    def note(self, text: str, now_s: float, row: int | None) -> Say:
        """Record a few words about a target, or about the night when there is none."""
        return self._do(f"noted on {self.name(row)}: {text}", Event.NOTE, now_s, row, note=text)

    def note_so_far(self, text: str, now_s: float, row: int | None) -> None:
        """Keep a note that is still being typed, in case the program is killed; an empty one is forgotten."""
        if not text:
            self.session.forget_note()
            return
        with suppress(ValueError):  # a time that a journal cannot hold
            self.session.keep_note(self._entry(Event.NOTE, now_s, row, note=text))

    def phrase(self, number: int, now_s: float) -> Say:
        """Record the observer's quick phrase of that number."""
        phrases = self.night.person.phrases
        if number > len(phrases):
            return Say(f"there is no quick phrase {number}")
        return self.note(phrases[number - 1], now_s, self.shown(now_s))

    def last_ticked(self) -> int | None:
        """Return the row of the target ticked last."""
        key = self.state.last_ticked
        return None if key is None else self.night.row(key)

    def undo(self, now_s: float) -> Say:
        """Take back the last entry and show its target."""
        last = self.state.last_undoable
        if last is None:
            return Say("nothing left to undo")
        said = self._do(f"undone: {entry_text(last)}", Event.UNDO, now_s, target=last.target)
        if said.alert:
            return said
        is_shown = last.target is not None and last.event is not Event.ADD
        row = self.night.row(target_key(last.target or "")) if is_shown else None
        self._hold(row, elsewhere=row is not None and not self.is_current(row, now_s))
        return replace(said, undone=last)

    def white_light(self, now_s: float) -> Say:
        """Record that white light fell into the eyes."""
        said = f"{WHITE_LIGHT} noted; dark adaptation starts again: 20 to 40 minutes"
        return self._do(said, Event.LIGHT, now_s)

    def sky_reading(self, text: str, now_s: float) -> Say:
        """Record a reading of the sky: up to 8 a naked-eye limit in magnitudes, 14 to 22.5 mag/arcsec²."""
        try:
            value = float(text.replace(",", "."))
        except ValueError:
            return Say("write a number: 14 to 22.5 mag/arcsec², or a naked-eye limit of 0 to 8")
        if 0 <= value <= 8:
            value = float(mag_of_naked_eye_limit(value))
        elif not 14 <= value <= 22.5:
            return Say("a sky reads 14 to 22.5 mag/arcsec², a naked-eye limit 0 to 8: nothing noted")
        said = f"{sky_text(value)} noted; verdicts and eyepieces follow it"
        return self._do(said, Event.SKY, now_s, sky_brightness=round(value, 2))

    def clear_octants(self, octants: frozenset[str], now_s: float) -> Say:
        """Record which compass points are clear; all eight mean that the clouds have gone."""
        if len(octants) == len(OCTANTS):
            return self._do(CLEAR, Event.CLEAR, now_s)
        self._hold(None)
        return self._do(clouds_text(octants), Event.CLOUDS, now_s, note=points_text(octants))

    def seeing(self, value: Seeing, now_s: float) -> Say:
        """Record the seeing on Antoniadi's scale."""
        return self._do(f"{seeing_text(value)} noted", Event.CHECK, now_s, seeing=value)

    def transparency(self, value: int, now_s: float) -> Say:
        """Record how clear the air is, 1 to 5."""
        return self._do(f"{air_text(value, None)} noted", Event.CHECK, now_s, transparency=value)

    def dew(self, value: Dew, now_s: float) -> Say:
        """Record how much dew there is."""
        return self._do(f"{air_text(None, value)} noted", Event.CHECK, now_s, dew=value)

    def mark(self, event: Event, now_s: float) -> Say:
        """Record a pause, or that the session goes on."""
        return self._do(event.value, event, now_s)

    def held_up(self, is_to_note: bool) -> Say | None:
        """Return what to say instead of doing what a key stands for; None if nothing holds it up.

        What the disk refused goes first; and is_to_note, where an answer would be asked for that has to be
        noted: a session that is only watched would refuse it once it is typed.
        """
        watching = self.session.refusal if is_to_note else None
        return self.retry() or (refusal(watching) if watching else None)

    def retry(self) -> Say | None:
        """Try again to save what the disk refused; return what to say, None if nothing was waiting."""
        if not self.session.unsaved:
            return None
        count = len(self.session.unsaved)
        try:
            self.session.save()
        except NightmodeError as error:
            return Say("any key tries again", alert=f"STILL NOT SAVED, {error.cause}")
        self._hold(None)
        return Say(f"saved now: {count} {'entry' if count == 1 else 'entries'}")

    def _do(self, said: str, event: Event, now_s: float, row: int | None = None, **fields: object) -> Say:
        """Record an event, and return what to say: `said` only once it is on the disk."""
        try:
            self.session.do(self._entry(event, now_s, row, **fields))
        except NightmodeError as error:
            if not self.session.unsaved:
                return refusal(error)
            return Say("kept, any key tries again", alert=f"NOT SAVED, {error.cause}")
        except ValueError:  # a time or a text that a journal cannot hold
            return Say("not noted", alert="that is more than the journal can hold")
        return Say(said)

    def _entry(self, event: Event, now_s: float, row: int | None, **fields: object) -> Entry:
        at = dt.datetime.fromtimestamp(round(now_s), self.night.site.zone)
        if row is not None:
            fields |= self._where(self.night.targets[row], row, now_s, event)
        return Entry.model_validate({"at": at, "event": event, **fields})

    def _where(self, target: NightTarget, row: int, now_s: float, event: Event) -> dict[str, object]:
        found: dict[str, object] = {
            "target": target.subject.name,
            "altitude_deg": round(self.night.altitude_at(row, now_s), 1),
            "azimuth_deg": round(self.night.azimuth_at(row, now_s), 1),
        }
        used = self.combination(row)
        if event is Event.TICK:
            found |= predicted(self.night, row, self.verdict(row, now_s))
            if self.night.has_several or target.kit.telescope.name != self.session.head.telescope:
                found["telescope"] = target.kit.telescope.name
        if event is Event.TICK and used is not None:
            found["eyepiece"] = cut(used.name, LONGEST_NAME)
            if target.look and target.look.filter:
                found["filter"] = target.look.filter
        return found
