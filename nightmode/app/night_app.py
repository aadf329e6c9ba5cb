"""What the screens of the night stand on: the walk, the clock, the hand on the keys, the checklist."""

import time
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from textual import events
from textual.timer import Timer

from nightmode.app.clock import Clock, Wakefulness
from nightmode.app.guard.red_app import RedApp
from nightmode.app.hand import NEXT_REPEAT_S, PAUSE_S, Hand, Press
from nightmode.app.hours import dark_before, dark_since
from nightmode.app.keys import ASKED_TWICE, REPEATING
from nightmode.app.say import Say, refusal
from nightmode.app.walker import Walker
from nightmode.errors import NightmodeError
from nightmode.light.terminal import Terminal
from nightmode.model.theme import Theme
from nightmode.wording.figures import duration

if TYPE_CHECKING:
    from nightmode.app.aloud import Aloud
    from nightmode.app.finding import Also

#: The clock is looked at once a minute at least: a longer pause than this means that the laptop slept.
ASLEEP_S = 90.0
#: The exit code when entries could not be saved.
UNSAVED = 2


class NightApp(RedApp[None]):
    """The app as its screens see it; `WalkApp` is the one that knows the screens."""

    def __init__(
        self,
        walker: Walker,
        clock: Clock,
        theme: Theme,
        terminal: Terminal | None,
        *,
        hand: Hand | None = None,
        also: "Also | None" = None,
    ) -> None:
        minutes = walker.night.person.dim_after_min
        super().__init__(theme, terminal, dim_after_s=minutes * 60 if minutes else None)
        self.walker = walker
        #: What adds a target to the night, if anything does.
        self.also = also
        self._clock = clock
        self._dark_from_s = dark_before(walker.state, clock.now_s())
        self._awake = Wakefulness(ASLEEP_S)
        self._checked: set[str] = set()
        self._hand = hand or Hand()
        self._stands_from_s = float("inf")
        self._perhaps: tuple[str, Callable[[], object], Timer] | None = None
        #: What speaks, while something does.
        self.aloud: Aloud | None = None
        self._parting: Aloud | None = None

    # -- time -------------------------------------------------------------------

    def now_s(self) -> float:
        """Return the time on the screen's clock, Unix seconds."""
        return self._clock.now_s()

    @property
    def hurries(self) -> bool:
        """Whether the clock runs faster than the night."""
        return self._clock.rate > 1.0

    def notice_sleep(self) -> None:
        """If the laptop has slept, count time in the dark from now: its login screen may have been white."""
        if self._awake.has_slept():
            self._dark_from_s = self.now_s()

    def steady_s(self) -> float:
        """Return seconds of a clock that nobody can set, to time messages by."""
        return time.monotonic()

    def dark_since_s(self) -> float:
        """Return since when the eyes have been in the dark, in Unix seconds; see `dark_since`."""
        return dark_since(self.walker, self._dark_from_s)

    def clock_jump(self) -> Say | None:
        """Return a warning if somebody has set the system clock since the last call, else None."""
        jump_s = self._clock.jump_s()
        if not jump_s:
            return None
        way = "forward" if jump_s > 0 else "back"
        length = duration(abs(jump_s)) if abs(jump_s) >= 60 else f"{abs(jump_s):.0f} s"
        return Say("to follow it leave and start again", alert=f"system clock set {way} by {length}")

    def is_sun_up(self) -> bool:
        """Whether the Sun stands above the horizon."""
        return self.walker.night.is_sun_up(self.now_s())

    # -- voice ------------------------------------------------------------------

    @property
    def wakes_by_any_key(self) -> bool:
        """Whether any key wakes a black screen; with the voice on most keys work on it instead."""
        return self.aloud is None

    def start_voice(self) -> Say | None:
        """Have the walk spoken; return why that is not possible, or None."""
        from nightmode.voice.engine import engine

        try:
            engine()
        except NightmodeError as error:
            return refusal(error)
        from nightmode.app.aloud import Aloud

        self.silence()
        self.aloud = Aloud(self.walker, self.now_s, self.steady_s, self.voice_stopped)
        return None

    def end_voice(self) -> None:
        """Have the voice say good-bye, and go on without it."""
        if self.aloud is not None:
            self.aloud.end()
            self.aloud, self._parting = None, self.aloud

    def silence(self) -> None:
        """Stop every voice at once."""
        for voice in (self.aloud, self._parting):
            if voice is not None:
                voice.close()
        self.aloud = self._parting = None

    def voice_stopped(self, why: str) -> None:
        """Go on without the voice, which has ended by itself; the app shows why."""
        self.aloud = None

    # -- checklist --------------------------------------------------------------

    def check(self, item: str) -> None:
        """Tick an item of a checklist, or take the tick back."""
        self._checked ^= {item}

    def checked(self, items: Iterable[str]) -> list[int]:
        """Return the places of the items ticked."""
        return [place for place, item in enumerate(items) if item in self._checked]

    # -- keys -------------------------------------------------------------------

    def stands(self) -> None:
        """Note that a screen has been drawn: from now on a key is read at the moment it is pressed."""
        self._stands_from_s = min(self._stands_from_s, self.steady_s())

    def press(self, key: str, at_s: float, do: Callable[[], object]) -> None:
        """Do what a key stands for, unless it is held down; a moment later where that is not clear yet.

        at_s is when it was pressed, on the clock of steady_s.
        """
        if key in REPEATING:
            self._settle()
            do()
            return
        if at_s < self._stands_from_s:  # pressed before the screen could read it: its own time is not known
            at_s -= PAUSE_S
        found = self._hand.press(key, at_s, twice=key in ASKED_TWICE)
        self._settle(unless=key if found is Press.HELD else "")
        if found is Press.COUNTS:
            do()
        elif found is Press.PERHAPS:
            self._perhaps = key, do, self.set_timer(NEXT_REPEAT_S, self._settle)

    def _settle(self, unless: str = "") -> None:
        """Do what the last key stood for if that still waits, unless it is the key `unless`, now held."""
        if self._perhaps is not None:
            (key, do, timer), self._perhaps = self._perhaps, None
            timer.stop()
            if key != unless:
                do()

    def woken_by(self, event: events.Key | events.Paste) -> None:
        """Wake by a key or a paste, but not by the key that made the screen black and is still held."""
        if isinstance(event, events.Key):
            self.press(event.key, event.time, self.wake)
            if event.key in ASKED_TWICE:  # it has only woken the screen: two presses must still follow
                self._hand.forget(event.key)
        else:
            self.wake()

    # -- leaving ----------------------------------------------------------------

    def leave(self) -> None:
        """Leave in order; the exit code says whether everything is on the disk."""
        self.before_end()
        self.exit(return_code=UNSAVED if self.walker.session.unsaved else 0)
