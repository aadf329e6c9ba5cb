"""Sessions from elsewhere: each once, both of two that differ, nothing overwritten, in any order."""

import os
import shutil
import tempfile
from pathlib import Path

import pytest
from history.keeping import head, keep, note, tick, undo
from hypothesis import given, settings
from hypothesis import strategies as st

from nightmode.errors import NightmodeError
from nightmode.files.places import sessions_folder
from nightmode.history import gathering
from nightmode.history.gathering import Fate, gather
from nightmode.history.objects import identify
from nightmode.history.reading import read_history
from nightmode.history.tally import looks_by_object, tally
from nightmode.model.session import Outcome
from nightmode.session import unfinished
from nightmode.session.journal import create


def written(folder, name, *entries, **about):
    """Write a session somewhere else; return its path."""
    folder.mkdir(parents=True, exist_ok=True)
    journal = create(folder / name, head(**about))
    for entry in entries:
        journal.append(entry)
    return folder / name


def fates(found):
    return [one.fate for one in found]


def test_new_sessions_are_taken_in_byte_for_byte_from_folders_within_folders(tmp_path):
    path = written(tmp_path / "stick" / "nightmode" / "sessions", "a.toml", tick("M 42"))
    (tmp_path / "stick" / "holiday.jpg").write_bytes(b"\xff\xd8")
    (tmp_path / "stick" / "plan.toml").write_text('title = "A plan"\n')
    found, left_out = gather([tmp_path / "stick"], sessions_folder())
    assert fates(found) == [Fate.NEW]
    assert left_out == []
    kept = sessions_folder() / "a.toml"
    assert kept.read_bytes() == path.read_bytes()
    assert kept.stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("name", [".hidden.toml", "night.toml.damaged", ".toml", "..lock"])
def test_a_session_under_a_name_that_is_passed_over_here_is_kept_under_one_that_is_read(tmp_path, name):
    path = written(tmp_path / "stick", name, tick("M 42"))
    for fate in (Fate.NEW, Fate.HERE):
        assert fates(gather([path], sessions_folder())[0]) == [fate]
    assert [look.name for look in read_history().sittings[0].looks] == ["M 42"]


def test_a_note_half_typed_when_the_old_machine_died_comes_along(tmp_path):
    path = written(tmp_path / "stick", "a.toml", tick("M 42"))
    unfinished.keep(path, note("wings wi", "M 42", 6))
    for fate in (Fate.NEW, Fate.HERE):
        found, left_out = gather([tmp_path / "stick"], sessions_folder())
        assert (fates(found), left_out) == ([fate], [])
    (look,) = read_history().sittings[0].looks
    assert look.notes == ("wings wi",)
    assert [one.name for one in sessions_folder().iterdir()] == ["a.toml"]


def test_the_same_session_twice_is_one(tmp_path):
    path = keep(tick("M 42"), tick("M 43", minute=4))
    shutil.copytree(path.parent, tmp_path / "stick")
    shutil.copy(path, tmp_path / "stick" / "another-name.toml")
    begun = written(tmp_path / "stick", "begun.toml", tick("M 42"))
    found, _ = gather([tmp_path / "stick", begun], sessions_folder())
    assert set(fates(found)) == {Fate.HERE}
    assert [one.name for one in sessions_folder().iterdir()] == [path.name]


def test_one_that_goes_further_is_kept_beside_and_counts_alone(tmp_path):
    path = keep(tick("M 42"))
    written(tmp_path / "stick", path.name, tick("M 42"), undo(1), tick("M 42", "not seen", 2))
    (one,) = gather([tmp_path / "stick"], sessions_folder())[0]
    assert (one.fate, one.beside) == (Fate.LONGER, path.name)
    assert one.kept_as != path.name
    (sitting,) = read_history().sittings
    assert [look.outcome for look in sitting.looks] == [Outcome.NOT_SEEN]
    assert fates(gather([tmp_path / "stick"], sessions_folder())[0]) == [Fate.HERE]


def test_two_that_differ_are_both_kept_and_told(tmp_path):
    path = keep(tick("M 42"), tick("M 43", minute=3))
    before = path.read_bytes()
    written(tmp_path / "stick", path.name, tick("M 42"), tick("M 78", minute=3))
    (one,) = gather([tmp_path / "stick"], sessions_folder())[0]
    assert (one.fate, one.beside) == (Fate.DIFFERS, path.name)
    assert path.read_bytes() == before
    seen = [look.name for sitting in read_history().sittings for look in sitting.looks]
    assert sorted(seen) == ["M 42", "M 43", "M 78"]  # what both have in common counts once


def test_another_night_under_the_same_file_name_gets_a_name_of_its_own(tmp_path):
    keep(tick("M 42"), path=_in_folder("a.toml"))
    written(tmp_path / "stick", "a.toml", tick("M 1"), night="2027-02-02")
    (one,) = gather([tmp_path / "stick"], sessions_folder())[0]
    assert (one.fate, one.kept_as) == (Fate.NEW, "a-2.toml")
    assert len(read_history().sittings) == 2


def _in_folder(name):
    sessions_folder().mkdir(parents=True)
    return sessions_folder() / name


def test_rehearsals_stay_and_damaged_ones_are_named(tmp_path):
    written(tmp_path / "stick", "practice.toml", tick("M 42"), rehearsal=True)
    broken = written(tmp_path / "stick", "broken.toml", tick("M 42"), night="2027-02-02")
    broken.write_bytes(broken.read_bytes().replace(b"night = 2027", b"night = 20x7"))
    found, left_out = gather([tmp_path / "stick"], sessions_folder())
    assert fates(found) == [Fate.REHEARSAL]
    assert len(left_out) == 1
    assert "broken.toml" in left_out[0].where
    assert not sessions_folder().exists()


def test_what_cannot_be_read_is_named_so_that_nobody_clears_the_stick(tmp_path):
    stick = written(tmp_path / "stick", "NEW.TOML", tick("M 42")).parent
    (stick / "round.toml").symlink_to(stick / "round.toml")
    (stick / "round.jpg").symlink_to(stick / "round.jpg")
    made_too_deep(stick)
    found, left_out = gather([stick], sessions_folder())
    assert fates(found) == [Fate.NEW]
    assert [error.what for error in left_out] == [
        "not read, the links lead round in a circle",
        "not looked into, the name is too long",
    ]


def test_a_folder_that_cannot_be_looked_into_is_no_folder_without_sessions(tmp_path):
    too_deep = made_too_deep(tmp_path)
    with pytest.raises(NightmodeError, match="not looked into"):
        list(gathering._sessions_below(too_deep, sessions_folder(), []))


def made_too_deep(folder):
    """Make folders in each other, more than a path may name; return the path of the innermost."""
    name = "d" * 250
    inner = os.open(folder, os.O_RDONLY)
    for _ in range(18):
        os.mkdir(name, dir_fd=inner)
        outer, inner = inner, os.open(name, os.O_RDONLY, dir_fd=inner)
        os.close(outer)
        folder = folder / name
    os.close(inner)
    return folder


def test_links_that_lead_round_do_no_harm_where_ones_own_folder_should_be(tmp_path):
    written(tmp_path / "stick", "a.toml", tick("M 42"))
    sessions_folder().parent.parent.symlink_to(sessions_folder().parent.parent)
    with pytest.raises(NightmodeError, match="lead round in a circle"):
        gather([tmp_path / "stick"], sessions_folder())


def test_a_torn_session_is_taken_as_it_is(tmp_path):
    path = written(tmp_path / "stick", "torn.toml", tick("M 42"), tick("M 43", minute=3))
    path.write_bytes(path.read_bytes()[:-9])
    assert fates(gather([path], sessions_folder())[0]) == [Fate.NEW]
    assert (sessions_folder() / "torn.toml").read_bytes() == path.read_bytes()


def test_ones_own_folder_and_what_is_not_there_do_no_harm(tmp_path):
    keep(tick("M 42"))
    assert gather([sessions_folder().parent], sessions_folder()) == ([], [])
    written(tmp_path / "stick", "a.toml", tick("M 1"), night="2027-02-02")
    with pytest.raises(NightmodeError, match="no such file"):
        gather([tmp_path / "stick", tmp_path / "nothing"], sessions_folder())
    assert len(list(sessions_folder().iterdir())) == 1


def test_a_whole_disk_is_not_searched(tmp_path, monkeypatch):
    monkeypatch.setattr(gathering, "MOST_FILES", 20)
    written(tmp_path / "disk" / "a", "a.toml", tick("M 42"))
    for number in range(30):
        (tmp_path / "disk" / "a" / f"{number}.jpg").touch()
    with pytest.raises(NightmodeError, match="too much to look through"):
        gather([tmp_path / "disk"], sessions_folder())
    assert not sessions_folder().exists()


def test_a_disk_that_refuses_is_told(tmp_path):
    written(tmp_path / "stick", "a.toml", tick("M 42"))
    sessions_folder().parent.mkdir(parents=True)
    sessions_folder().write_text("a file where the folder should be")
    with pytest.raises(NightmodeError):
        gather([tmp_path / "stick"], sessions_folder())
    assert sessions_folder().read_text() == "a file where the folder should be"


NAMES = ("M 31", "M 42", "Albireo")
entries = st.lists(
    st.one_of(
        st.builds(tick, st.sampled_from(NAMES), st.sampled_from(["seen", "suspected", "not seen"])),
        st.builds(note, st.sampled_from(["round", "faint"]), st.sampled_from(NAMES)),
        st.builds(undo),
    ),
    max_size=6,
)
#: What a machine holds: few nights and plans, so that copies, beginnings and conflicts come about.
machine = st.dictionaries(
    st.tuples(st.sampled_from(["2027-01-09", "2027-01-10"]), st.sampled_from(["Winter", "Autumn"])),
    entries,
    max_size=3,
)


@pytest.mark.parametrize("examples", [6, pytest.param(300, marks=pytest.mark.long)])
def test_machines_gathered_in_any_order_give_the_same_record(examples):
    @settings(max_examples=examples, deadline=None, derandomize=examples < 100, database=None)
    @given(machine, machine, machine)
    def check(first, second, third):
        with tempfile.TemporaryDirectory() as place:
            machines = enumerate((first, second, third))
            folders = [_machine(Path(place) / str(number), held) for number, held in machines]
            told = []
            for number, order in enumerate(((0, 1, 2), (2, 1, 0), (1, 0, 2))):
                own = Path(place) / f"own-{number}"
                for source in order:
                    gather([folders[source]], own)
                gather(folders, own)  # again: nothing new
                told.append(_record(own))
            assert told[0] == told[1] == told[2]

    check()


def _machine(folder, held):
    folder.mkdir()
    for (night, plan), found in held.items():
        written(folder, f"{night}-{plan}.toml", *found, night=night, plan=plan)
    return folder


def _record(folder):
    sittings = read_history(folder).sittings
    found = tally("Any", [(name, identify(name)) for name in NAMES], looks_by_object(sittings))
    return found, sorted(repr((one.identity, one.looks, one.happenings)) for one in sittings)
