"""Finding a target by its name; one that the plan does not have is added to the night."""

from collections.abc import Callable

from nightmode.app.say import Say, refusal
from nightmode.app.walker import Walker
from nightmode.errors import NightmodeError
from nightmode.night.table import Night
from nightmode.walk.state import target_key

#: Opens the night again with a target of that name in one more row; NightmodeError if nobody knows it.
Also = Callable[[str], Night]


def find(walker: Walker, name: str, also: Also | None) -> Say:
    """Show the target of that name, under whichever of its names the plan has it; return what to say.

    Without `also` nothing can be added.
    """
    from nightmode.history.objects import identify  # reads the catalogue

    asked = identify(name)
    keys = {target_key(known) for known in (name, asked.name, *asked.other_names)}
    rows = [row for row, target in enumerate(walker.night.targets) if target.chance.key in keys]
    if rows:
        walker.show(rows[0])
        return Say(f"this is {walker.name(rows[0])}")
    if also is None:
        return Say(f"{asked.name} is not in this plan")
    try:
        walker.take_over(also(asked.name))
    except NightmodeError as error:
        return refusal(error)
    walker.show(len(walker.night.targets) - 1)
    return Say(f"{asked.name} is added for tonight")
