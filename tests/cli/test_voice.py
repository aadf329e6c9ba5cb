"""`--voice` where nothing can speak: one sentence before the terminal is taken."""

import importlib.util

import pytest

from nightmode.cli.main import main


@pytest.mark.parametrize("command", [("demo",), ("walk", "plan.toml")])
def test_without_a_voice_a_sentence_says_what_to_install(command, monkeypatch, tmp_path, capsys):
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None)
    assert main([*command, "--voice"]) == 2
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert "apt install espeak-ng" in told
    assert "pip install 'nightmode[voice]'" in told
