"""`nightmode say`: a night told beforehand, as text and through the real voice where there is one."""

import importlib.util
import io
import re
import shutil
import tomllib
import wave

import numpy as np
import pytest
from cli.conftest import SITE_A
from night.test_moving import COMET

from nightmode.files.places import shipped
from nightmode.wording.spoken.ear import name_for_ear

HILLSIDE = shipped("plans") / "hillside.toml"
#: Words that a voice speaks in twelve seconds at 150 a minute.
MOST_WORDS = 30
SOUTH = """
[site]
name = "Paddock"
latitude_deg = -34.0
longitude_deg = 149.0
elevation_m = 600.0
timezone = "Australia/Sydney"
sky_brightness = 21.5
[telescope]
name = "200 mm reflector"
aperture_mm = 200
focal_length_mm = 1000
obstruction_mm = 50
[[eyepiece]]
name = "25 mm"
focal_length_mm = 25
[[eyepiece]]
name = "8 mm"
focal_length_mm = 8
"""


BINOCULARS = """
[[binoculars]]
name = "15x70 binoculars"
magnification = 15
aperture_mm = 70
true_field_deg = 4.4
"""


def words_of(sentence):
    return re.findall(r"[^\s-]+", sentence)


def test_a_night_is_told_in_the_order_of_the_walk_each_target_once(command):
    told = command("say", HILLSIDE)
    lines = told.splitlines()
    assert lines[:2] == [
        "Thin Moon over Larkfell.",
        "The night of the thirteenth of December twenty twenty-six.",
    ]
    assert "Never point telescope, finder or eye at the Sun, or sweep near it." in lines
    assert "Dark from eighteen oh four to five forty-eight." in lines
    places = [told.index(f"\n{name}.\n") for name in ("Moon", "Albireo", "M 30", "M 31", "Jupiter", "M 81")]
    assert places == sorted(places)
    assert (
        told.index("\nThe Moon sets.\n") < told.index("\nJupiter.\n") < told.index("\nDawn in thirty minutes")
    )
    assert lines[-1].startswith("Keep warm")
    names = [target["name"] for target in tomllib.loads(HILLSIDE.read_text(encoding="utf-8"))["target"]]
    said = {f"{name_for_ear(name)}." for name in names}
    turns = [line for line in told.splitlines() if line in said]
    assert len(turns) == len(set(turns)) == len(names) - 1
    assert "Twenty-nine targets to look at." in told
    assert "Not tonight: N G C thirteen sixty-five." in told.splitlines()


@pytest.mark.parametrize("every", [pytest.param(1, marks=pytest.mark.long), 9])
def test_every_sentence_is_short_and_holds_words_alone(command, plan, every):
    messier = [f"M {number}" for number in range(1, 111, every)]
    south = [
        "NGC 104",
        "NGC 5139",
        "NGC 3372",
        "NGC 2070",
        "Alpha Centauri",
        "Sirius",
        "Acrux",
        "Plato",
        "Tycho",
    ]
    more = ["Albireo", "Castor", "Epsilon Lyrae", "Jupiter", "Mars", "Saturn", "Moon", "Copernicus"]
    told = command("say", plan(messier + more)) + command("say", plan(south + more, head=SOUTH))
    assert len(told.splitlines()) > 200
    for line in told.splitlines():
        assert re.fullmatch(r"[A-Za-zÀ-ɏ0-9 .,:?!'\-]+", line), line
        assert len(words_of(line)) <= MOST_WORDS, line
        assert line[-1] in ".?!"


def test_a_comet_tells_its_pace_and_of_several_instruments_the_one_to_use_is_named(command, plan, tmp_path):
    (tmp_path / "elements.txt").write_text(COMET)
    few = plan(
        ["M 45", "NGC 7662", "C/2027 A1"],
        night="2026-12-20",
        head=f'elements = "elements.txt"\n{SITE_A}{BINOCULARS}',
    )
    lines = command("say", few).splitlines()
    assert "C twenty twenty-seven A-one." in lines
    assert any(re.match(r"Moves .+ an hour, about magnitude .+, comets are often", line) for line in lines)
    assert lines[lines.index("M 45.") :].index("Use the fifteen by seventy binoculars.") < 8
    assert "Use the one hundred and fifty millimetre reflector." in lines


def test_a_variable_star_tells_what_to_expect_and_when_it_changes(command, plan):
    told = command("say", plan(["Algol", "SS Cyg"], night="2026-12-11"))
    assert re.search(r"^Algol\.\nVariable star in Perseus\.$", told, re.M)
    assert re.search(r"^Next minimum: [\w\- ]+ plus or minus [\w\- ]+\.$", told, re.M)
    assert "S S Cygni.\nVariable star in Cygnus.\n" in told
    assert "\nIts outbursts cannot be foreseen.\n" in told


def test_one_who_wants_answers_alone_is_not_told_what_happens_by_itself(command, plan, tmp_path):
    observer, few = tmp_path / "observer.toml", plan(["M 31"])
    observer.write_text('[observer]\nvoice = "answers"\n', encoding="utf-8")
    assert "The Moon sets." in command("say", few)
    told = command("say", few, "--observer", observer)
    assert "M 31." in told
    assert "The Moon sets." not in told


def test_words_go_to_a_file_that_is_never_replaced_unasked(command, plan, tmp_path):
    path, few = tmp_path / "night.txt", plan(["M 31"])
    assert re.fullmatch(r"Wrote \d+ sentences to .+\n", command("say", few, "-o", path))
    written = path.read_text(encoding="utf-8")
    assert "\nGalaxy in Andromeda.\n" in written
    path.write_text("mine", encoding="utf-8")
    assert "is there already" in command("say", few, "-o", path, code=2)
    assert path.read_text(encoding="utf-8") == "mine"
    command("say", few, "-o", path, "--force")
    assert path.read_text(encoding="utf-8") == written == command("say", few, "--text")


@pytest.mark.parametrize("wpm", ["0", "20", "1000"])
def test_a_speed_that_no_voice_has_is_refused_in_one_sentence(command, tmp_path, wpm):
    path = tmp_path / "night.wav"
    told = command("say", HILLSIDE, "-o", path, "--wpm", wpm, code=2)
    assert told.count("\n") == 1
    assert "--wpm" in told
    assert not path.exists()


def test_without_a_voice_one_sentence_says_what_to_install(command, plan, tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))
    find = importlib.util.find_spec
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None if name == "pyttsx3" else find(name))
    path = tmp_path / "night.wav"
    told = command("say", plan(["M 31"]), "-o", path, code=2)
    assert "pip install 'nightmode[voice]'" in told
    assert told.count("\n") == 1
    assert not path.exists()


@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="espeak-ng is not installed on this machine")
def test_a_night_becomes_a_sound_file_of_plausible_length_that_is_not_silence(command, plan, tmp_path):
    path = tmp_path / "night.wav"
    short = plan(["M 31", "M 45", "Almach", "Saturn"])
    words = len(words_of(command("say", short)))
    command("say", short, "-o", path, "--wpm", "150")
    with wave.open(io.BytesIO(path.read_bytes())) as sound:
        seconds = sound.getnframes() / sound.getframerate()
        assert sound.getsampwidth() == 2
        samples = np.frombuffer(sound.readframes(sound.getnframes()), dtype="<i2")
    assert 0.6 < seconds / (words / 150 * 60) < 2.0  # pauses come on top of the words
    loud = np.abs(samples.astype(int)) > 1000
    assert 0.1 < loud.mean() < 0.9
    tenths = samples[: samples.size // 10 * 10].reshape(10, -1).astype(int)
    assert (np.abs(tenths).max(axis=1) > 5000).all()  # it speaks from the beginning to the end
