"""What stands on the pages at the sizes that must do: nothing that decides is cut off."""

import datetime as dt

import pytest
from app.north_field import FIELD as PLAN
from rows import rows

from nightmode.app.glance import Glance
from nightmode.app.pages.budget import UNBOUNDED, Budget, within
from nightmode.app.pages.checklist import Checklist, checklist_lines
from nightmode.app.pages.facts import target_lines
from nightmode.app.pages.line import length
from nightmode.app.pages.lists import help_page, list_page
from nightmode.app.pages.main import main_page
from nightmode.app.say import Say
from nightmode.app.walker import Walker
from nightmode.night.loading import new_head
from nightmode.session.journal import create
from nightmode.session.record import Session
from nightmode.wording.reasons import reason_text

SIZES = [(60, 18), (80, 24), (120, 40)]
LONG_NAME = "25 mm eyepiece with a name that no screen of the night could ever hold in one row"[:80]


def words(lines):
    return ["".join(text for text, _ in row) for row in lines]


@pytest.fixture
def walker_of(tmp_path):
    """Return what makes a walker of a night that is loaded."""
    return lambda loaded: Walker(
        loaded.night, Session(create(tmp_path / "session.toml", new_head(loaded, rehearsal=True)))
    )


@pytest.fixture
def walker(loaded, walker_of):
    return walker_of(loaded)


@pytest.fixture
def long_walker(loaded_from, walker_of):
    eyepiece = f'[[eyepiece]]\nname = "{LONG_NAME}"\nfocal_length_mm = 25\napparent_field_deg = 52\n'
    targets = f"""
[[target]]
name = "{"Little Kite " * 6}"
kind = "open cluster"
position = "05h57m24s +46d42m30s"
magnitude = 6.0
size_arcmin = 20

[[target]]
name = "{"星" * 30}"
kind = "cluster with nebula"
position = "05h35m17s +15d23m28s"
magnitude = 4.0
size_arcmin = 65
"""
    return walker_of(loaded_from(PLAN + targets, eyepiece))


@rows("size", SIZES)
def test_the_minutes_in_the_dark_are_whole_at_every_size(walker, size):
    dark_s, dawn_s = walker.night.twilights.dark_s
    for step in range(8):
        now_s = dark_s + (dawn_s - dark_s) * step / 8
        top = words(main_page(walker, now_s, size, None, dark_s - 7200))[0]
        assert "eyes 40+ min" in top
        assert "dark until 05:48" in top
        assert len(top) <= size[0]


def test_the_moon_is_told_in_full_where_there_is_room(walker):
    dark_s = walker.night.twilights.dark_s[0]
    assert "Moon 20 % sets 20:16" in words(main_page(walker, dark_s + 60, (80, 24), None, dark_s))[0]


@rows("size", SIZES)
def test_a_long_eyepiece_name_gives_way_to_power_and_field(long_walker, size):
    now_s = long_walker.night.twilights.dark_s[0] + 60
    row = long_walker.shown(now_s)
    shown = words(target_lines(Glance(long_walker, row, now_s), (size[0] - 2, size[1] - 4)))
    for label in ("find", "look"):
        told = next(text for text in shown if text.startswith(label))
        assert told.endswith("   36x  1.4°")
        assert len(told) <= size[0] - 2


@rows("size", SIZES)
def test_a_verdict_gives_its_whole_reason(walker, size):
    night = walker.night
    for now_s in night.twilights.dark_s:
        for row in range(len(night.targets)):
            shown = words(target_lines(Glance(walker, row, now_s), (size[0] - 2, size[1] - 4)))
            told = " ".join(" ".join(shown).split())
            stretch = night.targets[row].chance.stretch(now_s)
            when_s = max(now_s, stretch.start_s + 60) if stretch else now_s
            assert " ".join(reason_text(walker.verdict(row, when_s), night.site.zone).split()) in told


def test_a_star_tells_of_the_companion_that_its_name_does_not_mean(loaded_from, walker_of):
    # Bright Star Catalogue (V/50): 6.5 mag fainter than Denebola's 2.14; Gaia DR3: 236.79 arcsec.
    walker = walker_of(loaded_from(f'{PLAN}[[target]]\nname = "Denebola"\n[[target]]\nname = "Rigel"\n', ""))
    now_s = walker.night.twilights.dark_s[1]
    (star,) = (row for row, target in enumerate(walker.night.targets) if target.subject.name == "Denebola")
    for row in range(2):
        shown = words(target_lines(Glance(walker, row, now_s), (78, 20)))
        assert ("beside   8.6 mag, 237″ off: Denebola AD" in shown) == (row == star)


def test_a_remark_gives_way_to_light_before_the_reason_does(loaded_from, walker_of):
    target = '[[target]]\nname = "NGC 891"\nlook_for = "a long dark lane"\nnote = "best from the hill"\n'
    walker = walker_of(loaded_from(PLAN + target, ""))
    now_s = walker.night.twilights.dark_s[0] + 3600
    reason = reason_text(walker.verdict(0, now_s), walker.night.site.zone)
    for size in SIZES:
        page, kept = main_page(walker, now_s, size, None, now_s), []
        for letters in range(0, int(UNBOUNDED.cost(page)) + 3, 3):
            shown = "\n".join(words(within(page, Budget(letters, UNBOUNDED.weigh))))
            kept.append(
                {told for told in (reason, "a long dark lane", "best from the hill") if told in shown}
            )
        assert kept[0] == set()
        assert len(kept[-1]) == 3
        assert {reason} in kept
        assert all(reason in told for told in kept if told)


def test_a_target_that_is_not_up_yet_is_judged_as_it_will_be(walker):
    night = walker.night
    row = next(row for row, target in enumerate(night.targets) if target.subject.name == "M 31")
    shown = "\n".join(words(target_lines(Glance(walker, row, night.twilights.sunset_s), (60, 20))))
    assert "waits for the dark" in shown
    assert "verdict  easy" in shown


@rows("size", SIZES)
def test_rows_of_the_list_stand_under_each_other_whatever_the_names(long_walker, size):
    now_s = long_walker.night.twilights.dark_s[0] + 60
    rows = [row for row in list_page(long_walker, now_s, size, 0) if "°" in "".join(text for text, _ in row)]
    before = {length(((text[: text.index("°")], role),)) for text, role in (row[-1] for row in rows)}
    assert len(rows) == 2
    assert len(before) == 1
    assert all(length(row) <= size[0] for row in rows)


def test_the_list_has_no_row_to_spare_at_either_end(walker):
    now_s = walker.night.twilights.dark_s[0] + 60
    order = walker.order(now_s)
    for cursor in (0, len(order) - 1):
        page = words(list_page(walker, now_s, (60, 18), cursor))
        name = walker.night.targets[order[cursor]].subject.name
        assert name in page[2 if cursor == 0 else -2]
        assert all(row.strip() for row in page[2:-1])


def test_a_wide_screen_shows_more_of_a_name_and_the_whole_kind(long_walker):
    now_s = long_walker.night.twilights.dark_s[0] + 60
    wide, narrow = (
        "\n".join(words(list_page(long_walker, now_s, size, 0))) for size in ((120, 40), (80, 24))
    )
    assert "Little Kite Little Kite Little Kite…" in wide
    assert "cluster with nebula" in narrow


@rows("size", SIZES)
def test_a_question_is_whole_at_every_size(walker, size):
    now_s = walker.night.twilights.dark_s[0] + 60
    asked = "clear where? 1N* 2NE* 3E* 4SE* 5S* 6SW* 7W* 8NW*  0 all  enter keeps  esc drops"
    page = main_page(walker, now_s, size, Say("", alert=asked), now_s)
    assert len(page) == size[1]
    assert " ".join(asked.split()) in " ".join(" ".join(words(page)).split())


@rows("columns", [80, 60, 40])
def test_an_alert_is_bright_to_its_end_and_no_further(walker, columns):
    now_s = walker.night.twilights.dark_s[0] + 60
    said = Say("kept, any key tries again", alert="NOT SAVED, the stick with the journal on it: is gone")
    page = main_page(walker, now_s, (columns, 24), said, now_s)
    shown = [piece for row in page[1:] for piece in row if piece[1] in {"alert", "said"}]
    bright, rest = (" ".join(text.strip() for text, of in shown if of == role) for role in ("alert", "said"))
    assert " ".join(bright.split()) == f"{said.alert}:"
    assert " ".join(rest.split()) == said.text


def test_clouds_stay_in_sight_until_it_clears(walker):
    now_s = walker.night.twilights.dark_s[0] + 60
    walker.clear_octants(frozenset({"E", "N"}), now_s)
    assert "clear only N E" in words(main_page(walker, now_s, (80, 24), None, now_s))[-1]
    walker.clear_octants(frozenset(), now_s)
    assert "clear only nowhere" in words(main_page(walker, now_s, (80, 24), None, now_s))[-1]
    walker.clear_octants(frozenset({"N", "NE", "E", "SE", "S", "SW", "W", "NW"}), now_s)
    assert "clear" not in words(main_page(walker, now_s, (80, 24), None, now_s))[-1]


def test_what_stands_high_before_dusk_waits_for_the_dark_and_does_not_rise(walker):
    night = walker.night
    now_s = night.twilights.sunset_s
    told = {}
    for row, target in enumerate(night.targets):
        shown = "\n".join(words(target_lines(Glance(walker, row, now_s), (78, 20))))
        told[target.subject.name] = shown
    assert "waits for the dark" in told["Albireo"]
    assert "waits for the dark" in told["NGC 7009"]
    assert "   rises" in told["M 42"]
    assert "waits for the dark" not in told["M 42"]


@rows("size", SIZES)
@pytest.mark.parametrize("clear", [set(), {"N", "NE"}, {"N", "NE", "E", "SE", "S"}])
def test_the_next_name_stands_below_however_much_else_there_is_to_say(walker, size, clear):
    dark_s, dawn_s = walker.night.twilights.dark_s
    if clear:
        walker.clear_octants(frozenset(clear), dark_s)
    for step in range(5):
        now_s = dark_s + (dawn_s - dark_s) * step / 5
        bottom = words(main_page(walker, now_s, size, None, dark_s))[-1]
        coming = [*walker.queue(now_s), *(row for _, row in walker.coming(now_s))]
        following = [row for row in coming if row != walker.shown(now_s)]
        assert " done  " in bottom
        assert " to do" in bottom
        assert (("clouds" if size[0] < 72 else "clear only") in bottom) == bool(clear)
        assert not following or walker.night.targets[following[0]].subject.name in bottom


def test_what_is_never_up_is_not_called_missed(loaded_from, walker_of):
    names = ("NGC 4755", "M 31")  # declination -60 never rises at 51 N; M 31 is up at dusk in December
    targets = "".join(f'\n[[target]]\nname = "{name}"\n' for name in names)
    eyepiece = '\n[[eyepiece]]\nname = "25 mm"\nfocal_length_mm = 25\napparent_field_deg = 50\n'
    walker = walker_of(loaded_from(PLAN + eyepiece + targets))
    dark_s = walker.night.twilights.dark_s[0]
    assert words(main_page(walker, dark_s, (80, 24), None, dark_s))[-1].startswith(
        " 0 done  1 to do  1 not tonight"
    )
    row = next(text for text in words(list_page(walker, dark_s, (80, 24), 0)) if "NGC 4755" in text)
    assert row.rstrip().endswith("not tonight")


@rows("size", SIZES)
def test_the_caution_about_the_sun_is_never_cut(size):
    caution = "THE SUN IS UP: caps on, never point telescope, finder or eye near it"
    heads = (("before dark", "strong"), (caution, "alert"))
    page = checklist_lines(heads, Checklist("", ("torch",)), size)
    assert caution in " ".join(" ".join(words(page)).split())
    alerts = [text.strip() for row in page for text, role in row if role == "alert"]
    assert " ".join(alerts) == caution


@rows("size", SIZES)
def test_help_cuts_no_word(size):
    phrase = "a quick phrase that is as long as the observer likes it to be, on two rows"
    lines = [
        row
        for first in range(60)
        for row in help_page((phrase,), size, first)
        if row and length(row) <= size[0]
    ]
    told = " ".join(" ".join(words(lines)).split())
    assert "white light just now: dark adaptation starts again" in told
    assert phrase in told


def test_no_name_is_told_twice_with_a_word_more(loaded_from, walker_of):
    walker = walker_of(loaded_from(PLAN + '[[target]]\nname = "NGC 6543"\n', ""))
    now_s = walker.night.twilights.dark_s[0] + 60
    shown = "\n".join(words(target_lines(Glance(walker, 0, now_s), (78, 20))))
    assert "(Cat's Eye, Snail Nebula)" in shown


def test_the_moon_is_not_named_twice(walker):
    night = walker.night
    row = next(row for row, target in enumerate(night.targets) if target.subject.name == "Moon")
    second = words(target_lines(Glance(walker, row, night.twilights.dark_s[0]), (60, 20)))[1]
    assert second == "20 % lit"
    assert night.date == dt.date(2026, 12, 13)


@pytest.fixture
def planet_walker(loaded_from, walker_of):
    targets = "".join(f'[[target]]\nname = "{name}"\n' for name in ("Jupiter", "Plato", "Castor"))
    plan = PLAN.replace("2026-12-12", "2027-03-17") + targets
    return walker_of(loaded_from(plan, '[[eyepiece]]\nname = "6 mm"\nfocal_length_mm = 6\n'))


def page_of(walker, name, size, at="2027-03-17T19:30:00+00:00"):
    now_s = dt.datetime.fromisoformat(at).timestamp()
    row = walker.night.row(name)
    return words(target_lines(Glance(walker, row, now_s), (size[0] - 2, size[1] - 4)))


@rows("size", [(44, 20), *SIZES])
def test_what_there_is_to_see_fits_the_page(planet_walker, size):
    for name in ("jupiter", "plato", "castor"):
        lines = page_of(planet_walker, name, size)
        assert len(lines) <= size[1] - 4
        assert all(len(row) <= max(size[0] - 2, 52) for row in lines)


def test_a_planet_shows_its_moons_its_moments_and_its_best_hour(planet_walker):
    text = "\n".join(page_of(planet_walker, "jupiter", (80, 24)))
    assert "(o)" in text
    # Theory L1.2: Europa's shadow on the disc from 18:44 to 21:37 UTC, 19:44 to 22:37 in Berlin.
    assert "Europa's shadow on the disc" in text
    assert "19:44-22:3" in text
    assert "best" in text


def test_a_feature_of_the_moon_tells_its_light_and_how_it_is_turned(planet_walker):
    text = "\n".join(page_of(planet_walker, "plato", (80, 24)))
    assert "plain, 101 km, squeezed to 0.5" in text
    assert "inside the light" in text
    assert "light    good until" in text


def test_a_double_tells_where_its_companion_stands(planet_walker):
    text = "\n".join(page_of(planet_walker, "castor", (80, 24)))
    assert "1.9 + 3.0, 5.8″ at 49° (2027)" in text
    assert "stars leaving at 3" in text


def test_a_feature_of_the_moon_has_its_shadows_told_once(loaded_from, walker_of):
    names = ("Archimedes", "Rupes Recta", "Plato", "Tycho", "Copernicus", "Theophilus", "Langrenus")
    plan = PLAN.replace("2026-12-12", "2026-12-17") + "".join(
        f'\n[[target]]\nname = "{name}"\n' for name in names
    )
    walker = walker_of(loaded_from(plan))
    dusk_s = walker.night.twilights.civil_dusk_s
    told = {}
    for row, target in enumerate(walker.night.targets):
        lines = words(target_lines(Glance(walker, row, dusk_s + 600.0), (78, 20)))
        told[target.subject.name] = "\n".join(lines)
    lit = [text.partition("\nfind")[0] for text in told.values() if "° over it, " in text]
    assert len(lit) == 6
    assert [text.count("shadows") for text in lit] == [1] * 6
    assert "\nSun      7.1° over it, rising 0.4° an hour\n" in told["Archimedes"]


def test_what_is_never_up_is_not_called_missed_on_its_page(loaded_from, walker_of):
    names = ("NGC 4755", "M 31", "Copernicus")
    plan = PLAN.replace("2026-12-12", "2026-12-17") + "".join(
        f'\n[[target]]\nname = "{name}"\n' for name in names
    )
    walker = walker_of(loaded_from(plan))
    later_s = walker.night.twilights.sunrise_s
    heads = [words(target_lines(Glance(walker, row, later_s), (78, 20)))[0] for row in range(3)]
    assert heads == ["NGC 4755   not tonight", "M 31   missed", "Copernicus   not tonight"]


def test_a_plan_of_which_nothing_is_ever_up_is_not_called_done(loaded_from, walker_of):
    """At 70 degrees north the Sun does not set in June."""
    plan = PLAN.replace("2026-12-12", "2026-06-20").replace("latitude_deg = 51.0", "latitude_deg = 70.0")
    walker = walker_of(loaded_from(plan + '\n[[target]]\nname = "M 13"\n\n[[target]]\nname = "Vega"\n'))
    page = words(main_page(walker, walker.night.twilights.darkest_s, (80, 24), None, 0.0))
    assert "nothing of this plan can be observed tonight" in [row.strip() for row in page]
    assert not [row for row in page if "the walk is done" in row]
    assert "2 not tonight" in page[-1]


@rows("letters", [60, 90, 120, 150, 180, 210, 240, 270])
def test_an_eyepiece_is_never_left_without_saying_what_it_is_for(walker, letters):
    now_s = walker.night.twilights.dark_s[0] + 60
    page = within(main_page(walker, now_s, (80, 24), None, now_s), Budget(letters, UNBOUNDED.weigh))
    told = [row.split() for row in words(page) if "mm eyepiece" in row]
    assert all(row[0] in {"find", "look"} for row in told), told
