"""A disk that refuses in the night: nothing is called done that is not on it, and nothing is lost."""

import pytest
from program import disks
from program.pseudo import ROOT

from nightmode.errors import NightmodeError
from nightmode.model.session import Event, Outcome
from nightmode.night.loading import load_night
from nightmode.session.journal import read
from nightmode.walk.state import fold

#: What a note adds to the journal beside its own words is found out with one of this length.
TRIAL = 10


@pytest.fixture(params=["small disk", "file limit", "read-only", "pulled out"])
def trouble(request, tmp_path):
    folder = tmp_path / "stick"
    folder.mkdir()
    with disks.trouble(request.param, folder, folder / "session.toml") as made:
        yield made


@pytest.fixture
def walking(start, trouble):
    program = start(
        "walk", str(ROOT / "plans" / "hillside.toml"), "--at", "21:00", "--session", str(trouble.journal)
    )
    trouble.program = program
    program.wait_for("to do")
    return program


def note(program, length):
    before = read_length(program)
    program.press("n", f"\x1b[200~{'y' * length}\x1b[201~", "enter", then="noted on")
    while read_length(program) == before:  # what was read may have been the note before, drawn once more
        program.run(0.02)
    return read_length(program) - before


def read_length(program):
    return program.journal.stat().st_size


def refuse(trouble):
    """Begin the trouble, with not one byte of room left in the journal."""
    program = trouble.program
    program.journal = trouble.journal
    if trouble.free_bytes():
        beside_words = note(program, TRIAL) - TRIAL
        while room := trouble.free_bytes():
            most = room - beside_words
            note(program, most if 0 < most <= 400 else 200 if most > 0 else TRIAL)
    trouble.begin()


def entries(trouble):
    return [entry for entry in read(trouble.journal).entries if entry.note[:1] != "y"]


def told(program):
    """Return the message line."""
    return program.shown().splitlines()[-2].strip()


def test_a_refused_tick_waits_and_the_next_key_does_nothing_but_try_again(walking, trouble):
    walking.press("s", then=": suspected")
    refuse(trouble)
    walking.run(0.1)
    before = len(walking.said)
    walking.press("space", then=f"NOT SAVED, {trouble.words}: kept, any key tries again")
    walking.wait_shown(" 1 done ")
    for key in ("s", "3", "u", "n", "l", "j"):
        walking.press(key)
        walking.wait_shown(f"STILL NOT SAVED, {trouble.words}")
        walking.run(0.1)
        assert told(walking).startswith(f"STILL NOT SAVED, {trouble.words}")
        assert " 1 done " in walking.shown()
    assert ": seen" not in walking.said[before:]
    trouble.end()
    assert len(entries(trouble)) == 1
    walking.press("x", then="saved now: 1 entry")
    walking.wait_shown(" 2 done ")
    first, second = entries(trouble)
    assert (first.outcome, second.outcome) == (Outcome.SUSPECTED, Outcome.SEEN)
    assert first.target != second.target
    walking.press("s", then=": suspected")
    assert len(entries(trouble)) == 3
    assert "\x07" not in walking.raw


@pytest.mark.parametrize(
    "trouble", [pytest.param("small disk", marks=pytest.mark.long), "file limit"], indirect=True
)
def test_undo_and_notes_wait_in_the_same_way(walking, trouble):
    walking.press("space", then=": seen")
    refuse(trouble)
    walking.press("u", then="NOT SAVED")
    walking.wait_shown(" 1 done ")
    trouble.end()
    live = fold(read(trouble.journal).entries).live
    walking.press("u", then="saved now: 1 entry")
    assert fold(read(trouble.journal).entries).live == live[:-1]
    refuse(trouble)
    walking.press("n", "cold fingers", "enter", then="NOT SAVED")
    walking.press("x", then="STILL NOT SAVED")
    trouble.end()
    walking.press("x", then="saved now: 1 entry")
    assert [entry.event for entry in entries(trouble)] == [Event.TICK, Event.UNDO, Event.NOTE]
    assert entries(trouble)[-1].note == "cold fingers"


@pytest.mark.parametrize(
    "trouble", [pytest.param("small disk", marks=pytest.mark.long), "pulled out"], indirect=True
)
def test_leaving_with_an_unsaved_entry_tells_it_and_harms_nothing(walking, trouble):
    walking.press("space", then=": seen")
    refuse(trouble)
    walking.press("nfrost on the mirror", "enter", then="NOT SAVED")
    walking.press("q", then="1 entry NOT SAVED: q again leaves and tells them")
    walking.press("x", then="still here")
    walking.press("q", then="1 entry NOT SAVED: q again leaves and tells them")
    walking.press("q")
    assert walking.end() == 2
    assert "1 done on the night of" in walking.shown()
    assert "NOT SAVED: 21:0" in walking.shown()
    assert "frost on the mirror" in walking.shown()
    trouble.end()
    assert [entry.event for entry in entries(trouble)] == [Event.TICK]
    assert read(trouble.journal).torn is None


@pytest.mark.parametrize("trouble", ["read-only"], indirect=True)
def test_a_signal_saves_what_waits_if_the_disk_takes_it_again(walking, trouble):
    refuse(trouble)
    walking.press("space", then="NOT SAVED")
    trouble.end()
    walking.signal(15)
    assert walking.end() == 143
    assert [entry.event for entry in entries(trouble)] == [Event.TICK, Event.PAUSE]


async def test_a_link_to_a_session_on_a_disk_that_is_not_there_is_no_new_session(walk, tmp_path, set_clock):
    journal = tmp_path / "session.toml"
    journal.symlink_to(tmp_path / "stick" / "session.toml")
    with pytest.raises(NightmodeError, match="not read, there is no such file or folder; check the name"):
        async with walk(ROOT / "plans" / "hillside.toml", journal, set_clock(0.0)):
            pass
    assert journal.is_symlink()


async def test_a_session_on_a_stick_that_is_not_plugged_in_is_waited_for(walk, tmp_path, set_clock):
    plan, stick = ROOT / "plans" / "hillside.toml", tmp_path / "stick"
    stick.mkdir()
    clock = set_clock(load_night(plan, None, None, 0.0).night.twilights.astronomical_dusk_s)
    async with walk(plan, stick / "session.toml", clock, rehearsal=False) as night:
        await night.press("space")
    stick.rename(tmp_path / "pulled out")
    with pytest.raises(NightmodeError, match="on a disk that is not there; put it back, or name another"):
        async with walk(plan, None, clock, rehearsal=False):
            pass
    assert not list(tmp_path.rglob("sessions/*.toml"))
    (tmp_path / "pulled out").rename(stick)
    async with walk(plan, None, clock, rehearsal=False) as night:
        assert night.words.startswith("going on: 1 done")


@pytest.mark.parametrize("full_disk", ["file size limit"], indirect=True)
async def test_a_disk_that_refuses_when_the_night_is_gone_on_with_refuses_the_entry_and_not_the_night(
    walk, full_disk, set_clock
):
    plan, journal = ROOT / "plans" / "hillside.toml", full_disk.folder / "session.toml"
    clock = set_clock(load_night(plan, None, None, 0.0).night.twilights.astronomical_dusk_s)
    async with walk(plan, journal, clock) as night:
        await night.press("space")
    full_disk.fill(journal, room=20)
    async with walk(plan, journal, clock) as night:
        assert "NOT SAVED, the file would be larger" in night.text
        await night.press("s")
        assert "STILL NOT SAVED" in night.text
        full_disk.make_room()
        await night.press("s")
        assert night.told == "saved now: 1 entry"
        await night.press("s")
    events = [entry.event for entry in read(journal).entries]
    assert [event for event in events if event is not Event.PAUSE] == [Event.TICK, Event.RESUME, Event.TICK]
