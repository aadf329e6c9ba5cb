"""`nightmode learn`: what was predicted beside what was seen; written only when told to."""

import math
import random
import tomllib

import pytest
from history.keeping import keep, tick

from nightmode.files.places import observer_file, prepare
from nightmode.visibility import margin
from nightmode.words import Word

TRUE_FACTOR = 1.5
OBSERVER = """# my own remark
[observer]
experience = 2.4  # as shipped
"""


def word(margin_dex):
    return str(Word(margin.word(margin_dex).item()).value)


@pytest.fixture
def a_year():
    """Keep ticks of an eye that needs less light than the program thinks."""
    lot = random.Random(11)
    for number in range(12):
        night = f"2027-{number + 1:02}-09"
        ticks = []
        for place in range(20):
            margin = round(lot.uniform(-0.5, 0.9), 3)
            chance = 0.5 * math.erfc(-(margin + math.log10(2.4 / TRUE_FACTOR)) / 0.2 / math.sqrt(2))
            outcome = "seen" if lot.random() < chance else "not seen"
            said = {"verdict": word(margin), "margin_dex": margin, "experience": 2.4}
            ticks.append(tick(f"NGC {1000 + 20 * number + place}", outcome, place, night, **said))
        keep(*ticks, night=night, plan=f"Plan {number}")
    prepare(observer_file()).write_text(OBSERVER)


def test_the_table_and_the_experience_and_what_it_would_change(command, a_year):
    told = command("learn")
    assert "240 ticks" in told
    assert "called easy:" in told
    assert "experience in use 2.40; what you saw speaks for 1." in told
    found = command.json("learn")
    assert found["experience"]["low"] <= TRUE_FACTOR <= found["experience"]["high"]
    row = next(one for one in found["table"] if one["called"] == "hard")
    assert row["seen"] + row["suspected"] + row["not_seen"] == found["words_now"]["hard"]
    assert found["words_then"]["easy"] > found["words_now"]["easy"]
    assert sum(found["words_then"].values()) == 240
    assert observer_file().read_text() == OBSERVER


def test_it_is_written_only_when_told_and_remarks_stay(command, a_year):
    found = command.json("learn")["experience"]["factor"]
    assert "Wrote experience = " in command("learn", "--write")
    text = observer_file().read_text()
    assert tomllib.loads(text)["observer"]["experience"] == pytest.approx(found, abs=0.006)
    assert "# my own remark" in text
    again = command.json("learn")
    assert again["experience"]["factor"] == pytest.approx(found, abs=0.001)  # nothing is learnt twice


def test_too_little_is_said_plainly_and_nothing_is_written(command):
    prepare(observer_file()).write_text(OBSERVER)
    assert "Too little to learn from: 0 ticks" in command("learn")
    keep(tick("M 31", verdict="easy", margin_dex=0.6, experience=2.4))
    assert "Too little to learn from: 1 tick of" in command("learn")
    assert command.json("learn")["experience"] is None
    assert "too little to go by" in command("learn", "--write", code=2)
    assert observer_file().read_text() == OBSERVER


def test_rehearsals_teach_nothing(command):
    said = {"verdict": "easy", "margin_dex": 0.6, "experience": 2.4}
    keep(*(tick(f"NGC {place}", minute=place, **said) for place in range(1, 60)), rehearsal=True)
    assert command.json("learn")["ticks"] == 0
