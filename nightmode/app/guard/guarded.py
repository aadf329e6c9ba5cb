"""What the guard's drivers and signal handlers ask of the app they serve."""

from collections.abc import Callable
from typing import Any, Protocol

from nightmode.light.depth import Depth
from nightmode.light.terminal import Terminal


class Guarded(Protocol):
    """An app that can be painted again and ended from outside; `RedApp` is one."""

    terminal: Terminal | None
    depth: Depth

    def palette_sequence(self) -> str:
        """Return the sequence that sets the palette for the present glow."""

    def take_screen_again(self) -> None:
        """Paint everything, the terminal's own colours too."""

    def terminal_gone(self) -> None:
        """End as if hung up; may be called from any thread."""

    def call_on_loop(self, callback: Callable[..., None], *arguments: Any) -> bool:
        """Call back soon on the event loop, from any thread; return False if none is running."""

    def end_by_signal(self, number: int) -> None:
        """End in order with exit code 128 + number."""

    def fault(self, error: BaseException) -> None:
        """Write the traceback to the log and end."""
