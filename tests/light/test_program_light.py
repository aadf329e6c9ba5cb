"""The real program in a pseudo-terminal under the light meter: one lit cell that is not red fails."""

import signal

import pytest
from light.meter import MODES
from light.modes import MOST_MODES
from turns import by_turns, rarely

#: What opens the night screen, and a text that stands on it when it is up.
SCREEN, IS_UP = ("demo", "--afresh"), "to do"
#: Commands that cannot open it, and a word of the one line that they answer.
REFUSED = {
    "no such plan": (("walk", "nosuch.toml"), "nosuch.toml"),
    "a plan that is none": (("walk", "bad.toml"), "bad.toml"),
    "a bad flag": (("walk", "--nosuch"), "--help"),
    "no such command": (("nosuch",), "is no command"),
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
def opened(measured):
    """Return a function that opens the night screen and waits until it takes keys."""

    def begin(mode, *more, **options):
        meter = measured(*SCREEN, *more, mode=mode, **options)
        meter.wait_for(IS_UP, seconds=30)
        meter.wait_for_keys()
        return meter

    return begin


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
def test_a_night_is_red_from_the_first_byte_to_the_prompt(opened, mode):
    meter = opened(mode, cold=mode == "truecolor")
    meter.press("space", "u", "+", "-", "j", "esc", "l", "down", "q", "?", "x", "n")
    meter.type("cold [b]")
    meter.press("enter", "1", "c", "f", "i", "esc", "p", "q", "w", "tab")
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
def test_a_black_screen_that_is_heard_gives_no_light_whatever_is_pressed(opened, mode, stand_in):
    meter = opened(mode, "--voice")
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
def test_a_voice_that_fails_on_a_black_screen_lights_nothing_until_a_key_is_pressed(opened, does, stand_in):
    stand_in.does("time.sleep(60)")
    meter = opened("truecolor", "--voice")
    meter.press("b")
    meter.wait_until(lambda frame: frame.lit == 0)
    meter.wait_until(lambda _: len(stand_in.said) >= 1)
    stand_in.does(does)
    black = len(meter.reading.frames) - 1
    meter.press("g")
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
def test_every_ending_is_red(opened, act, code, mode):
    meter = opened(mode)
    act(meter)
    assert_dark(meter.end(), code)


@pytest.mark.parametrize(("error", "mode"), by_turns(REFUSED, ("truecolor", "linux")))
def test_what_cannot_start_says_so_in_red(measured, tmp_path, error, mode):
    (tmp_path / "bad.toml").write_text('title = "\\u001b[97mlit"\nnosuch = [\n')
    arguments, word = REFUSED[error]
    reading = measured(*arguments, mode=mode).end()
    assert_dark(reading, 2)
    assert word in reading.text.replace("\n", "")


@pytest.mark.parametrize(("words", "mode"), by_turns(TOLD, ("truecolor", "linux")))
def test_what_is_asked_in_the_dark_is_told_in_red(measured, words, mode):
    arguments, word = TOLD[words]
    reading = measured(*arguments, mode=mode).end()
    assert_dark(reading, 0)
    assert word in reading.text


def gives_at_most(photopic, scotopic, lit=100):
    """Return what a frame must be: with so many cells lit, but no more light than this for either eye."""
    return lambda seen: seen.lit > lit and seen.photopic <= photopic and seen.scotopic <= scotopic


@pytest.mark.parametrize("mode", ["truecolor", rarely("256")])
def test_the_main_screen_gives_little_light(opened, mode):
    meter = opened(mode)
    meter.press("esc")
    meter.wait_until(gives_at_most(*LIMITS["default"]), seconds=5)
    meter.press("-", "-", "-")
    meter.wait_until(gives_at_most(*LIMITS["lowest"]), seconds=5)
    meter.press("ctrl+c", "ctrl+c")
    assert_dark(meter.end(), 0)


@pytest.mark.parametrize(("mode", "targets"), [("16", 1), *(rarely(mode, 2) for mode in MODES)])
def test_a_chart_gives_no_more_light_than_the_facts_may(opened, mode, targets):
    meter = opened(mode, "--at", "22:00")
    meter.press("esc")
    for size in ((100, 30), (80, 24)):
        meter.resize(*size)
        for _ in range(targets):
            for view in ("closer", "finder", "eyepiece", "sky"):
                meter.press("a")
                meter.wait_for(f"a: {view}")
                meter.wait_until(gives_at_most(*LIMITS["default"]), seconds=5)
            meter.press("esc", "j")
    meter.press("a", "-", "-", "-")
    photopic, scotopic = LIMITS["lowest"]
    larger = (100 * 30) / (80 * 24)
    meter.wait_until(gives_at_most(photopic * larger, scotopic * larger, lit=50), seconds=5)
    meter.press("esc", "ctrl+c", "ctrl+c")
    assert_dark(meter.end(), 0)


def test_a_terminal_left_red_is_given_back_by_daylight(opened, measured):
    meter = opened("truecolor", "--stay-red")
    meter.press("q", "q")
    reading = meter.end()
    assert (reading.code, reading.leaks) == (0, [])
    assert not reading.in_full_screen
    assert not reading.given_back
    assert "0 done" in reading.text
    daylight = measured("daylight", glass=meter.glass).end()
    assert daylight.code == 0
    assert daylight.given_back


@pytest.mark.parametrize("mode", [rarely("truecolor"), "linux"])
def test_daylight_gives_back_what_a_program_that_was_killed_keeps(opened, measured, mode):
    meter = opened(mode)
    meter.signal(signal.SIGKILL)
    reading = meter.end()
    assert reading.leaks == []
    assert not reading.given_back
    assert reading.in_full_screen
    assert reading.cursor_hidden
    daylight = measured("daylight", mode=mode, glass=meter.glass).end()
    assert daylight.code == 0
    assert daylight.given_back
    assert not daylight.in_full_screen
    assert not daylight.cursor_hidden
    assert 7 << 5 in meter.glass.mode  # pyte keeps private modes shifted: lines wrap again
