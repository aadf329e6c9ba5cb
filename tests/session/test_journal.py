import itertools
import os
import re
import stat
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from session.samples import EVENING, HEAD, NASTY_NOTES, Spy, entries, entry, numbers, unchecked, write_once
from turns import rarely

from nightmode.errors import NightmodeError
from nightmode.model.session import Head
from nightmode.session import journal
from nightmode.session.blocks import SIGNATURE, _written_here, entry_block, find_blocks, head_block

NOTES_LONG_AND_SHORT = (*NASTY_NOTES, "x" * 2000)


@pytest.fixture
def path(tmp_path):
    return tmp_path / "session.toml"


def test_a_new_journal_is_for_the_user_alone_and_reads_back(path):
    book = journal.create(path, HEAD)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    for number, note in enumerate(NASTY_NOTES):
        book.append(entry(number, note))
    back = journal.read(path)
    assert (back.head, back.entries, back.torn, back.message) == (HEAD, book.entries, None, "")
    assert numbers(back.entries) == list(range(len(NASTY_NOTES)))


def test_a_journal_is_toml_that_any_reader_takes_with_ok_as_the_last_key_of_every_block(path):
    book = journal.create(path, HEAD)
    for number, note in enumerate(NASTY_NOTES):
        book.append(entry(number, note))
    tables = tomllib.loads(path.read_text("utf-8"))
    assert len(tables["entry"]) == len(NASTY_NOTES)
    assert all(list(block)[-1] == "ok" and block["ok"] is True for block in tables["entry"])
    assert list(tables["session"])[-1] == "ok"
    assert tables["entry"][0]["at"] == EVENING


@given(st.text(st.characters(codec="utf-8"), max_size=200) | st.sampled_from(NOTES_LONG_AND_SHORT))
def test_no_text_can_look_like_a_block_even_one_that_no_model_would_let_through(text):
    block = entry_block(unchecked(1, text))
    lines = block.split(b"\n")
    assert lines[:2] == [b"", b"[[entry]]"]
    assert lines[-2:] == [b"ok = true", b""]
    assert all(re.fullmatch(rb"[a-z_]+ = .*", line) for line in lines[2:-1])
    assert lines.count(b"ok = true") == 1
    assert (tomllib.loads(block.decode())["entry"][0].get("note") or "") == text


def text_of(item):
    return entry_block(item).decode().removeprefix("\n")


def test_an_entry_as_they_usually_are_is_read_in_the_short_way():
    assert _written_here(text_of(entry(3, "small and round, a star at its edge"))) is not None


PIECES = [
    '"',
    "\\",
    "=",
    " ",
    "\n",
    "\t",
    "\r\n",
    "ok = true\n",
    "0",
    "1e5",
    "-",
    ".",
    "T",
    "+25:00",
    "''",
    "[x]",
    "é",
]


@given(entries | st.integers(0, 9).map(entry), st.data())
def test_the_short_way_of_reading_an_entry_finds_what_toml_finds_or_nothing(item, data):
    text = text_of(item)
    if data.draw(st.booleans()):
        start, length = data.draw(st.integers(0, len(text))), data.draw(st.integers(0, 6))
        text = text[:start] + data.draw(st.sampled_from(PIECES)) + text[start + length :]
    found = _written_here(text)
    assert found is None or found == tomllib.loads(text)


@given(st.lists(entries, max_size=6))
def test_every_entry_comes_back_as_it_was_written(written):
    data = head_block(HEAD) + b"".join(entry_block(item) for item in written)
    found = find_blocks("s.toml", data)
    assert list(found.entries) == written
    assert found.head == HEAD
    assert (found.torn, found.damaged, found.clean_length) == (b"", (), len(data))


@given(
    st.builds(
        Head,
        plan=st.sampled_from(["Winter", '"; ok = true', "日本"]),
        digest=st.just("0" * 16),
        plan_file=st.text(st.characters(codec=None), max_size=80),
        night=st.just(HEAD.night),
        site=st.just("Hill"),
        latitude_deg=st.none() | st.floats(-90, 90),
        telescope=st.just("Tube"),
        rehearsal=st.booleans(),
    )
)
def test_every_head_comes_back_as_it_was_written(head):
    assert find_blocks("s.toml", head_block(head)).head == head


@pytest.mark.parametrize("apart", [7, rarely(1)])
def test_cut_at_any_byte_exactly_the_whole_entries_come_back_and_the_next_tick_is_clean(quick_folder, apart):
    notes = [" ".join(NASTY_NOTES[first::3]) for first in range(3)]
    written = [entry(0), *(unchecked(number, note) for number, note in enumerate(notes, start=1))]
    blocks = [entry_block(item) for item in written]
    data = head_block(HEAD) + b"".join(blocks)
    ends = [len(head_block(HEAD)) + sum(map(len, blocks[:count])) for count in range(len(blocks) + 1)]
    about_ends = {end + near for end in ends for near in range(-3, 4)}
    for cut in {*range(0, len(data) + 1, apart), *about_ends} & {*range(len(data) + 1)}:
        path = write_once(quick_folder / f"{cut}.toml", data[:cut])
        # the line break after `ok = true` adds nothing: the block is whole without it
        whole = sum(end - 1 <= cut for end in ends[1:])
        book = journal.resume(path, HEAD)
        assert numbers(book.entries) == list(range(whole)), cut
        kept = quick_folder / f"{cut}.toml.torn"
        torn = kept.read_bytes() if kept.exists() else b""
        assert torn == b"" or f"kept in {kept.name}" in book.message
        if cut >= ends[0] - 1:
            assert path.read_bytes() + torn == data[:cut]
        else:  # the head itself was cut: all but its opening remark is in the copy
            assert data[:cut].endswith(torn)
            assert (SIGNATURE + b"\n").startswith(data[: cut - len(torn)])
        book.append(entry(777))
        again = journal.read(path)
        assert numbers(again.entries) == [*range(whole), 777]
        assert again.message == ""
        assert again.head == HEAD


def test_a_cut_loses_no_byte_of_what_was_there(path):
    book = journal.create(path, HEAD)
    book.append(entry(1))
    book.append(entry(2, "a note that is cut"))
    data = path.read_bytes()
    path.write_bytes(data[:-20])
    journal.resume(path)
    assert path.read_bytes() + path.with_name("session.toml.torn").read_bytes() == data[:-20]


def test_reading_a_torn_journal_changes_nothing(path, tmp_path):
    journal.create(path, HEAD).append(entry(1))
    data = path.read_bytes()[:-12]
    path.write_bytes(data)
    back = journal.read(path)
    assert back.entries == ()
    assert back.torn == data[len(head_block(HEAD)) + 1 :]
    assert "interrupted write" in back.message
    assert path.read_bytes() == data
    assert list(tmp_path.iterdir()) == [path]


def test_an_earlier_torn_copy_is_never_overwritten_and_the_same_one_not_made_twice(path):
    journal.create(path, HEAD)
    clean = path.read_bytes()
    for tail in (b"\n[[entry]]\nat", b"\n[[entry]]\nev", b"\n[[entry]]\nat"):
        path.write_bytes(clean + tail)
        journal.resume(path)
    copies = {copy.name: copy.read_bytes() for copy in path.parent.glob("*.torn")}
    assert copies == {"session.toml.torn": b"[[entry]]\nat", "session.toml.2.torn": b"[[entry]]\nev"}
    assert all(stat.S_IMODE(copy.stat().st_mode) == 0o600 for copy in path.parent.glob("*.torn"))


def test_zeros_that_a_dying_disk_leaves_at_the_end_are_a_torn_tail(path):
    journal.create(path, HEAD).append(entry(1))
    path.write_bytes(path.read_bytes() + b"\0" * 4096)
    book = journal.resume(path)
    book.append(entry(2))
    assert numbers(journal.read(path).entries) == [1, 2]


@pytest.mark.parametrize("apart", [4, rarely(1)])
def test_a_flipped_byte_costs_the_entry_it_is_in_and_no_other(apart):
    written = [entry(number, note) for number, note in enumerate(NASTY_NOTES[2:5])]
    head, blocks = head_block(HEAD), [entry_block(item) for item in written]
    data = head + b"".join(blocks)
    for position in range(0, len(data), apart):
        ends = itertools.accumulate(map(len, blocks), initial=len(head))
        hit = next(number for number, end in enumerate(ends) if position < end) - 1
        for flip in (0x01, 0x80, 0x0A ^ data[position]):
            damaged = bytearray(data)
            damaged[position] ^= flip
            try:
                found = find_blocks("s.toml", bytes(damaged))
            except NightmodeError as error:
                assert "later version" in str(error)  # noqa: PT017
                continue
            assert [item for item in found.entries if item in written] == [
                item for number, item in enumerate(written) if number != hit or flip == 0
            ] or found.entries == tuple(written)
            assert hit == -1 or found.head == HEAD


def test_damage_in_the_middle_is_named_by_its_line_and_the_original_is_kept(path):
    book = journal.create(path, HEAD)
    for number in range(5):
        book.append(entry(number))
    data = path.read_bytes().replace(b"NGC 2", b"NGC \xff")
    path.write_bytes(data)
    book = journal.resume(path)
    header = data[: data.index(b"\xff")].rindex(b"[[entry]]")
    line = data.count(b"\n", 0, header) + 1
    assert f"line {line} " in book.message
    assert "session.toml.damaged" in book.message
    assert path.with_name("session.toml.damaged").read_bytes() == data
    assert numbers(book.entries) == [0, 1, 3, 4]
    book.append(entry(5))
    assert numbers(journal.read(path).entries) == [0, 1, 3, 4, 5]
    assert journal.resume(path).message == ""


def test_an_entry_that_no_model_takes_is_damage_with_its_reason(path):
    book = journal.create(path, HEAD)
    book.append(entry(1))
    book.append(entry(2))
    path.write_bytes(path.read_bytes().replace(b"altitude_deg = 41.25", b"altitude_deg = 95.0", 1))
    back = journal.read(path)
    assert numbers(back.entries) == [2]
    assert "altitude_deg 95.0 is out of range" in back.message


def test_an_entry_whose_ok_stands_in_a_table_of_its_own_is_damage(path):
    book = journal.create(path, HEAD)
    book.append(entry(1))
    book.append(entry(2))
    before, ok, after = path.read_bytes().rpartition(b"ok = true\n\n")
    path.write_bytes(before + b"[entry.more]\n" + ok + after)
    back = journal.read(path)
    assert numbers(back.entries) == [2]
    assert "does not end with ok = true" in back.message


def test_a_damaged_head_takes_no_entry_with_it(path):
    book = journal.create(path, HEAD)
    book.append(entry(1))
    path.write_bytes(path.read_bytes().replace(b"telescope", b"telescop\xff"))
    assert journal.read(path).head is None
    assert numbers(journal.read(path).entries) == [1]
    with pytest.raises(NightmodeError, match="head is damaged"):
        journal.resume(path)
    book = journal.resume(path, HEAD)
    assert (book.head, numbers(book.entries)) == (HEAD, [1])
    assert "head" in book.message
    assert journal.read(path).head == HEAD


def test_a_journal_edited_by_hand_with_other_line_ends_and_remarks_is_whole(path):
    book = journal.create(path, HEAD)
    book.append(entry(1))
    book.append(entry(2, "two"))
    text = path.read_text().replace("\n", "\r\n").replace("ok = true", "ok = true   # checked").rstrip()
    path.write_bytes(("\ufeff" + text).encode().removeprefix(b"\xef\xbb\xbf"))
    book = journal.resume(path)
    assert (book.message, numbers(book.entries)) == ("", [1, 2])
    book.append(entry(3))
    assert numbers(journal.read(path).entries) == [1, 2, 3]


@pytest.mark.parametrize(
    "data", [b'title = "a plan"\n[[target]]\nname = "M 13"\n', b"\x7fELF\0\0\0", b"hello", b"ok = true\n"]
)
def test_a_file_that_is_no_journal_is_refused_and_left_alone(path, data):
    write_once(path, data)
    for attempt in (journal.read, journal.resume, lambda where: journal.resume(where, HEAD)):
        with pytest.raises(NightmodeError, match="is not the journal of a session"):
            attempt(path)
    assert path.read_bytes() == data
    assert list(path.parent.iterdir()) == [path]


def test_a_journal_of_a_later_version_is_refused_and_left_alone(path):
    data = head_block(HEAD).replace(b"format = 1", b"format = 2")
    write_once(path, data)
    with pytest.raises(NightmodeError, match="later version"):
        journal.resume(path, HEAD)
    assert path.read_bytes() == data


def test_a_journal_that_is_there_is_never_begun_again(path):
    journal.create(path, HEAD).append(entry(1))
    with pytest.raises(NightmodeError, match="is there already"):
        journal.create(path, HEAD)
    assert numbers(journal.read(path).entries) == [1]


def test_an_entry_is_written_in_one_go_and_flushed_before_it_counts(path, monkeypatch):
    book = journal.create(path, HEAD)
    spy = Spy()
    for name in ("write", "fsync"):
        monkeypatch.setattr(os, name, getattr(os, name))  # so that it is put back afterwards
        spy.wrap(os, name)
    book.append(entry(1, "x" * 2000))
    assert spy.calls == ["write", "fsync"]


def test_a_torn_copy_is_on_the_disk_before_the_journal_is_cut(path, monkeypatch):
    journal.create(path, HEAD)
    path.write_bytes(path.read_bytes() + b"\n[[entry]]\nat")
    spy = Spy()
    for name in ("write", "fsync", "link", "ftruncate"):
        monkeypatch.setattr(os, name, getattr(os, name))
        spy.wrap(os, name)
    journal.resume(path)
    assert spy.calls == ["write", "fsync", "link", "fsync", "ftruncate", "fsync"]


@pytest.mark.parametrize("count", [1_000, rarely(10_000)])
def test_thousands_of_entries_are_read(path, count):
    write_once(path, head_block(HEAD) + b"".join(entry_block(entry(n, NASTY_NOTES[4])) for n in range(count)))
    assert len(journal.read(path).entries) == count


def test_a_journal_never_grows_past_what_is_read_back(path, monkeypatch):
    book = journal.create(path, HEAD)
    monkeypatch.setattr(journal, "LIMIT_BYTES", len(path.read_bytes()) + 500)
    book.append(entry(1))
    with pytest.raises(NightmodeError, match="not saved"):
        book.append(entry(2, "x" * 400))
    assert numbers(journal.read(path).entries) == [1]


@settings(max_examples=200)
@given(
    st.binary(max_size=400)
    | st.lists(
        st.sampled_from(
            [
                b"[[entry]]\n",
                b"ok = true\n",
                b"\0",
                b"[session]\n",
                b"at = 2027-01-09T18:00:00Z\n",
                b'event = "note"\n',
                b"\xff",
                b"ok",
                b"\r\n",
                b"# x\n",
                b'note = """\n',
            ]
        ),
        max_size=30,
    ).map(b"".join)
)
def test_any_bytes_are_read_without_complaint_and_no_byte_is_unaccounted_for(data):
    found = find_blocks("s.toml", data)
    assert len(found.entries) == len(found.whole)
    assert data.endswith(found.torn)
    assert found.clean_length + len(found.torn) == len(data)
