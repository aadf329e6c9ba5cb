"""Which engine speaks, and words in a sound file."""

import importlib.util
import shutil
import sys
import tempfile
import wave

import numpy as np
import pytest

from nightmode.errors import NightmodeError
from nightmode.model.observer import Person
from nightmode.voice import system_voices
from nightmode.voice.engine import FASTEST_WPM, SLOWEST_WPM, USUAL_WPM, engine
from nightmode.voice.sound_file import write_wav

WORDS = ["M 57.", "Planetary nebula in Lyra.", "From Vega, six and a half degrees left."]


def test_the_observers_usual_pace_is_that_of_the_engine():
    pace = Person.model_fields["voice_words_per_min"]
    limits = {type(one).__name__: getattr(one, type(one).__name__.lower()) for one in pace.metadata}
    assert (pace.default, limits) == (USUAL_WPM, {"Ge": SLOWEST_WPM, "Le": FASTEST_WPM})


@pytest.fixture
def without(monkeypatch):
    """Return a function that takes engines away."""
    find_spec = importlib.util.find_spec

    def take(*names):
        monkeypatch.setattr(shutil, "which", lambda name: None if name in names else f"/usr/bin/{name}")
        monkeypatch.setattr(
            importlib.util, "find_spec", lambda name: None if name in names else find_spec(name)
        )

    return take


@pytest.mark.parametrize(
    ("system", "missing", "name"),
    [
        ("linux", (), "espeak-ng"),
        ("linux", ("espeak-ng",), "pyttsx3"),
        ("darwin", (), "pyttsx3"),
        ("darwin", ("pyttsx3",), "espeak-ng"),
        ("win32", (), "pyttsx3"),
    ],
)
def test_the_best_voice_that_is_there_speaks(without, monkeypatch, system, missing, name):
    without(*missing)
    monkeypatch.setattr(sys, "platform", system)
    assert engine().name == name


@pytest.mark.parametrize(
    ("system", "wanted"), [("linux", "apt install espeak-ng"), ("win32", "pip install 'nightmode[voice]'")]
)
def test_without_one_a_sentence_says_what_to_install(without, monkeypatch, system, wanted):
    without("espeak-ng", "pyttsx3")
    monkeypatch.setattr(sys, "platform", system)
    with pytest.raises(NightmodeError, match="nothing to speak with") as refused:
        engine()
    assert wanted in str(refused.value)


@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="espeak-ng is not installed")
def test_espeak_ng_speaks_words_into_a_file(tmp_path):
    """People read aloud at 140 to 180 words a minute (Brysbaert 2019, J. Mem. Lang. 109, 104047)."""
    path = tmp_path / "night.wav"
    write_wav(WORDS, path, 150)
    with wave.open(str(path)) as file:
        seconds = file.getnframes() / file.getframerate()
        sound = np.frombuffer(file.readframes(file.getnframes()), np.int16).astype(float)
    at_rate_s = sum(len(sentence.split()) for sentence in WORDS) / 150 * 60
    assert 0.7 * at_rate_s < seconds < 2.5 * at_rate_s
    loud = np.abs(sound) > 0.02 * np.iinfo(np.int16).max
    assert 0.2 < loud.mean() < 0.95  # neither silence nor a tone: words, and pauses between them


def test_a_file_that_is_there_is_left_alone_unless_told(stand_in, tmp_path):
    path = tmp_path / "night.wav"
    path.write_bytes(b"mine")
    stand_in.does("import wave\nw = wave.open(sys.argv[-1], 'wb')\nw.setparams((1, 2, 22050, 0, 'NONE', ''))")
    with pytest.raises(NightmodeError, match=r"night\.wav"):
        write_wav(WORDS, path)
    assert path.read_bytes() == b"mine"
    write_wav(WORDS, path, force=True)
    assert path.read_bytes()[:4] == b"RIFF"


@pytest.mark.parametrize(
    ("does", "why"),
    [
        ("sys.exit('no voice')", "no voice"),
        ("sys.exit(4)", "ended with 4"),
        ("", "ended with 0"),
        ("open(sys.argv[-1], 'wb').write(b'FORM....AIFF')", "no WAV"),
    ],
)
def test_an_engine_that_writes_no_sound_leaves_no_file(stand_in, tmp_path, does, why):
    stand_in.does(does)
    with pytest.raises(NightmodeError, match=why):
        write_wav(WORDS, tmp_path / "night.wav")
    assert not (tmp_path / "night.wav").exists()


def test_a_folder_that_is_not_there_is_said(stand_in, tmp_path):
    stand_in.does("import wave\nw = wave.open(sys.argv[-1], 'wb')\nw.setparams((1, 2, 22050, 0, 'NONE', ''))")
    with pytest.raises(NightmodeError, match="nosuch"):
        write_wav(WORDS, tmp_path / "nosuch" / "night.wav")


def test_a_disk_that_refuses_the_passing_file_is_said(stand_in, tmp_path, monkeypatch):
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "nosuch"))
    with pytest.raises(NightmodeError, match="the temporary folder: not made"):
        write_wav(WORDS, tmp_path / "night.wav")
    assert not (tmp_path / "night.wav").exists()


def test_the_library_is_asked_as_the_program_is(capsys):
    """The library's own driver for trials tells what it would say, and makes no sound."""
    assert system_voices.main(["-s", "150", "-d", "dummy"], "M 57.") == 0
