"""What `draft` says about the plan that it has written."""

from nightmode.planning.draft import Draft
from nightmode.planning.request import Wishes


def drafted_account(drafted: Draft, wishes: Wishes, path: str) -> str:
    """Return how many targets were written to a file, from how many, and how long there is for each."""
    count = len(drafted.picks)
    lines = [f"Wrote {count} target{'s' * (count != 1)} to {path}"]
    if drafted.up:  # in an evening on the Moon alone, nothing fixed is judged
        fits = len(drafted.ranked)
        lines.append(f"  {drafted.known:,} known, {drafted.up:,} up in these hours, {fits:,} of them fit")
    if count < wishes.count:
        lines.append(f"  {wishes.count} were asked for: no more can be reached in these hours")
    lines.append(f"  {wishes.pace_s / 60:.0f} minutes each; --why NAME says why one was left out")
    return "\n".join(lines)
