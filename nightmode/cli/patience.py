"""A line for those who wait: that the work is still going on."""

import contextlib
from collections.abc import Iterator

#: Seconds after which a line says so.
PATIENCE_S = 2.0


@contextlib.contextmanager
def patience(doing: str) -> Iterator[None]:
    """Say on standard error that the program is still doing something, if it takes longer than usual."""
    import threading

    from nightmode.light.terminal import say_red

    timer = threading.Timer(PATIENCE_S, say_red, (f"still {doing} ...",))
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
