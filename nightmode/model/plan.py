"""plan.toml: what to look at, and optionally when, from where and with what."""

import datetime as dt

from pydantic import Field

from nightmode.model.base import Model, Name, Remark
from nightmode.model.kit import Barlow, Eyepiece, Filter, Finder, Telescope
from nightmode.model.site import Site
from nightmode.model.target import Target


class Plan(Model):
    """A plan. night is the local date of the evening.

    site and telescope are names from observer.toml or tables of the same shape; with eyepieces, Barlows,
    filters and finders inline as well, a plan can travel alone.
    """

    title: Name = "Untitled plan"
    night: dt.date | None = None
    note: Remark = ""
    site: Name | Site | None = None
    telescope: Name | Telescope | None = None
    eyepiece: tuple[Eyepiece, ...] = Field(default=(), max_length=60)
    barlow: tuple[Barlow, ...] = Field(default=(), max_length=10)
    filter: tuple[Filter, ...] = Field(default=(), max_length=20)
    finder: tuple[Finder, ...] = Field(default=(), max_length=5)
    target: tuple[Target, ...] = Field(default=(), max_length=2000)
