"""plan.toml: what to look at, and optionally when, from where and with what."""

from typing import Annotated

from pydantic import Discriminator, Field, Tag, model_validator

from nightmode.errors import UnfitError
from nightmode.model.base import FileName, Model, Name, NightDate, Remark, first_double
from nightmode.model.kit import AnyEyepiece, Barlow, Binoculars, Filter, Finder, Telescope
from nightmode.model.site import Site
from nightmode.model.target import Target


def _by_name_or_table(value: object) -> str:
    """Say which of the two spellings a site or telescope has, so that an error speaks of that one only."""
    return "table" if isinstance(value, dict | Model) else "name"


Spelling = Discriminator(_by_name_or_table)
SiteHere = Annotated[Annotated[Name, Tag("name")] | Annotated[Site, Tag("table")], Spelling]
TelescopeHere = Annotated[Annotated[Name, Tag("name")] | Annotated[Telescope, Tag("table")], Spelling]


class Plan(Model):
    """A plan. night is the local date of the evening.

    site and telescope are names from observer.toml or tables of the same shape (binoculars are named as
    telescope, or given as a table of their own); with eyepieces, Barlows,
    filters and finders inline as well, a plan can travel alone. elements names a file of comets and minor
    planets, from the plan's own folder on.
    """

    title: Name = "Untitled plan"
    night: NightDate | None = None
    note: Remark = ""
    elements: FileName | None = None
    site: SiteHere | None = None
    telescope: TelescopeHere | None = None
    binoculars: Binoculars | None = None
    eyepiece: tuple[AnyEyepiece, ...] = Field(default=(), max_length=60)
    barlow: tuple[Barlow, ...] = Field(default=(), max_length=10)
    filter: tuple[Filter, ...] = Field(default=(), max_length=20)
    finder: tuple[Finder, ...] = Field(default=(), max_length=5)
    target: tuple[Target, ...] = ()

    @model_validator(mode="after")
    def _one_instrument(self) -> "Plan":
        if self.telescope is not None and self.binoculars is not None:
            raise UnfitError("gives both telescope and binoculars", "keep one")
        return self

    @model_validator(mode="after")
    def _some_targets_each_once(self) -> "Plan":
        if not self.target:
            raise UnfitError("holds no target", 'add [[target]] and under it a name, such as name = "M 13"')
        if double := first_double(target.name for target in self.target):
            first, second, name = double
            raise UnfitError(f'has "{name}" twice, as target {first} and target {second}', "keep one")
        return self
