"""A note that was still being typed when the program was killed is in the session that goes on."""

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from session.samples import HEAD

from nightmode.model.session import Entry, Event
from nightmode.session import unfinished
from nightmode.session.journal import create, read
from nightmode.session.opening import opened
from nightmode.session.record import Session

AT = dt.datetime(2027, 1, 9, 21, 0, tzinfo=dt.UTC)


def note(text, minutes=0, target="M 42", event=Event.NOTE):
    return Entry(at=AT + dt.timedelta(minutes=minutes), event=event, target=target, note=text)


def going_on(path):
    """Go on with the session as a start does, and return its notes and what is said first."""
    with opened(path.with_name("plan.toml"), HEAD, path, AT.timestamp()) as (session, words):
        assert not session.unsaved
    return [entry.note for entry in read(path).entries], words


@settings(max_examples=25)
@given(text=st.text(min_size=1, max_size=300).filter(str.strip))
def test_whatever_was_typed_is_taken_in_once_and_told(tmp_path_factory, text):
    path = tmp_path_factory.mktemp("night") / "session.toml"
    Session(create(path, HEAD)).keep_note(note(text))
    kept, words = going_on(path)
    assert kept == [note(text).note]
    assert "note half typed on M 42 is kept" in words
    assert going_on(path)[0] == kept
    assert [file.name for file in path.parent.iterdir() if ".note" in file.name] == []


def test_a_note_that_went_on_after_it_was_kept_is_not_taken_in_twice(tmp_path):
    session = Session(create(tmp_path / "session.toml", HEAD))
    session.do(note("round", -5))
    session.keep_note(note("round"))
    session.do(note("round, bright core", 1))
    assert going_on(session.path)[0] == ["round", "round, bright core"]


def test_the_same_words_as_in_an_earlier_note_are_another_note(tmp_path):
    session = Session(create(tmp_path / "session.toml", HEAD))
    session.do(note("round", -5))
    session.do(note("round", 1, target="M 43"))
    session.keep_note(note("round"))
    assert going_on(session.path)[0] == ["round", "round", "round"]


@pytest.mark.parametrize("held", [b"", b"\xff\x00", b"[[entry]]\nat = 1\n", b"x" * 200_000, None])
def test_what_is_no_whole_note_is_passed_over(tmp_path, held):
    session = Session(create(tmp_path / "session.toml", HEAD))
    beside = tmp_path / "session.toml.note"
    beside.mkdir() if held is None else beside.write_bytes(held)
    assert going_on(session.path)[0] == []


def test_what_is_kept_can_be_read_by_the_user_alone(tmp_path):
    unfinished.keep(tmp_path / "session.toml", note("faint"))
    assert (tmp_path / "session.toml.note").stat().st_mode & 0o777 == 0o600
