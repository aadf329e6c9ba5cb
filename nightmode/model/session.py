"""session.toml, the journal: a head, then one entry for every event of the night."""

from enum import StrEnum
from typing import Annotated, Literal
from zoneinfo import ZoneInfo

from pydantic import BeforeValidator, Field

from nightmode.model.base import Instant, Model, Name, NightDate, Note, storable
from nightmode.model.site import zone_of
from nightmode.words import Word


class Outcome(StrEnum):
    """The outcome of a look at a target."""

    SEEN = "seen"
    SUSPECTED = "suspected"
    NOT_SEEN = "not seen"
    SET_ASIDE = "set aside"


#: The outcomes of a look, the best first; a target set aside has not been looked at.
LOOKED = (Outcome.SEEN, Outcome.SUSPECTED, Outcome.NOT_SEEN)


class Event(StrEnum):
    """What kind of event an entry records."""

    TICK = "tick"
    NOTE = "note"
    UNDO = "undo"
    CLOUDS = "clouds"
    CLEAR = "clear"
    LIGHT = "light"
    SKY = "sky"
    PAUSE = "pause"
    RESUME = "resume"
    CHECK = "check"
    ADD = "add"


Seeing = Literal["I", "II", "III", "IV", "V"]
Dew = Literal["none", "some", "heavy"]


class Entry(Model):
    """One `[[entry]]`. `at` has an offset; angles are those of the target at that moment.

    telescope is there where the plan has several instruments; transparency runs from 1, milky, to 5, as clear
    as it gets there.
    verdict, margin_dex and contrast_dex are what the program said of it then, experience what the contrast
    counted on.
    """

    at: Instant
    event: Annotated[Event, Field(strict=False)]
    target: Name | None = None
    outcome: Annotated[Outcome, Field(strict=False)] | None = None
    altitude_deg: float | None = Field(default=None, ge=-90, le=90)
    azimuth_deg: float | None = Field(default=None, ge=0, le=360)
    telescope: Name | None = None
    eyepiece: Name | None = None
    filter: Name | None = None
    verdict: Annotated[Word, Field(strict=False)] | None = None
    margin_dex: float | None = Field(default=None, ge=-20, le=20)
    contrast_dex: float | None = Field(default=None, ge=-20, le=20)
    experience: float | None = Field(default=None, ge=0.5, le=10)
    note: Note = ""
    seeing: Seeing | None = None
    transparency: int | None = Field(default=None, ge=1, le=5)
    dew: Dew | None = None
    sky_brightness: float | None = Field(default=None, ge=14, le=22.5)


class Head(Model):
    """The head of a session: which plan, which night, where, with what."""

    format: Literal[1] = 1
    plan: Name
    digest: Annotated[str, Field(pattern=r"^[0-9a-f]{8,64}$")]
    plan_file: Annotated[str, BeforeValidator(storable), Field(max_length=4096)] = ""
    night: NightDate
    site: Name
    latitude_deg: float | None = Field(default=None, ge=-90, le=90)
    longitude_deg: float | None = Field(default=None, ge=-180, le=360)
    timezone: Name = "UTC"
    telescope: Name
    rehearsal: bool = False

    @property
    def zone(self) -> ZoneInfo:
        """The site's time zone; UTC where this machine does not know it, so that the record stays legible."""
        return zone_of(self.timezone) or ZoneInfo("UTC")
