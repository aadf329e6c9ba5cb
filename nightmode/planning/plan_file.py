"""A plan as a TOML file with remarks, to be edited by people; it needs no other file."""

import textwrap
from collections.abc import Mapping

from nightmode.model.kit import Binoculars, Telescope
from nightmode.model.plan import Plan
from nightmode.model.site import Site
from nightmode.model.target import Target
from nightmode.setup.observer_file import table_text, toml_value

_WIDTH = 100


def plan_text(plan: Plan, remarks: Mapping[str, str], heading: str) -> str:
    """Return the text of plan.toml with a heading, and with the remarks (by name) above their targets."""
    lines = [f"# {line}" for line in textwrap.wrap(heading, _WIDTH)]
    lines += ["", f"title = {toml_value(plan.title)}"]
    if plan.night:
        lines.append(f"night = {plan.night.isoformat()}")
    if plan.elements:
        lines.append(f"elements = {toml_value(plan.elements)}")
    if plan.note:
        lines.append(f"note = {toml_value(plan.note)}")
    if isinstance(plan.site, str):
        lines.append(f"site = {toml_value(plan.site)}")
    if named := tuple(instrument for instrument in plan.instruments if isinstance(instrument, str)):
        lines.append(f"telescope = {toml_value(named if len(named) > 1 else named[0])}")
    parts = ["\n".join(lines) + "\n"]
    if isinstance(plan.site, Site):
        parts.append(table_text("[site]", "site", plan.site))
    parts += _instruments(plan)
    for name in ("eyepiece", "barlow", "filter", "finder"):
        parts += [table_text(f"[[{name}]]", name, row) for row in getattr(plan, name)]
    parts += [_target(target, remarks.get(target.name, "")) for target in plan.target]
    return "\n".join(parts)


def _instruments(plan: Plan) -> list[str]:
    """Return the tables of the instruments; an only one of its sort has a head in single brackets."""
    parts = []
    for name, sort in (("telescope", Telescope), ("binoculars", Binoculars)):
        given = [instrument for instrument in plan.instruments if isinstance(instrument, sort)]
        head = f"[{name}]" if len(given) == 1 else f"[[{name}]]"
        parts += [table_text(head, name, instrument) for instrument in given]
    return parts


def _target(target: Target, remark: str) -> str:
    """Return one target with only the keys that say something."""
    lines = [f"# {remark}"] if remark else []
    lines.append("[[target]]")
    for key, value in target.model_dump(mode="json", exclude_defaults=True).items():
        lines.append(f"{key} = {toml_value(value)}")
    return "\n".join(lines) + "\n"
