"""The real program in a pseudo-terminal under the light meter: one lit cell that is not red fails."""

import os
import signal
import sys
from pathlib import Path

import pytest
from light.meter import MODES, Meter
from light.modes import MOST_MODES
from turns import by_turns, rarely

ROOT = Path(__file__).resolve().parents[2]
#: What opens the night screen, and a text that stands on it when it is up.
SCREEN, IS_UP = ("demo", "--afresh"), "to do"
#: Commands that cannot open it, and a word of the one line that they answer.
REFUSED = {
    "no such plan": (("walk", "nosuch.toml"), "nosuch.toml"),
    "a plan that is none": (("walk", "bad.toml"), "bad.toml"),
    "a bad flag": (("walk", "--nosuch"), "--help"),
    "no such command": (("nosuch",), "--help"),
    "a bad rate": (("demo", "--rate", "-1"), "--rate"),
    "no such demo": (("demo", "nosuch"), "nosuch"),
    "a bad time": (("demo", "--at", "noon"), "--at"),
}
#: Commands that tell something and end well, and a word of it: what is typed in the dark must answer in red.
TOLD = {
    "nothing to go on with": ((), "nightmode demo"),
    "help": (("--help",), "COMMAND"),
    "help on the walk": (("walk", "--help"), "--stay-red"),
    "version": (("--version",), "nightmode"),
}
LIMITS = {"default": (0.0010, 0.00005), "lowest": (0.00025, 0.0000125)}


@pytest.fixture
def run(tmp_path):
    (tmp_path / "bad.toml").write_text('title = "\\u001b[97mlit"\nnosuch = [\n')
    meters = []

    def begin(arguments, mode, **options):
        homes = {
            name: str(tmp_path / name) for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME")
        }
        env = homes | {"HOME": str(tmp_path), "PYTHONPATH": str(ROOT)}
        here = Path.cwd()
        os.chdir(tmp_path)
        meter = Meter([sys.executable, "-m", "nightmode", *arguments], mode, **options, **env)
        os.chdir(here)
        meters.append(meter)
        return meter

    yield begin
    for meter in meters:
        if meter.child.returncode is None:
            meter.signal(signal.SIGKILL)
            meter.end()


def opened(run, mode, *more):
    meter = run((*SCREEN, *more), mode)
    meter.wait_for(IS_UP, seconds=30)
    meter.wait_for_keys()
    return meter


def assert_dark(reading, code):
    assert reading.leaks == []
    assert reading.code == code
    assert (reading.hung, reading.bells, reading.in_full_screen, reading.cursor_hidden) == (
        False,
        0,
        False,
        False,
    )
    assert reading.given_back


@pytest.mark.parametrize("mode", MOST_MODES)
def test_a_night_is_red_from_the_first_byte_to_the_prompt(run, mode):
    meter = opened(run, mode)
    meter.press("space", "u", "+", "-", "j", "esc", "l", "down", "q", "?", "x", "n")
    meter.type("cold [b]")
    meter.press("enter", "1", "c", "f", "i", "esc", "p", "p", "w", "tab")
    meter.resize(60, 18)
    meter.wait_for("altitude")
    for there, back in (("l", "q"), ("?", "f")):
        meter.press(there)
        meter.wait_until(lambda _: "altitude" not in meter.shown())
        meter.press(back)
        meter.wait_for("altitude")
    meter.resize(100, 30)
    meter.signal(signal.SIGSTOP)
    meter.wait(0.1)
    before = meter.arrived
    meter.signal(signal.SIGCONT)
    meter.wait_until(
        lambda _: meter.arrived > before
    )  # it takes the terminal again, and drops what was typed
    meter.press("b")
    meter.wait_until(lambda frame: frame.lit == 0)
    meter.press("q")
    meter.wait_until(lambda frame: frame.lit > 50)
    meter.press("q", "q")
    assert_dark(meter.end(), 0)


@pytest.mark.parametrize("mode", [mode if mode == "16" else rarely(mode) for mode in MODES])
def test_a_black_screen_that_is_heard_gives_no_light_whatever_is_pressed(run, mode, stand_in):
    meter = opened(run, mode, "--voice")
    meter.press("b")
    meter.wait_until(lambda frame: frame.lit == 0)
    black = len(meter.reading.frames) - 1
    meter.press(*"gaale?+-jk", "esc", "p", "space", "enter", *"sw1u", "n")
    meter.type("cold [b]")
    meter.press("enter", "c", "1", "enter", *"i2thm21", "enter")
    meter.resize(60, 18)
    meter.signal(signal.SIGSTOP)
    meter.wait(0.1)
    meter.signal(signal.SIGCONT)
    meter.wait_until(lambda _: any("cold, b" in text for text in stand_in.said))
    assert {frame.lit for frame in meter.reading.frames[black:]} == {0}
    meter.press("b")
    meter.wait_until(lambda frame: frame.lit > 50)
    meter.press("q", "q")
    assert_dark(meter.end(), 0)


@pytest.mark.parametrize(
    "does",
    [rarely("sys.exit('no sound card')"), "sys.stderr.write('lit' * 99_999); sys.exit(1)"],
    ids=["", "flood"],
)
def test_a_voice_that_fails_on_a_black_screen_lights_nothing_until_a_key_is_pressed(run, does, stand_in):
    stand_in.does("time.sleep(60)")
    meter = opened(run, "truecolor", "--voice")
    meter.press("b")
    meter.wait_until(lambda frame: frame.lit == 0)
    meter.wait_until(lambda _: len(stand_in.said) >= 1)
    stand_in.does(does)
    meter.press("g")
    black = len(meter.reading.frames) - 1
    meter.wait_until(lambda _: len(stand_in.said) >= 3)  # it has been tried twice, and is dropped
    meter.wait(0.5)
    assert {frame.lit for frame in meter.reading.frames[black:]} == {0}
    meter.press("j")
    meter.wait_for("the voice has stopped")
    meter.press("q", "q")
    assert_dark(meter.end(), 0)


@pytest.mark.parametrize(
    ("act", "code", "mode"),
    [
        (lambda meter: meter.signal(signal.SIGTERM), 143, "truecolor"),
        (lambda meter: meter.signal(signal.SIGHUP), 129, "16"),
        (lambda meter: meter.press("ctrl+c", "ctrl+c"), 0, "256"),
    ],
    ids=["SIGTERM", "SIGHUP", "ctrl+c twice"],
)
def test_every_ending_is_red(run, act, code, mode):
    meter = opened(run, mode)
    act(meter)
    assert_dark(meter.end(), code)


@pytest.mark.parametrize(("error", "mode"), by_turns(REFUSED, ("truecolor", "linux")))
def test_what_cannot_start_says_so_in_red(run, error, mode):
    arguments, word = REFUSED[error]
    reading = run(arguments, mode).end()
    assert_dark(reading, 2)
    assert word in reading.text.replace("\n", "")


@pytest.mark.parametrize(("words", "mode"), by_turns(TOLD, ("truecolor", "linux")))
def test_what_is_asked_in_the_dark_is_told_in_red(run, words, mode):
    arguments, word = TOLD[words]
    reading = run(arguments, mode).end()
    assert_dark(reading, 0)
    assert word in reading.text


@pytest.mark.parametrize("mode", ["truecolor", rarely("256")])
def test_the_main_screen_gives_little_light(run, mode):
    meter = opened(run, mode)
    meter.press("esc")
    seen = {"default": meter.wait(0.5)}
    meter.press("-", "-", "-")
    seen["lowest"] = meter.wait_until(lambda frame: frame.photopic <= LIMITS["lowest"][0])
    meter.press("q", "q")
    meter.end()
    for glow, (photopic, scotopic) in LIMITS.items():
        assert 0 < seen[glow].photopic <= photopic
        assert 0 < seen[glow].scotopic <= scotopic
        assert seen[glow].lit > 100


@pytest.mark.parametrize("mode", ["16", *(rarely(mode) for mode in MODES if mode != "16")])
def test_a_chart_gives_no_more_light_than_the_facts_may(run, mode):
    meter = opened(run, mode, "--at", "22:00")
    meter.press("esc")
    photopic, scotopic = LIMITS["default"]
    for size in ((100, 30), (80, 24)):
        meter.resize(*size)
        for _ in range(2):
            for view in ("closer", "finder", "eyepiece", "sky"):
                meter.press("a")
                meter.wait_for(f"a: {view}")
                seen = meter.wait(0.1)
                assert seen.lit > 100
                assert seen.photopic <= photopic, meter.shown()
                assert seen.scotopic <= scotopic, meter.shown()
            meter.press("esc", "j")
    meter.press("a", "-", "-", "-")
    seen = meter.wait(0.3)
    assert seen.photopic <= LIMITS["lowest"][0] * (100 * 30) / (80 * 24)
    meter.press("esc", "q", "q")
    assert_dark(meter.end(), 0)


def test_a_terminal_left_red_is_given_back_by_daylight(run):
    meter = opened(run, "truecolor", "--stay-red")
    meter.press("q", "q")
    reading = meter.end()
    assert reading.leaks == []
    assert not reading.given_back
    daylight = run(("daylight",), "truecolor", glass=meter.glass).end()
    assert daylight.code == 0
    assert daylight.given_back


@pytest.mark.parametrize("mode", [rarely("truecolor"), "linux"])
def test_daylight_gives_back_what_a_program_that_was_killed_keeps(run, mode):
    meter = opened(run, mode)
    meter.signal(signal.SIGKILL)
    reading = meter.end()
    assert reading.leaks == []
    assert not reading.given_back
    assert reading.in_full_screen
    assert reading.cursor_hidden
    daylight = run(("daylight",), mode, glass=meter.glass).end()
    assert daylight.code == 0
    assert daylight.given_back
    assert not daylight.in_full_screen
    assert not daylight.cursor_hidden
    assert 7 << 5 in meter.glass.mode  # pyte keeps private modes shifted: lines wrap again
