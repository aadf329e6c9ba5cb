"""Leads signals, and faults outside the message pump, to the app's one way to end."""

import asyncio
import contextlib
import signal
import threading
import time
from collections.abc import Iterator
from types import FrameType
from typing import Any

from nightmode.app.guard.guarded import Guarded
from nightmode.light.terminal import end_code, write_log

_ENDINGS = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP", "SIGINT") if hasattr(signal, name)]
#: An ending in order takes a small part of this.
IN_ORDER_S = 1.0
#: After one request the app ends within this time, whatever blocks the loop.
LATEST_S = 3.0
_ALARM = [signal.SIGALRM] if hasattr(signal, "SIGALRM") else []


@contextlib.contextmanager
def endings(app: Guarded) -> Iterator[list[int]]:
    """While the app runs, lead SIGTERM, SIGHUP, SIGINT and crashes of threads to it.

    Yield the list of signals that have asked for an end. The first signal ends the app in order, on its event
    loop. A signal IN_ORDER_S later ends it at once, in case the loop is stuck. One that comes sooner changes
    nothing: an exit raised while the app is being taken down could break it anywhere, and leave its threads
    waiting.
    """
    asked: list[int] = []
    first_s = [0.0]

    def end(number: int, frame: FrameType | None) -> None:
        asked.append(number)
        if len(asked) == 1:
            first_s[0] = time.monotonic()
            _ask_again(LATEST_S)
        if app.terminal is not None and app.terminal.hurries_since_s is None:
            app.terminal.hurries_since_s = time.monotonic()
        is_late = time.monotonic() - first_s[0] > IN_ORDER_S
        if is_late or (len(asked) == 1 and not app.call_on_loop(app.end_by_signal, number)):
            raise SystemExit(end_code(asked[0]))

    def thread_fault(args: threading.ExceptHookArgs) -> None:
        error = args.exc_value or RuntimeError("a thread ended without saying why")
        if not app.call_on_loop(app.fault, error):
            write_log(error)

    handlers = {number: signal.signal(number, end) for number in (*_ENDINGS, *_ALARM)}
    hook, threading.excepthook = threading.excepthook, thread_fault
    try:
        yield asked
    finally:
        _ask_again(0.0)
        threading.excepthook = hook
        for number, handler in handlers.items():
            signal.signal(number, handler)


def _ask_again(after_s: float) -> None:
    """Ask for the end once more after so many seconds; 0 cancels that."""
    if _ALARM:
        signal.setitimer(signal.ITIMER_REAL, after_s)


def catch_loop_faults(app: Guarded) -> None:
    """Lead exceptions in callbacks and tasks of the running event loop to the app."""

    def fault(loop: asyncio.AbstractEventLoop, context: dict[str, Any]) -> None:
        app.fault(context.get("exception") or RuntimeError(str(context.get("message"))))

    asyncio.get_running_loop().set_exception_handler(fault)
