"""The guarded driver for the Windows console."""

from textual.drivers.windows_driver import WindowsDriver

from nightmode.app.guard.driver import Guard


class RedWindowsDriver(Guard, WindowsDriver):
    """The Windows console, guarded by the filter and by rewriting what is written; not measured."""
