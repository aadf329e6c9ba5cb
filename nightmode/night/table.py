"""The night as a table, which screen and reports read without working out any astronomy."""

import datetime as dt
from collections.abc import Sequence
from functools import cached_property

import numpy as np

from nightmode.arrays import Array, Interval
from nightmode.constants import HOUR_S
from nightmode.eyepiece import Combination
from nightmode.eyepiece.suggestion import Suggestion
from nightmode.model.instruments import Instruments
from nightmode.model.kit import Kit
from nightmode.model.observer import Person
from nightmode.model.problem import Problem
from nightmode.model.sight import Moment, Pair
from nightmode.model.site import Site
from nightmode.model.target import Double, Subject
from nightmode.night.pairs import pair_in
from nightmode.records import Record, made_from
from nightmode.sky.dark import SUNSET_DEG, Twilights
from nightmode.sky.eclipse import LunarEclipse
from nightmode.sky.globes import PlanetTonight
from nightmode.sky.moon import MoonTrack
from nightmode.sky.paths import Table
from nightmode.sky.planets import PlanetNight, planet_night
from nightmode.sky.selene import MoonFace, moon_face
from nightmode.sky.vantage import Vantage
from nightmode.sky.varying import VariableTonight
from nightmode.visibility.relief import FeatureTonight
from nightmode.walk.order import Chance, walk_order
from nightmode.walk.usable import Usable


class Placed(Record, eq=False):
    """One target under the night's sky. Instants in Unix seconds; ra_deg and dec_deg are J2000.

    rises_s and sets_s are when it crosses its usable floor. feature is given for features of the Moon, planet
    for planets, variable for variable stars, moments for the last two.
    """

    subject: Subject
    ra_deg: float
    dec_deg: float
    chance: Chance
    rises_s: float | None
    sets_s: float | None
    feature: FeatureTonight | None
    planet: PlanetTonight | None
    variable: VariableTonight | None
    moments: tuple[Moment, ...]

    @property
    def usable(self) -> tuple[Usable, ...]:
        """The stretches in which it can be observed."""
        return self.chance.usable


class NightTarget(Placed):
    """One target under the night's sky, its kit, and which parts of the kit suit it.

    choices holds the sensible combinations in the order in which the observer steps through them, the
    suggestion first.
    """

    kit: Kit
    find: Combination | None
    look: Suggestion | None
    choices: tuple[Combination, ...]


class SkyTable(Record, eq=False):
    """A night at a site: columns are the minutes time_s (T,); rows of the tracks are the targets (N, T).

    altitude_deg is apparent (refracted). sun_altitude_deg is geometric. rotation (T, 3, 3) takes directions
    on ICRS axes to north, east, up. hours_s is (begin, end) of the observer's hours, None for the whole
    night. eclipse is an eclipse of the Moon that can be seen from the site.
    """

    date: dt.date
    site: Site
    person: Person
    zenith_mag: float
    time_s: Array
    altitude_deg: Table
    azimuth_deg: Table
    sun_altitude_deg: Array
    twilights: Twilights
    moon: MoonTrack
    vantage: Vantage
    rotation: Array
    eclipse: LunarEclipse | None
    hours_s: tuple[float, float] | None
    targets: tuple[Placed, ...]

    @cached_property
    def planets(self) -> PlanetNight:
        """The planets that the bare eye sees, for the chart: worked out when first asked for."""
        return planet_night(self.vantage)

    @cached_property
    def face(self) -> MoonFace:
        """The side that the Moon shows: worked out when first asked for."""
        return moon_face(self.vantage)

    @cached_property
    def chances(self) -> tuple[Chance, ...]:
        """The chances of the targets, by which they are ordered, in the order of rows."""
        return tuple(target.chance for target in self.targets)

    @property
    def sun_down_s(self) -> Interval:
        """Sunset and sunrise in Unix seconds; the night's begin or end where there is none."""
        return self.twilights.sunset_s or float(self.time_s[0]), self.twilights.sunrise_s or self.end_s

    @property
    def end_s(self) -> float:
        """The noon that ends the night, in Unix seconds."""
        return float(self.time_s[-1])

    @property
    def middle_s(self) -> float:
        """The middle of the night, in Unix seconds."""
        return float(self.time_s[len(self.time_s) // 2])

    @property
    def begins_s(self) -> float:
        """When looking begins, in Unix seconds: with the observer's hours, else with the night."""
        return self.hours_s[0] if self.hours_s else float(self.time_s[0])

    def in_walk_order(self, at_s: float | None = None) -> list[int]:
        """Return the rows in walk order at an instant, or when looking begins."""
        return walk_order(self.chances, self.begins_s if at_s is None else at_s)

    def only(self, rows: Sequence[int]) -> "SkyTable":
        """Return the same sky with only the targets of these rows."""
        return made_from(
            SkyTable,
            self,
            targets=tuple(self.targets[row] for row in rows),
            altitude_deg=self.altitude_deg.only(rows),
            azimuth_deg=self.azimuth_deg.only(rows),
        )

    def row(self, key: str) -> int | None:
        """Return the row of a target by its key, or None."""
        return self._rows.get(key)

    @cached_property
    def _rows(self) -> dict[str, int]:
        last_first = reversed(list(enumerate(self.chances)))
        return {chance.key: row for row, chance in last_first}  # of two targets of one name, the first counts

    def along(self, track: Array, now_s: float) -> float:
        """Return the value at now_s of a track (T,) over the minutes, interpolated between columns."""
        return float(np.interp(now_s, self.time_s, track))

    def change_in_an_hour(self, track: Array, now_s: float) -> float:
        """Return by how much a track (T,) over the minutes changes in the hour from now_s on."""
        return self.along(track, now_s + HOUR_S) - self.along(track, now_s)

    def along_circle(self, track: Array, now_s: float) -> float:
        """Return the angle at now_s of a track (T,), in degrees, interpolated the short way round."""
        unwrapped = np.degrees(np.unwrap(np.radians(track)))
        return (self.along(unwrapped, now_s) + 180.0) % 360.0 - 180.0

    def altitude_at(self, row: int, now_s: float) -> float:
        """Return a target's apparent altitude in degrees, interpolated between columns."""
        column = self.column(now_s)
        around = slice(column, column + 2)  # the row has a cell for each minute, and each is worked out anew
        return float(np.interp(now_s, self.time_s[around], self.altitude_deg[row, around]))

    def azimuth_at(self, row: int, now_s: float) -> float:
        """Return a target's azimuth in degrees, interpolated the short way round between columns."""
        column = self.column(now_s)
        before, after = self.azimuth_deg[row, column : column + 2]
        step = (after - before + 180.0) % 360.0 - 180.0
        share = np.clip((now_s - self.time_s[column]) / 60.0, 0.0, 1.0)
        return float((before + share * step) % 360.0)

    def azimuths_at(self, now_s: float) -> Sequence[float]:
        """Return every target's azimuth in degrees at the nearest minute."""
        return self.azimuth_deg[:, self.column(now_s)].tolist()

    def is_rising(self, row: int, now_s: float) -> bool:
        """Return whether a target is gaining altitude."""
        column = self.column(now_s)
        return bool(self.altitude_deg[row, column + 1] > self.altitude_deg[row, column])

    def sun_altitude_at(self, now_s: float) -> float:
        """Return the Sun's geometric altitude in degrees."""
        return float(np.interp(now_s, self.time_s, self.sun_altitude_deg))

    def is_sun_up(self, now_s: float) -> bool:
        """Return whether the Sun's upper limb stands above the level horizon."""
        return self.sun_altitude_at(now_s) > SUNSET_DEG

    def moon_altitude_at(self, now_s: float) -> float:
        """Return the Moon's apparent altitude in degrees."""
        return float(np.interp(now_s, self.time_s, self.moon.altitude_deg))

    def rotation_at(self, now_s: float) -> Array:
        """Return the matrix (3, 3) from ICRS axes to north, east, up, interpolated between columns."""
        column = self.column(now_s)
        share = float(np.clip((now_s - self.time_s[column]) / 60.0, 0.0, 1.0))
        return self.rotation[column] * (1.0 - share) + self.rotation[column + 1] * share

    def column(self, now_s: float) -> int:
        """Return the column of the minute that holds an instant, at most the last but one."""
        return int(np.clip((now_s - self.time_s[0]) // 60, 0, len(self.time_s) - 2))


class Night(SkyTable):
    """The sky of a night with kits: what each target is looked at with, and the problems found."""

    targets: tuple[NightTarget, ...]
    instruments: Instruments
    problems: tuple[Problem, ...]

    @property
    def kit(self) -> Kit:
        """The kit of the main instrument."""
        return self.instruments.kits[0]

    @property
    def has_finder(self) -> bool:
        """Whether any instrument has one."""
        return any(kit.finders for kit in self.instruments.kits)

    @property
    def has_several(self) -> bool:
        """Whether there are several instruments, so that each target's instrument has to be told."""
        return len(self.instruments.kits) > 1

    @cached_property
    def pairs(self) -> dict[int, Pair]:
        """The double stars among the targets, by row."""
        found = {row: self._pair(target) for row, target in enumerate(self.targets)}
        return {row: pair for row, pair in found.items() if pair is not None}

    def _pair(self, target: NightTarget) -> Pair | None:
        if not isinstance(target.subject, Double):
            return None
        lowest_power = min((choice.power for choice in target.choices), default=0.0)
        return pair_in(target.kit.telescope, target.subject, self.middle_s, lowest_power=lowest_power)
