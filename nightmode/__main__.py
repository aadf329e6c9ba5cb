"""Lets `python -m nightmode` do what the `nightmode` command does."""

from nightmode.cli.main import entry

entry()
