"""The specimen with some of the guard taken away, to prove that the meter sees it."""

from pathlib import Path

from light import specimen
from textual.app import App

from nightmode.app.guard import driver, red_app
from nightmode.light import terminal


def without_filter_and_driver(base):
    driver.guarded = lambda data, depth: data

    class Bare(base):
        def get_line_filters(self):
            return App.get_line_filters(self)

    return Bare


def without_own_colours(base):
    terminal.own_colours = lambda depth, ink: ""
    return base


def without_anything(base):
    without_own_colours(base)

    class Stock(without_filter_and_driver(base)):
        def _handle_exception(self, error):
            App._handle_exception(self, error)

        def _fatal_error(self):
            App._fatal_error(self)

        def _print_error_renderables(self):
            with Path("/dev/tty").open("w") as self.error_console.file:
                App._print_error_renderables(self)

    return Stock


def main(arguments):
    """Run the specimen; the last argument says which layer it goes without."""
    *arguments, layer = arguments
    return specimen.main(arguments, globals()[f"without_{layer}"](red_app.RedApp))
