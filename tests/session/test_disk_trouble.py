import errno
import os
import shutil
import subprocess

import pytest
from rows import rows
from session.children import add_without_permission, heard, start
from session.samples import HEAD, entry, numbers

from nightmode.errors import NightmodeError
from nightmode.files.replace import safe_replace
from nightmode.files.text import trouble
from nightmode.session import journal


def test_a_full_disk_refuses_the_entry_harms_nothing_and_takes_it_once_there_is_room(full_disk):
    path = full_disk.folder / "session.toml"
    book = journal.create(path, HEAD)
    book.append(entry(0))
    full_disk.fill(path, room=100)
    saved = 1
    with pytest.raises(NightmodeError, match=full_disk.words):  # noqa: PT012
        while True:  # a small disk has up to one page left in the journal itself
            book.append(entry(saved, "x" * 500))
            saved += 1
    before = path.read_bytes()
    for _ in range(3):
        with pytest.raises(NightmodeError, match="not saved"):
            book.append(entry(saved, "x" * 500))
    assert path.read_bytes() == before
    assert numbers(book.entries) == list(range(saved))
    full_disk.make_room()
    book.append(entry(saved, "x" * 500))
    assert numbers(journal.read(path).entries) == list(range(saved + 1))
    assert journal.read(path).message == ""


def test_what_a_full_disk_left_of_a_block_is_taken_away_at_the_next_try(full_disk, monkeypatch):
    path = full_disk.folder / "session.toml"
    book = journal.create(path, HEAD)
    with monkeypatch.context() as patch:

        def cannot(*_):
            raise OSError(errno.EIO, "the disk will not even shorten a file")

        patch.setattr(os, "ftruncate", cannot)
        full_disk.fill(path, room=100)
        saved = 0
        with pytest.raises(NightmodeError, match="not saved"):  # noqa: PT012
            while True:
                book.append(entry(saved, "x" * 500))
                saved += 1
    left_behind = journal.read(path)
    assert left_behind.torn is not None
    assert numbers(left_behind.entries) == list(range(saved))
    full_disk.make_room()
    book.append(entry(saved, "y"))
    assert journal.read(path).torn is None
    assert numbers(journal.read(path).entries) == list(range(saved + 1))


def test_a_disk_that_fails_to_flush_has_not_saved(tmp_path, monkeypatch):
    path = tmp_path / "session.toml"
    book = journal.create(path, HEAD)
    with monkeypatch.context() as patch:

        def fails(_):
            raise OSError(errno.EIO, "Input/output error")

        patch.setattr(os, "fsync", fails)
        with pytest.raises(NightmodeError, match="not saved, the disk reports an error"):
            book.append(entry(1))
    assert numbers(journal.read(path).entries) == []
    book.append(entry(1))
    assert numbers(journal.read(path).entries) == [1]


def test_a_full_disk_leaves_the_old_file_whole_and_no_litter(full_disk):
    path = full_disk.folder / "observer.toml"
    safe_replace(path, b"old" * 100)
    full_disk.fill(path, room=0)
    with pytest.raises(NightmodeError, match=full_disk.words):
        safe_replace(path, b"new" * 30_000, force=True)
    assert path.read_bytes() == b"old" * 100
    assert [item.name for item in full_disk.folder.iterdir() if item.name.startswith(".")] == []


def test_no_permission_is_one_sentence_and_saves_nothing(tmp_path):
    path = tmp_path / "session.toml"
    journal.create(path, HEAD).append(entry(1))
    child, ours = start(add_without_permission, path)
    child.join()
    [(sentence, count)] = heard(ours)
    assert "not saved, there is no permission" in sentence
    assert count == 1
    assert numbers(journal.read(path).entries) == [1]


def test_a_vanished_folder_refuses_until_it_comes_back(tmp_path):
    stick = tmp_path / "stick"
    stick.mkdir()
    path = stick / "session.toml"
    book = journal.create(path, HEAD)
    book.append(entry(1))
    stick.rename(tmp_path / "pulled out")
    for _ in range(2):
        with pytest.raises(NightmodeError, match="not saved, there is no such file or folder"):
            book.append(entry(2))
    assert not stick.exists()
    (tmp_path / "pulled out").rename(stick)
    book.append(entry(2))
    assert numbers(journal.read(path).entries) == [1, 2]


def test_a_stick_with_the_same_file_on_another_disk_goes_on(tmp_path):
    path = tmp_path / "session.toml"
    book = journal.create(path, HEAD)
    book.append(entry(1))
    shutil.copy(path, tmp_path / "copy")
    (tmp_path / "copy").replace(path)
    book.append(entry(2))
    assert numbers(journal.read(path).entries) == [1, 2]


def test_another_file_under_the_same_name_is_not_written_to(tmp_path):
    path = tmp_path / "session.toml"
    book = journal.create(path, HEAD)
    book.append(entry(1))
    other = path.read_bytes().replace(b"NGC 1", b"NGC 9")
    path.unlink()
    path.write_bytes(other)
    with pytest.raises(NightmodeError, match="another program has changed it"):
        book.append(entry(2))
    assert path.read_bytes() == other


@pytest.mark.parametrize("change", [lambda data: data + b"# hello\n", lambda data: data[:-10], lambda _: b""])
def test_a_journal_changed_by_another_program_is_not_written_to(tmp_path, change):
    path = tmp_path / "session.toml"
    book = journal.create(path, HEAD)
    book.append(entry(1))
    changed = change(path.read_bytes())
    with path.open("r+b") as file:
        file.truncate(0)
        file.write(changed)
    with pytest.raises(NightmodeError, match="another program has changed it"):
        book.append(entry(2))
    assert path.read_bytes() == changed
    assert numbers(book.entries) == [1]


def test_a_file_removed_while_it_is_written_has_not_saved(tmp_path, monkeypatch):
    path = tmp_path / "session.toml"
    book = journal.create(path, HEAD)
    real = os.fsync

    def removed_meanwhile(handle):
        path.unlink(missing_ok=True)
        real(handle)

    monkeypatch.setattr(os, "fsync", removed_meanwhile)
    with pytest.raises(NightmodeError, match="not saved"):
        book.append(entry(1))
    assert book.entries == ()


def test_a_read_only_disk_is_one_sentence_each_time(small_disk, tmp_path):
    if small_disk is None:  # where none can be mounted, at least the sentence
        error = trouble(tmp_path / "s.toml", OSError(errno.EROFS, "Read-only file system"), "not saved")
        assert "not saved, the disk is read-only" in str(error)
        return
    path = small_disk / "session.toml"
    book = journal.create(path, HEAD)
    path.write_bytes(path.read_bytes() + b"\n[[ent")
    torn = path.read_bytes()
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    for refused in (
        lambda: book.append(entry(1)),
        lambda: journal.create(small_disk / "new.toml", HEAD),
        lambda: journal.resume(path),
        lambda: safe_replace(path, b"x", force=True),
    ):
        with pytest.raises(NightmodeError, match="the disk is read-only"):
            refused()
    assert journal.read(path).torn is not None
    assert path.read_bytes() == torn


@rows("number", sorted(errno.errorcode))
def test_every_refusal_of_the_system_is_one_printable_sentence(tmp_path, number):
    sentence = str(trouble(tmp_path / "s\x1b.toml", OSError(number, os.strerror(number)), "not saved"))
    assert "not saved, " in sentence
    assert sentence.isprintable()
