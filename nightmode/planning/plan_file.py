"""A plan as a file for people: plain TOML with remarks, meant to be edited, and able to travel alone."""

import textwrap
from collections.abc import Mapping

from nightmode.model.plan import Plan
from nightmode.model.target import Target
from nightmode.setup.observer_file import table_text, toml_value

_WIDTH = 100


def plan_text(plan: Plan, remarks: Mapping[str, str], heading: str) -> str:
    """Return plan.toml with a heading and a remark above each target of which there is one, by name."""
    lines = [f"# {line}" for line in textwrap.wrap(heading, _WIDTH)]
    lines += ["", f"title = {toml_value(plan.title)}"]
    if plan.night:
        lines.append(f"night = {plan.night.isoformat()}")
    if plan.note:
        lines.append(f"note = {toml_value(plan.note)}")
    for name, value in (("site", plan.site), ("telescope", plan.telescope)):
        if isinstance(value, str):
            lines.append(f"{name} = {toml_value(value)}")
    parts = ["\n".join(lines) + "\n"]
    places = (("site", plan.site), ("telescope", plan.telescope), ("binoculars", plan.binoculars))
    for name, place in places:
        if place is not None and not isinstance(place, str):
            parts.append(table_text(f"[{name}]", name, place))
    for name in ("eyepiece", "barlow", "filter", "finder"):
        parts += [table_text(f"[[{name}]]", name, row) for row in getattr(plan, name)]
    parts += [_target(target, remarks.get(target.name, "")) for target in plan.target]
    return "\n".join(parts)


def _target(target: Target, remark: str) -> str:
    """Return one target with only the keys that say something."""
    lines = [f"# {remark}"] if remark else []
    lines.append("[[target]]")
    for key, value in target.model_dump(mode="json", exclude_defaults=True).items():
        lines.append(f"{key} = {toml_value(value)}")
    return "\n".join(lines) + "\n"
