"""The base of the night screen: an App that can show only red, and little of it."""

import asyncio
import os
import time
from collections.abc import Callable, Sequence
from typing import Any, ClassVar, TypeVar

from rich.color import ColorSystem
from textual import events
from textual.app import App
from textual.binding import Binding, BindingType
from textual.driver import Driver
from textual.filter import LineFilter
from textual.timer import Timer

from nightmode.app.guard.driver import Guard
from nightmode.app.guard.levels import BLACK, DEFAULT_GLOW, GLOW_STEPS, Paint, paint, role_light
from nightmode.app.guard.line_filter import RedFilter
from nightmode.app.guard.signals import catch_loop_faults, endings
from nightmode.app.guard.theme import textual_theme
from nightmode.app.theme import EMBER
from nightmode.light.depth import Depth
from nightmode.light.terminal import FAULT_CODE, FAULT_LINE, TAKE_MOUSE, Terminal, end_code, write_log
from nightmode.model.theme import Theme

Result = TypeVar("Result")
SIGHUP = 1


class RedApp(App[Result]):
    """An App guarded by theme, line filter and driver, on a terminal that is guarded as well.

    Subclass it; override `action_ask_leave` (ctrl+q, ctrl+c) and `before_end` (signals, faults). Methods for
    keys: `glow_up`, `glow_down`, `go_black`. Waking needs no key of its own.
    """

    ENABLE_COMMAND_PALETTE = False
    TOOLTIP_DELAY = 1e9
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q,ctrl+c", "ask_leave", "leave", show=False, priority=True)
    ]
    DEFAULT_CSS = """
    Screen { background: #000000; scrollbar-size: 1 1; }
    ToastRack, Tooltip { display: none; }
    """

    def __init__(
        self,
        theme: Theme = EMBER,
        terminal: Terminal | None = None,
        *,
        glow: int = DEFAULT_GLOW,
        dim_after_s: float | None = None,
        steady_s: Callable[[], float] = time.monotonic,
        **options: Any,
    ) -> None:
        """Guard the app before anything is drawn.

        theme        red levels
        terminal     the open terminal, or None in tests
        glow         step to start with, 0 to GLOW_STEPS - 1
        dim_after_s  seconds without a key after which the screen dims to the lowest step; None: never
        steady_s     a clock that only runs forward, for the dimming
        """
        self.red_theme = theme
        self.terminal = terminal
        self.depth = terminal.depth if terminal is not None else Depth.TRUE
        self.glow = min(max(glow, 0), GLOW_STEPS - 1)
        self.is_black = False
        self.is_dimmed = False
        self._dim_after_s = dim_after_s
        self._steady_s = steady_s
        self._last_key_s = steady_s()
        self._dim_timer: Timer | None = None
        self._is_ending = False
        self._tints = terminal is not None and terminal.takes_palette
        self._red_filter = RedFilter(self._paint())
        super().__init__(driver_class=_driver(), **options)
        self.console._color_system = ColorSystem.TRUECOLOR  # the driver translates for the terminal
        self.animation_level = "none"
        self.register_theme(textual_theme(theme))
        self.theme = f"red-{theme.name}"

    # -- light ------------------------------------------------------------------

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Return the one filter; those that NO_COLOR and the environment would add are left out."""
        return [self._red_filter]

    @property
    def shown_glow(self) -> int:
        """The step of glow on the screen: the lowest while dimmed."""
        return 0 if self.is_dimmed else self.glow

    def role_light(self) -> dict[str, float]:
        """Return the light of each role at the glow shown, divided by what text is meant to give."""
        return role_light(self.red_theme.red, self.shown_glow, self.depth, self._tints)

    def _paint(self) -> Paint:
        return paint(self.red_theme.red, self.shown_glow, self.depth, self._tints)

    def glow_up(self) -> None:
        """Make the screen one even step brighter, if there is one."""
        self.set_glow(self.glow + 1)

    def glow_down(self) -> None:
        """Make the screen one even step darker, if there is one."""
        self.set_glow(self.glow - 1)

    def set_glow(self, glow: int) -> None:
        """Set the step of glow, kept within 0 to GLOW_STEPS - 1, and paint the screen anew."""
        self.glow = min(max(glow, 0), GLOW_STEPS - 1)
        self._paint_anew()

    def go_black(self) -> None:
        """Light nothing at all, until any key is pressed; that key does nothing else."""
        self.is_black = True
        self._paint_anew()

    @property
    def is_dark(self) -> bool:
        """Whether the screen is black, or dimmed for want of keys."""
        return self.is_black or self.is_dimmed

    @property
    def wakes_by_any_key(self) -> bool:
        """Whether a key on a dark screen does nothing but wake it; an app that is heard overrides this."""
        return True

    def wake(self) -> bool:
        """End blackness and dimming; return whether there was any to end."""
        was_dark = self.is_dark
        self._last_key_s = self._steady_s()
        self.is_black = self.is_dimmed = False
        if was_dark:
            self._paint_anew()
        return was_dark

    def palette_sequence(self) -> str:
        """Return the sequence that sets the palette for the present glow, empty where none is needed."""
        if self.terminal is None:
            return ""
        return self.terminal.paint(dict(self._paint().palette))

    def take_screen_again(self) -> None:
        """Paint everything, the terminal's own colours too: something else may have written on it."""
        if isinstance(self._driver, Guard) and self.terminal is not None and not self._is_ending:
            self._driver.write_palette(self.terminal.own() + TAKE_MOUSE + "\x1b[?1049h\x1b[?25l\x1b[?7l")
            self._driver.write("\x1b[m\x1b[2J")
            self._paint_anew()

    def _paint_anew(self) -> None:
        self._red_filter = RedFilter(BLACK if self.is_black else self._paint())
        if isinstance(self._driver, Guard):
            self._driver.write_palette(self.palette_sequence())
        for screen in self.screen_stack:
            screen.refresh()
        self.repainted()

    def repainted(self) -> None:
        """Follow a change of glow, where a page shows more or less; to be overridden."""

    # -- keys -------------------------------------------------------------------

    async def on_event(self, event: events.Event) -> None:
        """Let a key on a dark screen only wake it; pass everything else on."""
        if isinstance(event, events.Key | events.Paste) and not event.is_forwarded:
            if self.is_dark and self.wakes_by_any_key:
                event.stop()
                self.woken_by(event)
                return
            if self.is_dimmed:
                self.wake()
            self._last_key_s = self._steady_s()
        await super().on_event(event)

    def woken_by(self, event: events.Key | events.Paste) -> None:
        """Wake; an app that knows better which keys count overrides this."""
        self.wake()

    def on_mount(self) -> None:
        """Start to watch for a time without keys."""
        if self._dim_after_s is not None:
            self._dim_timer = self.set_timer(self._dim_after_s, self._dim_if_idle)

    def _dim_if_idle(self) -> None:
        """Dim after the time without keys; one timer, set again for what is left of that time."""
        assert self._dim_after_s is not None
        left_s = self._dim_after_s - (self._steady_s() - self._last_key_s)
        if left_s <= 0 and self.glow > 0 and not self.is_black and not self.is_dimmed:
            self.is_dimmed = True
            self._paint_anew()
        self._dim_timer = self.set_timer(left_s if left_s > 0 else self._dim_after_s, self._dim_if_idle)

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Keep the cursor of a field from blinking."""
        if hasattr(event.widget, "cursor_blink"):
            event.widget.cursor_blink = False

    def action_ask_leave(self) -> None:
        """Leave, without asking; an app that asks overrides this."""
        self.exit()

    async def action_quit(self) -> None:
        """Leave by the same door as every other key."""
        self.action_ask_leave()

    # -- endings and faults -----------------------------------------------------

    def before_end(self) -> None:
        """Save what is not saved; called before a signal or a fault ends the app. To be overridden."""

    def end_by_signal(self, number: int) -> None:
        """End in order with exit code 128 + number."""
        self._end(end_code(number))

    def terminal_gone(self) -> None:
        """End as if hung up; may be called from any thread, and more than once."""
        self.call_on_loop(self.end_by_signal, SIGHUP)

    def fault(self, error: BaseException) -> None:
        """Write the traceback to the log and end with one red line and exit code 70."""
        write_log(error)
        if self.terminal is not None:
            self.terminal.last_words = FAULT_LINE
        self._end(FAULT_CODE)

    def call_on_loop(self, callback: Callable[..., None], *arguments: Any) -> bool:
        """Call back soon on the event loop, from any thread; return False if none is running."""
        loop: asyncio.AbstractEventLoop | None = self._loop
        if loop is None or loop.is_closed():
            return False
        try:
            loop.call_soon_threadsafe(callback, *arguments)
        except RuntimeError:  # closed since
            return False
        return True

    def _end(self, code: int) -> None:
        if self._is_ending:
            return
        self._is_ending = True
        try:
            self.before_end()
        except Exception as error:  # noqa: BLE001 - nothing may keep the terminal from being given back
            write_log(error)
        self.exit(return_code=code)

    def wake_reader(self) -> None:
        """Have the thread that reads keys end, if the app was cut short: the program would wait for it."""
        if isinstance(self._driver, Guard):
            self._driver.stop_reading()

    def on_load(self) -> None:
        """Catch faults of the event loop from the start."""
        catch_loop_faults(self)
        if self.terminal is not None:
            self.terminal.on_gone = self.terminal_gone

    def _handle_exception(self, error: Exception) -> None:
        """Take the fault of a widget, timer or worker; Textual's own way prints a white traceback."""
        if self._exception is None:
            self._exception = error
            self._exception_event.set()
        self.fault(error)
        self._return_code = FAULT_CODE
        self._close_messages_no_wait()

    def _fatal_error(self) -> None:
        """Print nothing: the traceback is in the log."""

    def _print_error_renderables(self) -> None:
        """Print nothing outside the guard; what `exit` was given to say becomes the terminal's last words."""
        if self._exit_renderables and self.terminal is not None and not self.terminal.last_words:
            self.terminal.last_words = str(self._exit_renderables[0])
        self._exit_renderables.clear()

    # -- what Textual would light -----------------------------------------------

    def bell(self) -> None:
        """Stay silent: a visual bell is a flash."""

    def notify(self, message: str, **options: Any) -> None:
        """Show nothing that pops up."""


def _driver() -> type[Driver]:
    if os.name == "nt":
        from nightmode.app.guard.windows import RedWindowsDriver

        return RedWindowsDriver
    from nightmode.app.guard.posix import RedLinuxDriver

    return RedLinuxDriver


def play(app: RedApp[Any], terminal: Terminal) -> int:
    """Run the app on its open terminal and return the exit code."""
    with endings(app) as asked:
        terminal.heed_ending()
        try:
            app.run(mouse=False)
        except Exception as error:  # noqa: BLE001 - the last catcher before the terminal is given back
            write_log(error)
            if asked:  # what breaks while everything is being taken down is no fault
                return end_code(asked[0])
            terminal.last_words = FAULT_LINE
            return FAULT_CODE
        finally:
            app.wake_reader()
    return app.return_code or 0
