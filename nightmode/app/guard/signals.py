"""Endings from outside, and faults that reach no message pump, led to the app's one way out."""

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


@contextlib.contextmanager
def endings(app: Guarded) -> Iterator[list[int]]:
    """While the app runs, lead SIGTERM, SIGHUP, SIGINT and crashes of threads to it.

    Give the signals that have asked for an end. The first one ends the app in order, on its event loop; a
    second one, should the loop be stuck, at once.
    """
    asked: list[int] = []

    def end(number: int, frame: FrameType | None) -> None:
        asked.append(number)
        if app.terminal is not None and app.terminal.hurries_since_s is None:
            app.terminal.hurries_since_s = time.monotonic()
        if len(asked) > 1 or not app.call_on_loop(app.end_by_signal, number):
            raise SystemExit(end_code(number))

    def thread_fault(args: threading.ExceptHookArgs) -> None:
        error = args.exc_value or RuntimeError("a thread ended without saying why")
        if not app.call_on_loop(app.fault, error):
            write_log(error)

    handlers = {number: signal.signal(number, end) for number in _ENDINGS}
    hook, threading.excepthook = threading.excepthook, thread_fault
    try:
        yield asked
    finally:
        threading.excepthook = hook
        for number, handler in handlers.items():
            signal.signal(number, handler)


def catch_loop_faults(app: Guarded) -> None:
    """Lead exceptions in callbacks and forgotten tasks of the running event loop to the app."""

    def fault(loop: asyncio.AbstractEventLoop, context: dict[str, Any]) -> None:
        app.fault(context.get("exception") or RuntimeError(str(context.get("message"))))

    asyncio.get_running_loop().set_exception_handler(fault)
