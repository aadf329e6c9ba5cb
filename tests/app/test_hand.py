"""A key that is held counts once; a key that is pressed again counts again."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual import events

from nightmode.app.clock import Wakefulness
from nightmode.app.hand import FIRST_REPEAT_S, NEXT_REPEAT_S, PAUSE_S, Hand, Press
from nightmode.model.session import Event
from nightmode.session.journal import read


def counted(times_s, **options):
    """Return at which of these times a key counts."""
    hand, counts, perhaps_s = Hand(), [], None
    for at_s in times_s:
        found = hand.press("space", at_s, **options)
        if perhaps_s is not None and not (found is Press.HELD and at_s - perhaps_s <= NEXT_REPEAT_S):
            counts.append(perhaps_s)
        perhaps_s = at_s if found is Press.PERHAPS else None
        if found is Press.COUNTS:
            counts.append(at_s)
    return counts if perhaps_s is None else [*counts, perhaps_s]


@given(st.floats(0.15, 1.0), st.floats(8, 60), st.floats(0.1, 20), st.booleans())
def test_a_held_key_counts_once_however_the_desktop_repeats_it(first_s, rate, held_s, twice):
    repeats = [first_s + n / max(rate, 9) for n in range(int(held_s * rate) + 2)]
    assert counted([0.0, *repeats], twice=twice) == [0.0]


@given(st.lists(st.floats(PAUSE_S + 1e-6, 30), max_size=20))
def test_a_key_pressed_again_after_a_pause_counts_again(pauses):
    times = [0.0]
    for pause in pauses:
        times.append(times[-1] + pause)
    assert counted(times) == times


@given(st.lists(st.floats(0, PAUSE_S - 0.01), min_size=1, max_size=20))
def test_a_finger_that_bounces_counts_once(gaps):
    times = [0.0]
    for gap in gaps:
        times.append(times[-1] + gap)
    assert counted(times) == [0.0]


def test_leaving_takes_two_presses_however_quick_but_not_a_held_key():
    assert counted([0.0, 0.0], twice=True) == [0.0, 0.0]
    assert counted([0.0, 0.3], twice=True) == [0.0, 0.3]
    assert counted([0.0, 0.66, 0.70, 0.74, 0.78], twice=True) == [0.0]


def test_keys_do_not_stand_in_each_others_way():
    hand = Hand()
    assert [hand.press(key, 0.01 * n) for n, key in enumerate("sxu123")] == [Press.COUNTS] * 6


class Fingers:
    """Keys that arrive at set times."""

    def __init__(self, app, pilot):
        self.app, self.pilot, self.now_s = app, pilot, 100.0

    async def hold(self, key, seconds, first_s=0.66, every_s=0.04):
        """Hold a key, and let go of it for a second."""
        await self.send(key, 0.0)
        await self.send(key, first_s)
        for _ in range(int((seconds - first_s) / every_s)):
            await self.send(key, every_s)
        self.now_s += FIRST_REPEAT_S
        await self.pilot.pause(NEXT_REPEAT_S + 0.05)

    async def send(self, key, later_s):
        self.now_s += later_s
        event = events.Key(key, key if len(key) == 1 else None)
        event.time = self.now_s
        self.app.post_message(event)


async def test_held_space_ticks_one_target_and_held_u_takes_one_back(walking, journal):
    async with walking(hand=Hand()) as (app, pilot):
        fingers = Fingers(app, pilot)
        await fingers.hold("space", 2.0)
        assert len(app.walker.state.ticks) == 1
        await fingers.hold("x", 1.0, first_s=0.25)
        assert len(app.walker.state.ticks) == 2
        await fingers.hold("u", 2.0)
        assert len(app.walker.state.ticks) == 1
        await fingers.hold("1", 2.0)
        await fingers.hold("w", 2.0)
    kinds = [entry.event for entry in read(journal).entries]
    assert kinds == [Event.TICK, Event.TICK, Event.UNDO, Event.NOTE, Event.LIGHT]


async def test_held_q_and_held_b_leave_nothing_and_light_nothing(walking):
    async with walking(hand=Hand()) as (app, pilot):
        fingers = Fingers(app, pilot)
        await fingers.hold("q", 2.0)
        assert app.is_running
        await fingers.hold("x", 0.7)
        await fingers.hold("b", 2.0)
        assert app.is_black
        await fingers.send("b", 1.0)
        await pilot.pause(NEXT_REPEAT_S + 0.05)
        assert not app.is_black


@pytest.mark.parametrize("key", ["j", "down"])
async def test_keys_that_move_go_on_while_they_are_held(walking, key):
    async with walking(hand=Hand()) as (app, pilot):
        await pilot.press("l")
        before = app.screen._place()
        await Fingers(app, pilot).hold(key, 0.9)
        assert app.screen._place() - before > 3


async def test_letters_may_come_as_fast_as_they_are_typed(walking, journal):
    async with walking(hand=Hand()) as (_, pilot):
        await pilot.press(*"nnnoon", "enter", *"noo", "enter")
    assert [entry.note for entry in read(journal).entries] == ["nnoon", "oo"]


def top(app):
    return "".join(text for text, _ in app.screen.page.lines[0])


async def test_after_a_sleep_the_eyes_count_from_now(walking, clock):
    async with walking() as (app, _):
        steady = [0.0]
        app._awake = Wakefulness(90.0, lambda: steady[0])
        clock.set_s += 25 * 60
        steady[0] += 60.0
        app.screen.follow()
        assert "eyes 25 min" in top(app)
        clock.set_s += 45 * 60
        steady[0] += 45 * 60
        app.screen.follow()
        assert "eyes 0 min" in top(app)
