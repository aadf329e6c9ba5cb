"""Reading the sessions back: each counts once, nothing is touched, what is no session is named."""

import os
import shutil

import pytest
from history.keeping import head, keep, note, tick, undo
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nightmode.errors import NightmodeError
from nightmode.files.places import history_cache_file, prepare, sessions_folder
from nightmode.history import reading
from nightmode.history.reading import read_history
from nightmode.history.sitting import sitting_of
from nightmode.model.session import Outcome
from nightmode.session import unfinished
from nightmode.session.journal import resume
from nightmode.walk.state import fold, target_key


def looks(history):
    return [(look.name, look.outcome, look.notes) for one in history.sittings for look in one.looks]


def test_what_was_ticked_and_noted_is_read_back_without_what_was_undone():
    keep(
        note("clear at last"),
        tick("M 42", minute=5, altitude_deg=31.4, eyepiece="Wide 25"),
        note("wings wide", "M 42", 6),
        tick("M 43", "not seen", 9),
        undo(10),
        tick("M 43", "suspected", 12),
    )
    (sitting,) = read_history().sittings
    assert looks(read_history()) == [
        ("M 42", Outcome.SEEN, ("wings wide",)),
        ("M 43", Outcome.SUSPECTED, ()),
    ]
    assert sitting.looks[0].altitude_deg == 31.4
    assert sitting.looks[0].eyepiece == "Wide 25"
    assert [one.words for one in sitting.happenings] == ["clear at last"]


def test_a_note_before_the_tick_belongs_to_it_and_the_last_tick_counts():
    keep(
        note("low in the haze", "M 79", 1),
        tick("M 79", "set aside", 2),
        tick("M 79", "seen", 30, altitude_deg=20.0),
    )
    (sitting,) = read_history().sittings
    assert [look.outcome for look in sitting.looks] == [Outcome.SET_ASIDE, Outcome.SEEN]
    assert sitting.looks[0].notes == ("low in the haze",)
    assert [look.outcome for look in sitting.last_looks] == [Outcome.SEEN]


def test_rehearsals_are_never_counted_wherever_they_lie():
    keep(tick("M 42"), rehearsal=True)
    keep(tick("M 43"), plan="Practice", rehearsal=True, path=prepare(sessions_folder() / "practice.toml"))
    assert read_history().sittings == ()


def test_damaged_and_foreign_files_are_named_in_a_line_each_and_the_rest_counts():
    folder = keep(tick("M 42")).parent
    (folder / "notes.txt").write_text("milk, eggs")
    (folder / "picture.jpg").write_bytes(bytes(range(256)))
    (folder / "plan.toml").write_text('title = "A plan"\n[[target]]\nname = "M 1"\n')
    (folder / "old").mkdir()
    broken = keep(tick("M 1"), night="2027-01-10")
    broken.write_bytes(broken.read_bytes().replace(b"[session]", b"[sessoin]"))
    for own in ("x.toml.lock", "x.toml.torn", "x.toml.2.damaged", ".nightmode-ab.tmp"):
        (folder / own).write_text("1")
    history = read_history()
    assert looks(history) == [("M 42", Outcome.SEEN, ())]
    named = ("notes.txt", "picture.jpg", "plan.toml", "old", broken.name)
    assert sorted(error.where.rpartition("/")[2] for error in history.left_out) == sorted(named)
    assert not any("\n" in str(error) for error in history.left_out)


def test_a_torn_session_counts_and_is_told_about_and_not_touched():
    path = keep(tick("M 42"), tick("M 43", minute=5))
    data = path.read_bytes()[:-20]
    path.write_bytes(data)
    history = read_history()
    assert [name for name, *_ in looks(history)] == ["M 42"]
    assert "interrupted write" in history.damaged[0].what
    assert path.read_bytes() == data
    again = read_history()
    assert (again.sittings, str(again.damaged[0])) == (history.sittings, str(history.damaged[0]))


def test_copies_and_beginnings_of_a_session_count_once():
    path = keep(tick("M 42"), tick("M 43", minute=5), undo(6))
    shutil.copy(path, path.with_name("copy.toml"))
    (path.parent / "from-the-stick.toml").write_bytes(path.read_bytes().split(b"\n[[entry]]\n")[0] + b"\n")
    half = path.read_bytes().rindex(b"\n[[entry]]\n")
    (path.parent / "halfway.toml").write_bytes(path.read_bytes()[:half])  # before the undo
    history = read_history()
    assert looks(history) == [("M 42", Outcome.SEEN, ())]
    assert (history.left_out, history.damaged) == ((), ())


def test_the_cache_changes_nothing_and_can_be_thrown_away_or_spoilt():
    path = keep(tick("M 42", altitude_deg=31.4), note("wide", "M 42", 2))
    first = read_history()
    assert history_cache_file().exists()
    assert read_history() == first
    for spoilt in (b"", b"{}", b"[2, {}]", b'[1, {"x": 3}]', os.urandom(300)):
        history_cache_file().write_bytes(spoilt)
        assert read_history() == first
    history_cache_file().unlink()
    assert read_history() == first
    status = path.stat()
    path.write_bytes(path.read_bytes().replace(b"M 42", b"M 43"))
    os.utime(path, ns=(status.st_atime_ns, status.st_mtime_ns))  # same name, size and time
    assert {name for name, *_ in looks(read_history())} == {"M 43"}


def test_a_folder_that_cannot_be_looked_into_does_not_pass_for_an_empty_one():
    folder = sessions_folder()
    assert read_history().sittings == ()
    folder.rmdir() if folder.exists() else folder.parent.mkdir(parents=True, exist_ok=True)
    folder.write_text("no folder")
    with pytest.raises(NightmodeError, match="not read"):
        read_history()


def test_a_session_read_before_is_not_taken_apart_again(monkeypatch):
    keep(tick("M 42"))
    first = read_history()

    def refuse(path):
        raise AssertionError(f"took {path} apart again")

    monkeypatch.setattr(reading, "read", refuse)
    assert read_history() == first


def test_a_cache_that_cannot_be_written_is_no_trouble():
    keep(tick("M 42"))
    history_cache_file().mkdir(parents=True)
    assert len(read_history().sittings) == 1


def test_the_cache_is_for_its_user_alone():
    keep(tick("M 42"))
    read_history()
    assert history_cache_file().stat().st_mode & 0o077 == 0


names = st.sampled_from(["M 42", "m42", "M 43", "NGC 891", "my asterism"])
entries = st.lists(
    st.one_of(
        st.builds(tick, names, st.sampled_from([one.value for one in Outcome]), st.integers(0, 500)),
        st.builds(note, st.sampled_from(["round", "faint"]), st.none() | names, st.integers(0, 500)),
        st.builds(undo, st.integers(0, 500)),
    ),
    max_size=25,
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(entries)
def test_every_note_and_tick_that_stands_is_in_exactly_one_place(found):
    live = fold(found).live
    sitting = sitting_of("x.toml", head(), found)
    ticks = sum(one.outcome is not None for one in live)
    assert sum(look.outcome is not None for look in sitting.looks) == ticks
    told = [word for look in sitting.looks for word in look.notes] + [one.words for one in sitting.happenings]
    assert sorted(told) == sorted(one.note for one in live if one.note)
    state = fold(found)
    for look in sitting.last_looks:
        assert look.outcome == state.outcome(target_key(look.name))


def test_a_note_half_typed_when_the_battery_died_is_read_back_too_and_only_once():
    path = keep(tick("M 42", minute=5))
    assert looks(read_history()) == [("M 42", Outcome.SEEN, ())]
    unfinished.keep(path, note("wings wi", "M 42", 6))
    for _ in range(2):  # the second time it is remembered
        history = read_history()
        assert looks(history) == [("M 42", Outcome.SEEN, ("wings wi",))]
        assert (history.left_out, history.damaged) == ((), ())
    resume(path).append(note("wings wide", "M 42", 7))
    assert looks(read_history()) == [("M 42", Outcome.SEEN, ("wings wide",))]
    unfinished.forget(path)
    assert looks(read_history()) == [("M 42", Outcome.SEEN, ("wings wide",))]
