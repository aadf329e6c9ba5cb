"""Levels: even steps, nothing that vanishes, nothing that brightens, in every theme and on every terminal."""

import itertools
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nightmode.app.guard.levels import (
    DEFAULT_GLOW,
    FLOOR,
    GLOW_STEPS,
    ROLES,
    TINT_FLOOR,
    glow_levels,
    level_of,
    linear_light,
    paint,
    role_light,
)
from nightmode.app.theme import EMBER, theme_named
from nightmode.light.depth import CUBE, Depth, cube_index, depth_of, snap_down
from nightmode.model.theme import Red, Theme

#: The console's slot for each code that stands for a role.
CONSOLE_SLOTS = dict(zip(CUBE[1:], range(1, 6), strict=True))
THEMES = Path(__file__).resolve().parents[2] / "themes"


@st.composite
def reds(draw):
    levels = sorted(draw(st.lists(st.integers(0, 255), min_size=5, max_size=5)))
    levels[2:] = [max(level, 60) for level in levels[2:]]
    return Red(**dict(zip(ROLES, levels, strict=True)))


# Light of levels of the sRGB curve as printed in IEC 61966-2-1: 0.5 of full scale has 21.4 % of the light.
@pytest.mark.parametrize(("level", "light"), [(0, 0.0), (10, 0.003035), (128, 0.215861), (255, 1.0)])
def test_light_follows_the_srgb_curve(level, light):
    assert linear_light(level) == pytest.approx(light, rel=1e-3)


@given(st.integers(0, 255))
def test_a_level_is_the_one_its_light_came_from(level):
    assert level_of(linear_light(level)) == level


@given(reds(), st.integers(0, GLOW_STEPS - 1))
def test_no_role_falls_below_what_can_be_seen_and_none_changes_places(red, glow):
    levels = glow_levels(red, glow)
    assert all(levels[role] >= FLOOR[role] for role in ROLES)
    assert [levels[role] for role in ROLES] == sorted(levels[role] for role in ROLES)


@given(reds(), st.integers(1, GLOW_STEPS - 1))
def test_a_step_up_never_darkens_a_role(red, glow):
    below, above = glow_levels(red, glow - 1), glow_levels(red, glow)
    assert all(below[role] <= above[role] for role in ROLES)


@pytest.mark.parametrize("path", sorted(THEMES.glob("*.toml")), ids=lambda path: path.stem)
def test_steps_of_text_look_even_in_the_themes_that_come_with_the_program(path):
    red = Theme.model_validate(tomllib.loads(path.read_text())).red
    seen = [linear_light(glow_levels(red, glow)["text"]) ** (1 / 3) for glow in range(GLOW_STEPS)]
    steps = [b - a for a, b in itertools.pairwise(seen)]
    assert len(steps) >= 5
    assert min(steps) > 0
    assert max(steps) < 1.6 * min(steps)


@pytest.mark.parametrize("role", ["text", "strong", "alert"])
def test_the_lowest_glow_of_the_default_theme_has_a_quarter_of_the_light(role):
    default, lowest = glow_levels(EMBER.red, DEFAULT_GLOW), glow_levels(EMBER.red, 0)
    assert linear_light(lowest[role]) <= linear_light(default[role]) / 4


@given(reds(), st.integers(0, GLOW_STEPS - 1), st.sampled_from(list(Depth)), st.integers(1, 255))
def test_what_is_lit_stays_lit_and_only_levels_the_terminal_has_are_sent(red, glow, depth, level):
    sent = paint(red, glow, depth).table[level]
    assert sent > 0
    assert depth is Depth.TRUE or sent in CUBE


@given(reds(), st.integers(0, GLOW_STEPS - 1), st.sampled_from([Depth.CUBE, Depth.SIXTEEN]))
def test_a_terminal_that_takes_levels_has_one_for_each_role(red, glow, depth):
    painted, levels = paint(red, glow, depth, tints=True), glow_levels(red, glow)
    shown = dict(painted.palette)
    asked = {getattr(red, role): role for role in ROLES}  # of roles alike in a theme the brightest is shown
    for level, role in asked.items():
        if level:
            assert shown[cube_index(painted.table[level])] == max(levels[role], TINT_FLOOR)


@given(reds(), st.integers(0, GLOW_STEPS - 1), st.sampled_from(list(Depth)), st.booleans())
def test_no_role_is_reckoned_darker_than_it_is_shown(red, glow, depth, tints):
    painted, reckoned = paint(red, glow, depth, tints), role_light(red, glow, depth, tints)
    meant, palette = linear_light(glow_levels(red, glow)["text"]), dict(painted.palette)
    for role in ROLES:
        sent = painted.table[getattr(red, role)] if getattr(red, role) else 0
        slot = CONSOLE_SLOTS.get(sent, 0) if depth is Depth.CONSOLE else cube_index(sent) if sent else 0
        shown = sent if depth is Depth.TRUE or not sent else palette[slot]
        assert linear_light(shown) / meant <= reckoned[role] + 1e-9 or _has_brighter_twin(red, role)


def _has_brighter_twin(red, role):
    """Whether a brighter role asks for the same level: one of the two has to give way."""
    return getattr(red, role) in [getattr(red, other) for other in ROLES[ROLES.index(role) + 1 :]]


@given(st.integers(0, 255))
def test_snapping_brightens_nothing_but_what_would_vanish(level):
    snapped = snap_down(level)
    assert snapped <= max(level, 95)
    assert (snapped == 0) == (level == 0)


@given(reds(), st.integers(0, GLOW_STEPS - 1), st.sampled_from([Depth.CUBE, Depth.SIXTEEN, Depth.CONSOLE]))
def test_palette_levels_stay_red_inside_tmux(red, glow, depth):
    for index, level in paint(red, glow, depth).palette:
        assert depth is Depth.CONSOLE or index < 16 or level >= 53


@pytest.mark.parametrize(
    ("env", "depth"),
    [
        ({"TERM": "xterm-256color", "COLORTERM": "truecolor"}, Depth.TRUE),
        ({"TERM": "xterm-256color"}, Depth.CUBE),
        ({"TERM": "xterm"}, Depth.SIXTEEN),
        ({"TERM": "linux", "COLORTERM": "truecolor"}, Depth.CONSOLE),
        ({"TERM": "tmux-256color", "COLORTERM": "truecolor", "TMUX": "x"}, Depth.CUBE),
        ({"TERM": "xterm-256color", "COLORTERM": "truecolor", "TMUX": "x"}, Depth.CUBE),
        ({"TERM": "screen", "STY": "x", "COLORTERM": "truecolor"}, Depth.SIXTEEN),
        ({"TERM": "dumb", "COLORTERM": "truecolor"}, Depth.SIXTEEN),
        ({"TERM": "xterm-256color", "COLORTERM": "truecolor", "NO_COLOR": "1"}, Depth.TRUE),
        ({}, Depth.SIXTEEN),
    ],
)
def test_the_depth_of_a_terminal_is_read_from_its_environment(env, depth):
    assert depth_of(env) is depth


def test_the_default_theme_is_the_one_in_its_file():
    assert Theme.model_validate(tomllib.loads((THEMES / "ember.toml").read_text())) == EMBER


def test_a_theme_is_found_by_its_name_and_by_its_path(tmp_path):
    own = tmp_path / "own.toml"
    own.write_text('name = "own"\n[red]\nline = 1\nfaint = 2\ntext = 60\nstrong = 70\nalert = 80\n')
    assert theme_named("cinder")[0].name == "cinder"
    assert theme_named(str(own)) == (
        Theme(name="own", red=Red(line=1, faint=2, text=60, strong=70, alert=80)),
        None,
    )


@pytest.mark.parametrize(
    "text",
    [
        "",
        "\x00",
        'name = "x"\n[red]\nline = 300\n',
        'name="x"\n[red]\nline=1\nfaint=1\ntext=20\nstrong=30\nalert=40\n',
    ],
)
def test_a_bad_theme_is_one_sentence_and_the_default(tmp_path, text):
    path = tmp_path / "own.toml"
    path.write_text(text)
    theme, trouble = theme_named(str(path))
    assert theme == EMBER
    assert trouble.alert.startswith("~/own.toml")
    assert trouble.text.endswith("ember is used")
    assert "\n" not in trouble.whole


@pytest.mark.parametrize("name", ["nosuch", "../ember", "/no/such.toml", "a/b"])
def test_a_theme_that_is_not_there_is_one_sentence_and_the_default(name):
    theme, trouble = theme_named(name)
    assert theme == EMBER
    assert trouble.alert


def test_the_theme_that_comes_without_a_file_is_one_that_a_file_could_hold():
    assert Theme.model_validate(EMBER.model_dump()) == EMBER
