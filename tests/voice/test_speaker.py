"""The app's end of the voice, with the real process that speaks, and with ones that hang, die or babble."""

import asyncio
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from nightmode.voice.speaker import Sentence, Speaker

#: What a test waits for at most.
LONG_S = 20.0
BLOCKS = (sys.executable, "-c", "import time; time.sleep(60)")


class Heard:
    """What the speaker called back with."""

    def __init__(self):
        self.marks, self.stopped = [], []

    async def until(self, holds):
        for _ in range(int(LONG_S / 0.01)):
            if holds():
                return
            await asyncio.sleep(0.01)
        raise AssertionError(f"waited in vain: {self.marks}, {self.stopped}")


@pytest.fixture
async def heard():
    return Heard()


@pytest.fixture
async def speaker(heard):
    """Return a function that starts a speaker, closed at the end."""
    begun = []

    def begin(**options):
        begun.append(Speaker(heard.marks.append, heard.stopped.append, **options))
        return begun[-1]

    yield begin
    for one in begun:
        one.close()
    await asyncio.sleep(0.05)


def sentences(*texts, **options):
    return [Sentence(text, mark=text, **options) for text in texts]


async def test_sentences_are_spoken_in_order_and_each_is_reported(stand_in, heard, speaker):
    speaking = speaker()
    speaking.say(sentences("M 57.", "In Lyra."))
    assert speaking.is_speaking
    await heard.until(lambda: len(heard.marks) == 2)
    assert heard.marks == stand_in.said == ["M 57.", "In Lyra."]
    assert not speaking.is_speaking


async def test_the_process_finds_the_program_where_it_is_not_installed(stand_in, heard, speaker, tmp_path):
    command = (sys.executable, "-S", "-P", "-m", "nightmode.voice.mouth")  # without what is installed
    speaker(command=command).say(sentences("M 57."))
    await heard.until(lambda: heard.marks or heard.stopped)
    assert (heard.marks, heard.stopped) == (["M 57."], [])


async def test_new_words_stop_the_old_ones(stand_in, heard, speaker):
    stand_in.does("if said.startswith('Old'): time.sleep(60)")
    speaking = speaker()
    speaking.say(sentences("Old.", "Never."))
    await heard.until(lambda: stand_in.said == ["Old."])
    speaking.say(sentences("New."))
    await heard.until(lambda: heard.marks == ["New."])
    assert stand_in.said == ["Old.", "New."]


async def test_what_must_be_heard_comes_first_when_it_was_cut_off(stand_in, heard, speaker):
    stand_in.does("if is_first: time.sleep(60)")
    speaking = speaker()
    speaking.say([*sentences("Saved.", must=True), *sentences("M 27.")])
    await heard.until(lambda: stand_in.said == ["Saved."])
    speaking.say(sentences("Forty degrees."))
    await heard.until(lambda: heard.marks == ["Saved.", "Forty degrees."])


async def test_slower_and_faster_change_the_rate_within_limits(stand_in, heard, speaker):
    speaking = speaker(rate_wpm=150)
    speaking.slower()
    speaking.say(sentences("Slower."))
    await heard.until(lambda: heard.marks)
    assert stand_in.told == [("125", "Slower.")]
    for _ in range(20):
        speaking.slower()
    assert speaking.rate_wpm == 80
    for _ in range(20):
        speaking.faster()
    assert speaking.rate_wpm == 300


async def test_a_process_that_blocks_holds_nothing_up_and_is_dropped(heard, speaker, monkeypatch):
    monkeypatch.setattr("nightmode.voice.speaker.BEGIN_S", 0.2)
    began_s = time.monotonic()
    speaking = speaker(command=BLOCKS)
    for number in range(2000):
        speaking.say(sentences(f"M {number}."))
    await heard.until(lambda: heard.stopped)
    assert time.monotonic() - began_s < LONG_S  # it sleeps for a minute
    assert heard.stopped == ["the process that speaks does not answer"]
    speaking.say(sentences("Nobody hears this."))
    assert not speaking.is_speaking


@pytest.mark.parametrize(
    ("code", "why"),
    [
        ("import sys; sys.exit(3)", "has ended"),
        ("print('hello')", "nonsense"),
        ("print('[1]')", "nonsense"),
        ("print('[' * 100_000)", "nonsense"),
        ("import time\nwhile not time.sleep(0.001): print('{\"heard\": 0}', flush=True)", "does not answer"),
        ("import sys\nwhile True: sys.stdout.write('x' * 65536)", "nonsense"),
    ],
    ids=["dies", "text", "a list", "deep", "a flood of nothing new", "a flood"],
)
async def test_a_process_that_fails_is_dropped_once_with_a_reason(heard, speaker, monkeypatch, code, why):
    monkeypatch.setattr("nightmode.voice.speaker.BEGIN_S", 0.5)
    speaker(command=(sys.executable, "-c", code)).say(sentences("M 57."))
    await heard.until(lambda: heard.stopped)
    await asyncio.sleep(0.2)
    assert len(heard.stopped) == 1
    assert why in heard.stopped[0]


async def test_a_program_that_is_not_there_is_a_reason_too(heard, speaker, tmp_path):
    speaker(command=(str(tmp_path / "nosuch"),))
    await heard.until(lambda: heard.stopped)
    assert heard.stopped == ["No such file or directory"]


@pytest.mark.parametrize(
    ("does", "why"),
    [
        ("sys.exit('no such voice')", "espeak-ng: no such voice"),
        ("sys.exit(9)", "espeak-ng: it ended with 9"),
        (
            "sys.stderr.write('ALSA lib\\nerror: No such file or directory\\n')",
            "espeak-ng: no sound device opens (No such file or directory)",
        ),
        ("sys.stderr.write('x' * 5_000_000 + '\\nerror: flooded\\n')", "(flooded)"),
    ],
    ids=["a reason", "a code", "no sound card", "a flood"],
)
async def test_an_engine_that_fails_twice_ends_the_voice_with_its_reason(stand_in, heard, speaker, does, why):
    stand_in.does(does)
    speaker().say(sentences("M 57."))
    await heard.until(lambda: heard.stopped)
    assert why in heard.stopped[0]
    assert (heard.marks, stand_in.said) == ([], ["M 57.", "M 57."])


@pytest.mark.parametrize("limit", ["START_S, WORD_S = 0.5, 0.0", "SILENT_S = 0.2"], ids=["alone", "cut off"])
async def test_an_engine_that_hangs_is_found_out_whether_it_is_left_alone_or_cut_off(
    stand_in, heard, speaker, limit
):
    stand_in.does("time.sleep(60)")
    code = f"from nightmode.voice import mouth; mouth.{limit.replace(', ', ', mouth.', 1)}; mouth.main()"
    speaking = speaker(command=(sys.executable, "-c", code))
    for _ in range(int(LONG_S / 0.1)):
        if limit.startswith("SILENT") or not stand_in.said:
            speaking.say(sentences("M 57."))
        await asyncio.sleep(0.1)
        if heard.stopped:
            break
    assert heard.stopped == ["espeak-ng: it does not end"]


async def test_an_engine_that_fails_once_is_asked_again(stand_in, heard, speaker):
    stand_in.does("sys.exit(is_first)")
    speaker().say(sentences("M 57.", "In Lyra."))
    await heard.until(lambda: len(heard.marks) == 2)
    assert stand_in.said == ["M 57.", "M 57.", "In Lyra."]


async def test_an_engine_that_warns_is_heard(stand_in, heard, speaker):
    stand_in.does("sys.stderr.write('ALSA lib pcm.c: underrun occurred\\n')")
    speaker().say(sentences("M 57."))
    await heard.until(lambda: heard.marks == ["M 57."])


async def test_without_an_engine_the_process_says_what_to_install(heard, speaker, monkeypatch, tmp_path):
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    (tmp_path / "pyttsx3.py").write_text("raise ImportError")
    speaker().say(sentences("M 57."))
    await heard.until(lambda: heard.stopped)
    assert "pyttsx3" in heard.stopped[0]


async def test_nothing_that_an_engine_might_obey_reaches_it(stand_in, heard, speaker):
    speaker().say(sentences("A [[name]] \x1b[31m of\nmine."))
    await heard.until(lambda: heard.marks)
    assert stand_in.said == ["A [ [name] ] <U+001B>[31m of<U+000A>mine."]


def gone(number):
    for _ in range(int(LONG_S / 0.02)):
        state = subprocess.run(["ps", "-o", "stat=", "-p", str(number)], capture_output=True, text=True)
        if not state.stdout.strip() or state.stdout.startswith("Z"):
            return True
        time.sleep(0.02)
    return False


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM])
def test_what_speaks_ends_with_the_program_however_that_ends(stand_in, tmp_path, how):
    number = tmp_path / "engine"
    stand_in.does(
        f"import os; print(os.getpid(), file=open({str(number)!r}, 'w'), flush=True); time.sleep(60)"
    )
    code = """
import asyncio, sys
from nightmode.voice.speaker import Sentence, Speaker
async def speak():
    speaker = Speaker(print, print)
    speaker.say([Sentence("M 57.")])
    await asyncio.sleep(60)
asyncio.run(speak())
"""
    program = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.DEVNULL)
    for _ in range(int(LONG_S / 0.02)):
        if number.exists() and number.read_text():
            break
        time.sleep(0.02)
    program.send_signal(how)
    program.wait(LONG_S)
    assert gone(int(number.read_text()))


async def test_what_speaks_has_no_terminal(stand_in, heard, speaker):
    stand_in.does(
        "import os\n"
        "try: open('/dev/tty')\n"
        "except OSError: print(os.getsid(0), os.isatty(1), os.isatty(2), file=open(kept + '.ids', 'w'))\n"
    )
    speaker().say(sentences("M 57."))
    await heard.until(lambda: heard.marks)
    session, *ttys = Path(f"{stand_in.kept}.ids").read_text().split()
    assert int(session) != os.getsid(0)
    assert ttys == ["False", "False"]
