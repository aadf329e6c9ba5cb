"""A night screen that holds every common widget, and keys that crash it in every way.

`main` is a whole program: [--log FILE] [--stay-red] [--bad-start] [--fault].
"""

import ctypes
import os
import threading
from pathlib import Path
from typing import ClassVar

from nightmode.errors import NightmodeError
from nightmode.light.terminal import Terminal, say_red


def make_specimen(base=None):
    from rich.text import Text
    from textual.binding import Binding
    from textual.containers import Horizontal
    from textual.widgets import Checkbox, DataTable, Input, Label, OptionList, ProgressBar, Static

    from nightmode.app.guard.red_app import RedApp

    class Specimen(base or RedApp):
        BINDINGS: ClassVar = [
            Binding("plus", "glow(1)"),
            Binding("minus", "glow(-1)"),
            Binding("b", "black"),
            Binding("w", "crash_widget"),
            Binding("t", "crash_thread"),
            Binding("r", "crash_worker"),
            Binding("y", "crash_timer"),
            Binding("o", "crash_loop"),
            Binding("n", "native"),
            Binding("i", "field"),
            Binding("q", "leave"),
        ]
        CSS = "DataTable, OptionList { height: 5; width: 1fr; } Horizontal { height: 5; }"
        counter = 0

        def compose(self):
            yield Label("NGC 7789", id="name")
            yield Static("altitude 52.3° rising", markup=False)
            yield Static(Text("link", style="link https://example.invalid"))
            yield Static("[@click=app.bell]a link style[/]")
            yield Static(
                "[bold white on blue]foreign colours[/] [dim]dim[/] [reverse]turned[/] [blink]blink[/]"
            )
            yield Static("counter 0", id="counter")
            with Horizontal():
                yield OptionList(*[f"option {n}" for n in range(30)])
                yield DataTable()
            yield Checkbox("packed", value=True)
            yield ProgressBar(total=10)
            yield Input(value="a note", id="field")

        def on_mount(self):
            table = self.query_one(DataTable)
            table.add_columns("target", "altitude")
            for n in range(30):
                table.add_row(f"target {n}", f"{n}°")
            self.query_one(ProgressBar).advance(4)
            self.query_one(OptionList).focus()

        def on_key(self, event):
            if event.key == "space":
                self.counter += 1
                self.query_one("#counter", Static).update(f"counter {self.counter}")

        def action_glow(self, step):
            self.glow_up() if step > 0 else self.glow_down()

        def action_black(self):
            self.go_black()

        def action_field(self):
            self.query_one(Input).focus()

        def action_leave(self):
            self.exit(message="left in order")

        def action_crash_widget(self):
            self.query_one("#name").render = lambda: 1 / 0
            self.query_one("#name").refresh(layout=True)

        def action_crash_thread(self):
            threading.Thread(target=lambda: 1 / 0).start()

        def action_crash_worker(self):
            self.run_worker(lambda: 1 / 0, thread=True)

        def action_crash_timer(self):
            self.set_timer(0.01, lambda: 1 / 0)

        def action_crash_loop(self):
            self.call_on_loop(lambda: 1 / 0)

        def action_native(self):
            for fd in (1, 2):
                os.write(fd, b"white text of a native library\n")
            ctypes.CDLL(None).puts(b"and from its own buffer")
            ctypes.CDLL(None).fflush(None)

    return Specimen


def main(arguments, base=None):
    if "--bad-start" in arguments:
        say_red(str(NightmodeError("plan.toml", "there is no such file", "name one that exists")))
        return 2
    log = Path(arguments[arguments.index("--log") + 1]) if "--log" in arguments else None
    with Terminal(log, stay_red="--stay-red" in arguments) as terminal:
        if "--fault" in arguments:
            raise RuntimeError("a fault before the screen")
        from nightmode.app.guard.red_app import play

        return play(make_specimen(base)(terminal=terminal), terminal)
