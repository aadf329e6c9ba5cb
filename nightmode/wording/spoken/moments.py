"""What happens in a night, one sentence for each event: twilight, Moon, Jupiter's moons, last calls."""

from zoneinfo import ZoneInfo

from nightmode.model.sight import Moment, Sight
from nightmode.records import Record
from nightmode.sky.eclipse import LunarEclipse
from nightmode.walk.usable import Ending
from nightmode.wording.figures import duration, time_of_day
from nightmode.wording.planets import is_about, moment_line, sight_text
from nightmode.wording.spoken.ear import for_ear, name_for_ear
from nightmode.wording.spoken.sentences import said, sentences
from nightmode.wording.variables import how_sure


class TimedSentence(Record):
    """A sentence and the instant at which it is to be spoken, in Unix seconds."""

    at_s: float
    sentence: str


def darkness(dark: tuple[float, float] | None, before_s: float) -> list[TimedSentence]:
    """Return the begin of darkness, its end, and a warning before_s seconds before the end."""
    if dark is None:
        return []
    told = [(dark[0], "it is dark now"), (dark[1], "dawn: the dark is over")]
    if dark[1] - dark[0] > before_s:
        told.append((dark[1] - before_s, f"dawn in {duration(before_s)}"))
    return _happen(told)


def moon(rises: tuple[float, ...], sets: tuple[float, ...], lit: float) -> list[TimedSentence]:
    """Return the risings and settings of the Moon; lit is its lit share, 0 to 1."""
    told = [(at_s, f"the Moon rises, {lit * 100:.0f} % lit") for at_s in rises]
    return _happen([*told, *((at_s, "the Moon sets") for at_s in sets)])


def eclipse(lunar: LunarEclipse) -> list[TimedSentence]:
    """Return begin and end of the partial eclipse and of the total one, as far as there are any."""
    told = []
    if lunar.umbra:
        begins_s, ends_s = lunar.umbra
        told += [(begins_s, "the Moon enters the Earth's shadow"), (ends_s, "the eclipse is over")]
    if lunar.total:
        begins_s, ends_s = lunar.total
        told += [(begins_s, "the eclipse is total now"), (ends_s, "the total eclipse ends")]
    return _happen(told)


def announced(name: str, moments: tuple[Moment, ...], ahead_s: float) -> list[TimedSentence]:
    """Return what is about to happen at a planet or a star, each ahead_s seconds before it does."""
    told = []
    for moment in moments:
        for start_s, _ in moment.watch:
            when = f"in {'about ' if is_about(moment) else ''}{duration(ahead_s)}"
            told.append((start_s, f"{name}, {when}: {_event(moment, start_s + ahead_s)}"))
    return _happen(told)


def last_call(name: str, end_s: float, before_s: float, ends_by: Ending) -> TimedSentence:
    """Return that a target sets, or loses its light, before_s seconds before it does."""
    does = "sets" if ends_by is Ending.HORIZON else "loses its light"
    told = f"last call: {name_for_ear(name)} {does} in {for_ear(duration(before_s))}"
    return TimedSentence(end_s - before_s, sentences(told)[0])


def moment_said(moment: Moment, now_s: float, zone: ZoneInfo) -> tuple[str, ...]:
    """Return a moment with its time; once it has begun, with its end."""
    if moment.deepest_s is not None:
        told = f"faintest about {time_of_day(moment.deepest_s, zone)}"
        return said(f"{told}, it may be {how_sure(moment.error_s)} earlier or later")
    if moment.begins_s <= now_s and (moment.watch or moment.sight is Sight.MOON_NEAR):
        about = "about " if is_about(moment) else ""
        return said(f"{sight_text(moment)}, until {about}{time_of_day(moment.ends_s, zone)}")
    return said(moment_line(moment, now_s, zone))


def _event(moment: Moment, at_s: float) -> str:
    """Return what happens at at_s: where a moon is hidden, its going or its coming back; else the begin."""
    goes = abs(at_s - moment.begins_s) < abs(at_s - moment.ends_s)
    if moment.sight is Sight.ECLIPSE:
        return f"{moment.moon} {'fades into' if goes else 'comes out of'} Jupiter's shadow"
    if moment.sight is Sight.OCCULTATION:
        return f"{moment.moon} {'goes behind' if goes else 'comes out from behind'} Jupiter"
    return sight_text(moment)


def _happen(told: list[tuple[float, str]]) -> list[TimedSentence]:
    return [TimedSentence(at_s, said(text)[0]) for at_s, text in told]
