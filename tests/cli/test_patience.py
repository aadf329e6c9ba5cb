"""Whoever waits is told that the work goes on; whoever need not is told nothing."""

import threading

from nightmode.cli import patience as waiting
from nightmode.light import terminal


def test_a_line_comes_on_the_error_output_only_while_the_work_goes_on(capsys, monkeypatch):
    monkeypatch.setattr(waiting, "PATIENCE_S", 0.01)
    told, say = threading.Event(), terminal.say_red
    monkeypatch.setattr(terminal, "say_red", lambda words: (say(words), told.set()))
    with waiting.patience("judging"):
        assert told.wait(10.0)
    assert capsys.readouterr() == ("", "still judging ...\n")


def test_quick_work_is_done_without_a_word(capsys, monkeypatch):
    monkeypatch.setattr(waiting, "PATIENCE_S", 3600.0)
    before = threading.active_count()
    with waiting.patience("judging"):
        pass
    assert capsys.readouterr() == ("", "")
    assert threading.active_count() <= before + 1  # the timer ends without having to be waited for
