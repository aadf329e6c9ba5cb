"""Two programs on one session: the second is told who has it, may look on, and never writes."""

from nightmode.model.session import Event
from nightmode.session.journal import read


def opened(start, *flags):
    program = start("demo", "--at", "21:00", *flags)
    program.wait_for("to do")
    return program


def test_a_second_program_is_told_which_process_has_the_session_until_that_is_killed(start, demo_journal):
    first = opened(start)
    first.press("space", then=": seen")
    before = demo_journal.read_bytes()
    for flags in ((), ("--afresh",)):
        second = start("demo", *flags)
        assert second.end() == 2
        words = " ".join(second.shown().split())
        assert f"process {first.child.pid} has this session open" in words
        assert "look on with --watch" in words
        assert demo_journal.read_bytes() == before
    first.press("s", then=": suspected")
    assert len(read(demo_journal).entries) == 2
    first.kill()
    assert demo_journal.with_name(demo_journal.name + ".lock").exists()
    third = start("demo", "--at", "21:00")
    third.wait_for("going on: 2 done")
    third.press("space", then=": seen")


def test_a_watcher_follows_tick_by_tick_and_notes_nothing(start, demo_journal):
    first = opened(start)
    first.press("space", then=": seen")
    watcher = opened(start, "--watch")
    watcher.wait_shown("watching only")
    watcher.wait_shown(" 1 done ")
    first.press("s", then=": suspected")
    watcher.wait_shown(" 2 done ")
    first.press("u", then="undone")
    watcher.wait_shown(" 1 done ")
    first.press("/", *"ngc 404", "enter", then="NGC 404 is added for tonight")
    watcher.wait_shown(" 24 to do ")
    watcher.press("/", *"ngc 404", "enter", then="this is NGC 404")
    first.press("u", then="undone: NGC 404")
    watcher.wait_shown(" 23 to do ")
    before = demo_journal.read_bytes()
    for keys in (["space"], ["u"], ["3"], ["w"], ["n"], ["m"], ["c"], ["i"], ["t"]):
        watcher.press("j")
        watcher.press(*keys, then="watching only, nothing is noted")
    assert " 1 done " in watcher.shown()
    demo_journal.rename(demo_journal.with_suffix(".gone"))
    watcher.run(1.2)
    demo_journal.with_suffix(".gone").rename(demo_journal)
    first.press("x", then=": not seen")
    watcher.wait_shown(" 2 done ")
    watcher.press("q", then="q again leaves")
    watcher.press("q")
    assert watcher.end() == 0
    assert demo_journal.read_bytes().startswith(before)
    assert [entry.event for entry in read(demo_journal).entries].count(Event.PAUSE) == 0


def test_looking_on_at_a_session_that_was_never_begun_is_one_sentence(start, demo_journal):
    program = start("demo", "--watch")
    assert program.end() == 2
    assert "there is no such file" in program.shown()
    assert not demo_journal.exists()
