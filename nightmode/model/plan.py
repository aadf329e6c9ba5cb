"""plan.toml: what to look at, and optionally when, from where and with what."""

from typing import Annotated

from pydantic import Discriminator, Field, Tag, model_validator

from nightmode.errors import UnfitError
from nightmode.model.base import FileName, Model, Name, NightDate, Remark, doubles, first_double
from nightmode.model.kit import AnyEyepiece, Barlow, Binoculars, Filter, Finder, Instrument, Telescope
from nightmode.model.site import Site
from nightmode.model.target import Target

#: So many targets that stand there twice are named beside the first; of more, their number.
_MOST_NAMED = 5


def _by_name_or_table(value: object) -> str:
    """Return which of two spellings a site or telescope has, so that an error speaks only of that one."""
    return "table" if isinstance(value, dict | Model) else "name"


def _one_or_list(value: object) -> str:
    """Return whether a key gives one instrument, in either spelling, or a list."""
    return "list" if isinstance(value, list | tuple) else _by_name_or_table(value)


Spelling, OneOrList = Discriminator(_by_name_or_table), Discriminator(_one_or_list)
SiteHere = Annotated[Annotated[Name, Tag("name")] | Annotated[Site, Tag("table")], Spelling]
TelescopeHere = Annotated[Annotated[Name, Tag("name")] | Annotated[Telescope, Tag("table")], Spelling]
TelescopesHere = Annotated[
    Annotated[Name, Tag("name")]
    | Annotated[Telescope, Tag("table")]
    | Annotated[tuple[TelescopeHere, ...], Field(max_length=10), Tag("list")],
    OneOrList,
]
PairHere = Annotated[Annotated[Name, Tag("name")] | Annotated[Binoculars, Tag("table")], Spelling]
BinocularsHere = Annotated[
    Annotated[Name, Tag("name")]
    | Annotated[Binoculars, Tag("table")]
    | Annotated[tuple[PairHere, ...], Field(max_length=10), Tag("list")],
    OneOrList,
]


class Plan(Model):
    """A plan. night is the local date of the evening.

    site and telescope are names from observer.toml or tables of the same shape (binoculars may be named
    under telescope, too); telescope and binoculars may be lists, for a night with
    several instruments. With eyepieces, Barlows, filters and finders inline as well, a plan can travel
    alone. elements names a file of comets and minor planets, from the plan's own folder on.
    """

    title: Name = "Untitled plan"
    night: NightDate | None = None
    note: Remark = ""
    elements: FileName | None = None
    site: SiteHere | None = None
    telescope: TelescopesHere | None = None
    binoculars: BinocularsHere | None = None
    eyepiece: tuple[AnyEyepiece, ...] = Field(default=(), max_length=60)
    barlow: tuple[Barlow, ...] = Field(default=(), max_length=10)
    filter: tuple[Filter, ...] = Field(default=(), max_length=20)
    finder: tuple[Finder, ...] = Field(default=(), max_length=5)
    target: tuple[Target, ...] = ()

    @property
    def instruments(self) -> tuple[str | Instrument, ...]:
        """The instruments named or given, telescopes first; empty if the observer's usual one is meant."""
        return (*_listed(self.telescope), *_listed(self.binoculars))

    @model_validator(mode="after")
    def _some_instruments_each_once(self) -> "Plan":
        for key in ("telescope", "binoculars"):
            if getattr(self, key) == ():
                raise UnfitError(f"has an empty list of {key}", f"name one, or leave {key} out")
        if double := first_double(
            instrument if isinstance(instrument, str) else instrument.name for instrument in self.instruments
        ):
            raise UnfitError(f'names the instrument "{double[2]}" twice', "keep one, or rename one")
        return self

    @model_validator(mode="after")
    def _some_targets_each_once(self) -> "Plan":
        if not self.target:
            raise UnfitError("holds no target", 'add [[target]] and under it a name, such as name = "M 13"')
        if twice := [*doubles(target.name for target in self.target)]:
            first, second, name = twice[0]
            others = [f"target {number} ({other})" for _, number, other in twice[1:]]
            more = f" and {len(others) - _MOST_NAMED} more" if len(others) > _MOST_NAMED else ""
            also = f" (and see {', '.join(others[:_MOST_NAMED])}{more})" if others else ""
            raise UnfitError(f'has "{name}" twice, as target {first} and target {second}', f"keep one{also}")
        return self


def _listed(given: object) -> tuple[str | Instrument, ...]:
    """Return what a key gives as a tuple, whether it is written as one value or as a list."""
    return () if given is None else given if isinstance(given, tuple) else (given,)
