"""Real processes killed with SIGKILL, at random moments and at every step; and two at once."""

import fcntl
import random
import time
from pathlib import Path

import pytest
from session.children import (
    add_some,
    die_at_step,
    heard,
    hold_without_end,
    replace_without_end,
    start,
    tick_without_end,
)
from session.samples import HEAD, entry, numbers
from turns import rarely

from nightmode.errors import NightmodeError
from nightmode.files.replace import safe_replace
from nightmode.session import journal
from nightmode.session.lock import HeldError, hold


def _kill_after(child, ours, seconds):
    """Wait until a child speaks, and the given time longer, then kill it; return all it said."""
    first = ours.recv()
    time.sleep(seconds)
    child.kill()
    child.join()
    return [first, *heard(ours)]


@pytest.mark.parametrize("kills", [15, rarely(2_000)])
def test_killed_at_random_moments_nothing_confirmed_is_lost_and_nothing_is_there_twice(tmp_path, kills):
    path = tmp_path / "session.toml"
    chance = random.Random(2027)
    there = 0
    for kill in range(1, kills + 1):
        child, ours = start(tick_without_end, path)
        said = _kill_after(child, ours, chance.uniform(0, 0.02))
        found = numbers(journal.read(path).entries)
        assert found == list(range(len(found)))
        assert said == list(range(there, said[-1] + 1))
        assert said[-1] < len(found) <= said[-1] + 2  # one may be on the disk and not yet confirmed
        there = len(found)
        if kill % 10 == 0:  # a night has an end
            path.rename(tmp_path / f"{kill}.toml")
            there = 0


@pytest.mark.parametrize("kills", [12, rarely(1_000)])
def test_a_file_replaced_by_a_process_that_is_killed_is_the_old_or_the_new_one(tmp_path, kills):
    path = tmp_path / "observer.toml"
    contents = [letter * size for letter, size in ((b"a", 10), (b"b", 100_000), (b"c", 5_000))]
    chance = random.Random(27)
    for _ in range(kills):
        child, ours = start(replace_without_end, path, contents)
        _kill_after(child, ours, chance.uniform(0, 0.01))
        assert path.read_bytes() in contents


def _steps(work, *arguments, before):
    """Kill a child at each of its system calls in turn; return how many there were."""
    for step in range(100):
        before()
        child, ours = start(die_at_step, step, work, *arguments)
        child.join()
        yield step
        if heard(ours):
            return
    raise AssertionError("the work never ended")


def test_killed_at_every_step_of_a_replacement_the_old_or_the_new_file_is_there(quick_folder):
    path = quick_folder / "plan.toml"
    steps = [
        path.read_bytes()
        for _ in _steps(_replace, path, b"new" * 1000, before=lambda: path.write_bytes(b"old"))
    ]
    assert set(steps) == {b"old", b"new" * 1000}
    assert len(steps) > 5


def test_killed_at_every_step_of_a_beginning_there_is_no_journal_or_a_whole_one(quick_folder):
    path = quick_folder / "session.toml"
    found = []
    for _ in _steps(journal.create, path, HEAD, before=lambda: path.unlink(missing_ok=True)):
        found.append(path.exists())
        assert not path.exists() or journal.read(path).head == HEAD
    assert set(found) == {False, True}


@pytest.mark.parametrize(
    ("spoil", "expected"),
    [
        rarely(lambda data: data[:-30], [0, 1, 2]),
        rarely(lambda data: data.replace(b"NGC 1", b"NGC \xff"), [0, 2, 3]),
        (lambda data: data.replace(b"NGC 1", b"NGC \xff")[:-30], [0, 2]),
        (lambda data: data.replace(b"telescope", b"telescop\xff"), [0, 1, 2, 3]),
    ],
    ids=["torn", "damaged", "both", "head"],
)
def test_killed_at_every_step_of_a_repair_no_entry_is_lost_and_the_next_start_does_the_rest(
    quick_folder, spoil, expected
):
    path = quick_folder / "session.toml"
    book = journal.create(path, HEAD)
    for number in range(4):
        book.append(entry(number))
    spoilt = spoil(path.read_bytes())

    def begin():
        for copy in quick_folder.iterdir():
            copy.unlink()
        path.write_bytes(spoilt)

    for _ in _steps(journal.resume, path, HEAD, before=begin):
        assert numbers(journal.read(path).entries) == expected
        again = journal.resume(path, HEAD)
        assert numbers(again.entries) == expected
        again.append(entry(9))
        assert numbers(journal.read(path).entries) == [*expected, 9]
        kept = b"".join(
            copy.read_bytes()
            for copy in quick_folder.iterdir()
            if copy.name.startswith(path.name) and copy != path
        )
        assert spoilt in kept or path.read_bytes().startswith(spoilt.removesuffix(kept))


def test_killed_at_every_step_of_adding_the_entry_is_there_or_not_and_the_rest_is(quick_folder):
    path = quick_folder / "session.toml"
    found = set()

    def begin():
        path.unlink(missing_ok=True)
        journal.create(path, HEAD).append(entry(0))

    for _ in _steps(_add, path, before=begin):
        found.add(tuple(numbers(journal.resume(path).entries)))
    assert found == {(0,), (0, 1)}


def test_a_second_program_is_told_which_process_has_the_session(tmp_path):
    path = tmp_path / "session.toml"
    child, ours = start(hold_without_end, path)
    assert ours.recv() == "held"
    with pytest.raises(HeldError, match=f"process {child.pid} has this session open") as caught:
        hold(path)
    assert caught.value.pid == child.pid
    child.kill()
    child.join()


def test_the_lock_of_a_killed_process_is_taken_over(tmp_path):
    path = tmp_path / "session.toml"
    for _ in range(5):
        child, ours = start(hold_without_end, path)
        assert ours.recv() == "held"
        child.kill()
        child.join()
        assert path.with_name("session.toml.lock").exists()
    with hold(path):
        pass
    assert list(tmp_path.iterdir()) == []


def test_a_lock_file_with_the_number_of_another_living_process_in_it_is_stale_all_the_same(tmp_path):
    path = tmp_path / "session.toml"
    path.with_name("session.toml.lock").write_text("1 elsewhere\n")
    with hold(path):
        assert path.with_name("session.toml.lock").read_text() != "1 elsewhere\n"


@pytest.mark.parametrize("written", [b"", b"\xff\xfe", b"not a number", b"1"])
def test_a_holder_that_did_not_say_who_it_is_still_has_the_session(tmp_path, written):
    path = tmp_path / "session.toml"
    with hold(path):
        path.with_name("session.toml.lock").write_bytes(written)
        with pytest.raises(HeldError, match="another process has this session open") as caught:
            hold(path)
        assert caught.value.pid is None


def test_a_lock_file_removed_at_the_last_moment_by_its_holder_does_not_count(tmp_path, monkeypatch):
    path = tmp_path / "session.toml"
    beside = path.with_name("session.toml.lock")
    real, removed = fcntl.flock, []

    def just_let_go(handle, how):
        if not removed:
            beside.unlink()
            removed.append(handle)
        real(handle, how)

    monkeypatch.setattr(fcntl, "flock", just_let_go)
    with hold(path):
        assert beside.exists()
        with pytest.raises(HeldError):
            hold(path)


def test_letting_go_twice_is_no_error_and_the_session_is_free_again(tmp_path):
    path = tmp_path / "session.toml"
    lock = hold(path)
    lock.release()
    lock.release()
    hold(path).release()


def test_a_lock_that_cannot_be_written_is_one_sentence(tmp_path):
    with pytest.raises(NightmodeError, match="cannot be held, there is no such file or folder"):
        hold(tmp_path / "gone" / "session.toml")


@pytest.mark.parametrize("put", [Path.mkdir, lambda beside: beside.symlink_to("elsewhere")])
def test_what_stands_in_the_place_of_a_lock_is_named(tmp_path, put):
    put(tmp_path / "session.toml.lock")
    with pytest.raises(NightmodeError, match=r"session\.toml\.lock: is no lock of a session; remove it"):
        hold(tmp_path / "session.toml")
    assert len(list(tmp_path.iterdir())) == 1


def test_two_programs_that_take_turns_lose_nothing_of_each_other(tmp_path):
    path = tmp_path / "session.toml"
    journal.create(path, HEAD)
    children = [start(add_some, path, first, 20) for first in (0, 100)]
    for child, ours in children:
        child.join()
        assert heard(ours) == [20]
    found = numbers(journal.read(path).entries)
    assert sorted(found) == [*range(20), *range(100, 120)]


def _replace(path, data):
    safe_replace(path, data, force=True)


def _add(path):
    journal.resume(path).append(entry(1))
