"""Flags that several commands share."""

import argparse
from pathlib import Path
from typing import TypeAlias

#: The object to which a command adds itself.
Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


def add_plan(parser: argparse.ArgumentParser, *, is_needed: bool = True) -> None:
    """Add the plan, and the flags for observer and night."""
    many = None if is_needed else "?"
    parser.add_argument("plan", type=Path, metavar="PLAN", nargs=many, help="a plan file (plan.toml)")
    add_observer(parser)
    parser.add_argument(
        "--night", metavar="DATE", help="the evening's date, YYYY-MM-DD; else the plan's, else tonight"
    )


def add_observer(parser: argparse.ArgumentParser) -> None:
    """Add the flag for another observer.toml."""
    parser.add_argument(
        "--observer", type=Path, metavar="FILE", help="observer.toml; else the one in your settings folder"
    )


def add_output(parser: argparse.ArgumentParser) -> None:
    """Add the flags that `record.hand_over` reads: where a text goes, and whether it is printed in red."""
    parser.add_argument("-o", "--output", metavar="FILE", type=Path, help="write a file; else print it")
    parser.add_argument("--force", action="store_true", help="replace the file if it is there")
    parser.add_argument("--red", action="store_true", help="print in red on black")
