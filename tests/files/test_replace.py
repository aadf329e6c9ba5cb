import errno
import os
import stat

import pytest

from nightmode.errors import NightmodeError
from nightmode.files.replace import make_folder, safe_replace


def _names(folder):
    return sorted(item.name for item in folder.iterdir())


def test_a_new_file_is_written_whole_and_nothing_else_is_left(tmp_path):
    safe_replace(tmp_path / "a.toml", "grüß dich\n")
    assert (tmp_path / "a.toml").read_bytes() == "grüß dich\n".encode()
    assert _names(tmp_path) == ["a.toml"]


def test_what_is_there_is_left_alone_unless_told(tmp_path):
    path = tmp_path / "a.toml"
    safe_replace(path, b"old")
    with pytest.raises(NightmodeError, match="is there already; choose another name or add --force"):
        safe_replace(path, b"new")
    assert path.read_bytes() == b"old"
    safe_replace(path, b"new", force=True)
    assert path.read_bytes() == b"new"
    assert _names(tmp_path) == ["a.toml"]


def test_a_private_file_is_for_the_user_alone_even_if_it_was_not(tmp_path):
    path = tmp_path / "observer.toml"
    safe_replace(path, b"x", private=True)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    path.chmod(0o644)
    safe_replace(path, b"x", force=True, private=True)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_other_files_follow_the_umask_and_keep_their_permissions(tmp_path):
    path = tmp_path / "sheet.html"
    before = os.umask(0o022)
    try:
        safe_replace(path, b"x")
    finally:
        os.umask(before)
    assert stat.S_IMODE(path.stat().st_mode) == 0o644
    path.chmod(0o640)
    safe_replace(path, b"y", force=True)
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_link_keeps_leading_where_it_leads(tmp_path):
    (tmp_path / "kept").mkdir()
    real, link = tmp_path / "kept" / "observer.toml", tmp_path / "observer.toml"
    real.write_bytes(b"old")
    link.symlink_to(real)
    with pytest.raises(NightmodeError, match="is there already"):
        safe_replace(link, b"new")
    safe_replace(link, b"new", force=True)
    assert link.is_symlink()
    assert real.read_bytes() == b"new"


def test_a_link_that_leads_nowhere_is_not_taken_for_a_free_name(tmp_path):
    link = tmp_path / "a.toml"
    link.symlink_to(tmp_path / "b.toml")
    with pytest.raises(NightmodeError, match="is there already"):
        safe_replace(link, b"new")
    safe_replace(link, b"new", force=True)
    assert link.is_symlink()
    assert (tmp_path / "b.toml").read_bytes() == b"new"


def test_links_in_a_circle_are_one_sentence(tmp_path):
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    with pytest.raises(NightmodeError, match="not written"):
        safe_replace(tmp_path / "a", b"x", force=True)
    assert _names(tmp_path) == ["a", "b"]


def test_folders_pipes_and_devices_are_never_replaced(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "folder").mkdir()
    for name, word in (("pipe", "a device or pipe"), ("folder", "a folder"), ("/dev/null", "a device")):
        with pytest.raises(NightmodeError, match=word):
            safe_replace(tmp_path / name, b"x", force=True)
    assert stat.S_ISFIFO((tmp_path / "pipe").stat().st_mode)


@pytest.mark.parametrize("name", ["gone/a.toml", "a\0b", "x" * 300, "file/a.toml"])
def test_a_place_that_cannot_be_is_one_sentence_and_no_folder_grows_there(tmp_path, name):
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(NightmodeError, match="not written") as caught:
        safe_replace(tmp_path / name, b"x")
    assert str(caught.value).isprintable()
    assert _names(tmp_path) == ["file"]


def test_on_a_stick_without_hard_links_the_name_is_claimed_first(tmp_path, monkeypatch):
    def no_links(*_):
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    path = tmp_path / "a.toml"
    safe_replace(path, b"first")
    assert path.read_bytes() == b"first"
    with pytest.raises(NightmodeError, match="is there already"):
        safe_replace(path, b"second")
    assert path.read_bytes() == b"first"
    assert _names(tmp_path) == ["a.toml"]


def test_a_file_that_appears_at_the_last_moment_is_not_replaced(tmp_path, monkeypatch):
    path = tmp_path / "a.toml"
    real = os.fsync

    def somebody_else(handle):
        path.write_bytes(b"theirs")
        real(handle)

    monkeypatch.setattr(os, "fsync", somebody_else)
    with pytest.raises(NightmodeError, match="is there already"):
        safe_replace(path, b"ours")
    assert path.read_bytes() == b"theirs"
    assert _names(tmp_path) == ["a.toml"]


def test_an_interruption_leaves_the_old_file_and_no_litter(tmp_path, monkeypatch):
    path = tmp_path / "a.toml"
    path.write_bytes(b"old")

    def interrupted(_):
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupted)
    with pytest.raises(KeyboardInterrupt):
        safe_replace(path, b"new", force=True)
    assert path.read_bytes() == b"old"
    assert _names(tmp_path) == ["a.toml"]


def test_the_content_is_flushed_before_it_gets_its_name_and_the_folder_after(tmp_path, monkeypatch):
    calls = []
    for name in ("write", "fsync", "link"):
        real = getattr(os, name)
        monkeypatch.setattr(os, name, lambda *a, name=name, real=real: calls.append(name) or real(*a))
    safe_replace(tmp_path / "a.toml", b"x")
    assert calls == ["write", "fsync", "link", "fsync"]


def test_folders_of_our_own_are_for_the_user_alone(tmp_path):
    make_folder(tmp_path / "a" / "b")
    make_folder(tmp_path / "a" / "b")
    assert stat.S_IMODE((tmp_path / "a").stat().st_mode) == 0o700
