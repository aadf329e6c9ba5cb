"""`nightmode kit`: what each combination gives, and what to think of a power printed on a box."""

import argparse
import re
from pathlib import Path

from nightmode.cli.arguments import Commands, add_observer
from nightmode.errors import NightmodeError


def add(commands: Commands) -> None:
    """Add the command."""
    parser = commands.add_parser(
        "kit",
        help="what each eyepiece gives; a printed power checked",
        description="Every combination that can be put together: power, true field, exit pupil, what it is "
        "good for; and the limits of the telescope.",
        epilog="example: nightmode kit plan.toml --claim 525",
    )
    parser.add_argument(
        "plan", type=Path, nargs="?", metavar="PLAN", help="a plan with a telescope; else observer.toml's"
    )
    add_observer(parser)
    parser.add_argument("--claim", metavar="POWER", help="answer a power printed on a box, in one sentence")
    parser.add_argument("--json", action="store_true", help="one JSON object")
    parser.add_argument("--red", action="store_true", help="print in red on black")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the kit, or the answer to a claim."""
    from nightmode.cli.record import as_json
    from nightmode.files.observer import load_observer
    from nightmode.files.toml import read_toml
    from nightmode.light.terminal import red_stdout
    from nightmode.model.plan import Plan
    from nightmode.report.kit import claim, kit_json, kit_reports, kit_table

    claimed = _power(args.claim)
    plan = read_toml(args.plan, Plan) if args.plan else None
    reports = kit_reports(plan, load_observer(args.observer))
    first, *others = reports
    with red_stdout(args.red or first.person.red):
        if args.json:
            found = kit_json(first, claimed)
            if others:
                found["others"] = [kit_json(report, claimed) for report in others]
            print(as_json(found))
        elif claimed is None:
            print("\n\n".join(map(kit_table, reports)))
        else:
            named = [f"{report.kit.telescope.name}: " if others else "" for report in reports]
            print(
                "\n".join(name + claim(report, claimed) for name, report in zip(named, reports, strict=True))
            )
    return 0


def _power(text: str | None) -> float | None:
    if text is None:
        return None
    if re.fullmatch(r"\d{1,5}(\.\d+)?[x×]?", text.strip(), re.ASCII | re.IGNORECASE):
        value = float(text.strip().rstrip("xX×"))
        if value >= 1.0:
            return value
    raise NightmodeError("--claim", f"{text!r} is not a power", "write a number like 525")
