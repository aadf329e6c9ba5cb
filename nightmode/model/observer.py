"""observer.toml: the observer, the sites and the kit."""

import datetime as dt
import re
from collections.abc import Sequence
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from nightmode import defaults
from nightmode.errors import UnfitError
from nightmode.model.base import FileName, Model, Name, Remark, first_double
from nightmode.model.kit import AnyEyepiece, Barlow, Binoculars, Filter, Finder, Telescope
from nightmode.model.site import Site

PHRASES = (
    "bright",
    "faint, averted vision",
    "round",
    "elongated",
    "bright core",
    "resolved into stars",
    "mottled",
    "better with filter",
    "worth coming back",
)
BEFORE_DARK = (
    "red torch, dim, spare battery",
    "warm layers, hat and gloves, even in summer",
    "chair and a hot drink",
    "telescope outside to cool",
    "finder aligned on a far light or bright star",
    "eyepieces counted",
    "laptop backlight down, other windows closed",
    "phone charged, someone knows where you are",
)
#: The items of both lists that are for telescopes only.
OF_A_TELESCOPE = (
    "telescope outside to cool",
    "finder aligned on a far light or bright star",
    "eyepieces counted",
    "eyepieces counted back",
    "caps on, telescope dry before it is closed in",
)
PACKING_UP = (
    "eyepieces counted back",
    "caps on, telescope dry before it is closed in",
    "look round the ground with the red torch",
    "awake enough to drive? rest first if in doubt",
)


#: A shorter part of a name would be found in many.
SHORTEST_PART = 3
_HOURS = re.compile(r"([01]\d|2[0-3]):([0-5]\d)-([01]\d|2[0-3]):([0-5]\d)")


def read_hours(text: str) -> tuple[dt.time, dt.time]:
    """Return begin and end of observing hours within one night, noon to noon. UnfitError if they are none."""
    match = _HOURS.fullmatch(text.strip())
    if not match:
        raise UnfitError("is not from-to", 'write it like "20:00-00:30"')
    hour, minute, last_hour, last_minute = (int(part) for part in match.groups())
    first, last = dt.time(hour, minute), dt.time(last_hour, last_minute)
    if (last.hour < 12, last) <= (first.hour < 12, first):
        raise UnfitError("ends before it begins (a night is noon to noon)", 'write it like "20:00-00:30"')
    return first, last


def _hours(text: str) -> str:
    read_hours(text)
    return text.strip()


HoursText = Annotated[str, Field(max_length=20), AfterValidator(_hours)]


class Person(Model):
    """The `[observer]` table: eyes, habits, phrases, lists.

    experience says how much more light this observer needs than a young one in a laboratory: Crumey's
    (2014) field factor F. 1.4 is a practised eye in no hurry, 2.4 one that wants to be sure; larger is
    less practised. fist_deg is how wide the fist at the end of the outstretched arm looks. hours are those in
    which this observer usually observes, local time; None is all night.
    red_spot_longitude_deg is that of Jupiter's Red Spot in System II: it drifts, so it is the observer's to
    know.
    """

    pupil_mm: float = Field(default=defaults.PUPIL_MM, ge=2, le=9)
    experience: float = Field(default=defaults.FIELD_FACTOR, ge=0.5, le=10)
    min_altitude_deg: float = Field(default=15.0, ge=0, le=60)
    seeing_arcsec: float = Field(default=1.5, ge=0.3, le=10)
    fist_deg: float = Field(default=10.0, ge=5, le=15)
    hours: HoursText | None = None
    red_spot_longitude_deg: float | None = Field(default=None, ge=0, le=360)
    site: Name | None = None
    telescope: Name | None = None
    theme: Name = "ember"
    red: bool = False
    elements: FileName | None = None
    voice: Literal["all", "answers"] = "all"
    voice_words_per_min: int = Field(default=160, ge=80, le=300)
    dim_after_min: float = Field(default=5.0, ge=0, le=240)
    phrases: tuple[Remark, ...] = Field(default=PHRASES, max_length=9)
    before_dark: tuple[Remark, ...] = Field(default=BEFORE_DARK, max_length=30)
    packing_up: tuple[Remark, ...] = Field(default=PACKING_UP, max_length=30)


class Observer(Model):
    """The whole of observer.toml."""

    observer: Person = Person()
    site: tuple[Site, ...] = Field(default=(), max_length=50)
    telescope: tuple[Telescope, ...] = Field(default=(), max_length=30)
    binoculars: tuple[Binoculars, ...] = Field(default=(), max_length=20)
    eyepiece: tuple[AnyEyepiece, ...] = Field(default=(), max_length=60)
    barlow: tuple[Barlow, ...] = Field(default=(), max_length=10)
    filter: tuple[Filter, ...] = Field(default=(), max_length=20)
    finder: tuple[Finder, ...] = Field(default=(), max_length=5)

    def site_called(self, text: str) -> str:
        """Return the name of the site that a flag's text means: a part of it is enough if no other has it."""
        return _called(text, [site.name for site in self.site])

    def instrument_called(self, text: str) -> str:
        """Return the name of the telescope or binoculars that a flag's text means, as `site_called` does."""
        telescopes, binoculars = ([one.name for one in self.telescope], [one.name for one in self.binoculars])
        return _called(text, [*telescopes, *binoculars])

    @model_validator(mode="after")
    def _names_tell_apart(self) -> "Observer":
        for table in ("site", "telescope", "binoculars", "eyepiece", "barlow", "filter", "finder"):
            if double := first_double(item.name for item in getattr(self, table)):
                first, second, name = double
                raise UnfitError(
                    f'has the name "{name}" for {table} {first} and {table} {second}', "rename one"
                )
        return self


def _called(text: str, names: Sequence[str]) -> str:
    """Return the only name with `text` as a part, in any case; the text itself if it is whole or short."""
    wanted = text.strip().casefold()
    having = [name for name in names if wanted in name.casefold()]
    is_part = len(wanted) >= SHORTEST_PART and wanted not in [name.casefold() for name in names]
    return having[0] if is_part and len(having) == 1 else text
