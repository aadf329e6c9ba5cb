"""Sessions, entries and files that the tests in this folder write to the disk."""

import datetime as dt
import signal
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from nightmode.model.session import Entry, Event, Head, Outcome
from nightmode.words import Word

EVENING = dt.datetime(2027, 1, 9, 18, 0, tzinfo=dt.UTC)
HEAD = Head(
    plan="Winter from the hill",
    digest="0123456789abcdef",
    plan_file="/home/somebody/plans/winter.toml",
    night=dt.date(2027, 1, 9),
    site="Larch Hill",
    latitude_deg=47.1,
    longitude_deg=15.4,
    timezone="Europe/Vienna",
    telescope="Grey tube",
)

#: Texts that look like the journal's own, or like something else that could go wrong.
NASTY_NOTES = (
    "ok = true",
    'a "quoted" \'word\' and """three"""',
    "[[entry]]",
    "\n[[entry]]\nok = true\n",
    'x"\nok = true\n\n[[entry]]\nevent = "tick"\n',
    "back\\slash \\n \\u0000 \\",
    "[bold red]not markup[/]",
    "\x1b[31mred\x1b]8;;http://x\x07\x1b]52;c;AAAA\x07",
    "\u202eright to left\u2066 \u2028line\u2029",
    "🔭✨ 日本 Ωδ",
    "# no comment",
    "\x00\x7f\x85\x9b",
    "",
)


def entry(number: int = 0, note: str = "", **more: Any) -> Entry:
    """Return one tick that can be told from the others by its target."""
    return Entry(
        at=EVENING + dt.timedelta(seconds=number),
        event=Event.TICK,
        target=f"NGC {number}",
        outcome=Outcome.SEEN,
        altitude_deg=41.25,
        azimuth_deg=199.5,
        note=note,
        **more,
    )


def unchecked(number: int, text: str) -> Entry:
    """Return a tick with a note that no model would let through as it is."""
    return Entry.model_construct(**{**entry(number).model_dump(), "note": text})


def numbers(entries: tuple[Entry, ...]) -> list[int]:
    """Return the numbers that `entry` was given."""
    return [int(item.target.removeprefix("NGC ")) for item in entries if item.target]


texts = st.text(st.characters(codec="utf-8"), max_size=60) | st.sampled_from(NASTY_NOTES)
names = st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "S"]), min_size=1, max_size=30)
entries = st.builds(
    Entry,
    at=st.datetimes(
        dt.datetime(1970, 1, 1), dt.datetime(2100, 1, 1), timezones=st.timezones(), allow_imaginary=False
    ),
    event=st.sampled_from(Event),
    target=st.none() | names,
    outcome=st.none() | st.sampled_from(Outcome),
    altitude_deg=st.none() | st.floats(-90, 90),
    azimuth_deg=st.none() | st.floats(0, 360),
    eyepiece=st.none() | names,
    filter=st.none() | names,
    note=texts,
    seeing=st.none() | st.sampled_from(["I", "II", "III", "IV", "V"]),
    verdict=st.none() | st.sampled_from(Word),
    margin_dex=st.none() | st.floats(-20, 20),
    contrast_dex=st.none() | st.floats(-20, 20),
    experience=st.none() | st.floats(0.5, 10),
    sky_brightness=st.none() | st.floats(14, 22.5),
)


class Spy:
    """Stands in for a function of `os`, counts its calls together with others, and acts at one of them."""

    def __init__(self) -> None:
        self.calls: list[str] = []
        self.die_at: int | None = None

    def wrap(self, module: object, name: str) -> None:
        """Put a counting stand-in for module.name in its place."""
        real = getattr(module, name)

        def counted(*args: object, **kwargs: object) -> object:
            if self.die_at is not None and len(self.calls) == self.die_at:
                signal.raise_signal(signal.SIGKILL)
            self.calls.append(name)
            return real(*args, **kwargs)

        setattr(module, name, counted)


def write_once(path: Path, data: bytes) -> Path:
    """Write a file the plain way and return its path."""
    path.write_bytes(data)
    return path
