"""`nightmode tally`: a list's progress over every session that is no rehearsal."""

import json

import html5lib
import pytest
from catalog.test_elements import comet
from cli.conftest import SITE_A
from history.keeping import keep, tick
from hypothesis import example, given
from hypothesis import strategies as st

from nightmode.history.objects import identify
from nightmode.history.tally import Item, Tally
from nightmode.model.session import Outcome
from nightmode.report.tally.text import bar

LIST = """title = "Five of them"
[[target]]
name = "M 31"
[[target]]
name = "M 102"
[[target]]
name = "Albireo"
[[target]]
name = "Moon"
[[target]]
name = "My asterism"
kind = "asterism"
position = "23h57m24s +56d42m30s"
"""


@pytest.fixture
def five(tmp_path):
    path = tmp_path / "five.toml"
    path.write_text(LIST)
    return path


def some_nights():
    keep(tick("NGC 224", altitude_deg=61.0), tick("Albireo", "not seen", 5), night="2026-10-12")
    keep(tick("NGC 5866", "suspected"), tick("my asterism"), night="2026-11-03", plan="Autumn")
    keep(tick("Moon"), plan="Practice", rehearsal=True)


def test_the_counts_and_what_is_left(command, five):
    some_nights()
    told = command.json("tally", five)
    assert {key: told[key] for key in ("list", "total", "seen", "suspected", "not_seen", "left")} == {
        "list": "Five of them",
        "total": 5,
        "seen": 2,
        "suspected": 1,
        "not_seen": 1,
        "left": ["Moon"],
    }
    assert [entry["outcome"] for entry in told["entries"]] == ["seen", "suspected", "not seen", None, "seen"]
    first = told["entries"][0]
    assert (first["name"], first["first"], first["best"]) == (
        "M 31",
        "2026-10-12",
        {"night": "2026-10-12", "altitude_deg": 61.0},
    )
    assert told["entries"][4]["kind"] == "asterism"
    assert told["parts"]["kind"]["galaxy"] == {"seen": 1, "suspected": 1, "not_seen": 0, "left": 0}
    assert told["parts"]["constellation"]["Cyg"]["not_seen"] == 1


def test_the_bar_and_the_parts(command, five):
    some_nights()
    told = command("tally", five)
    assert "5: 2 seen, 1 suspected, 1 not seen, 1 left" in told
    assert "#" * 24 + "+" * 12 + "x" * 12 + "." * 12 in told
    assert "By kind" in told
    assert "And 1/1" in told
    assert max(map(len, told.splitlines())) < 80


def test_lists_that_come_along_are_named_without_a_path(command):
    some_nights()
    assert command.json("tally", "messier")["seen"] == 1
    everything = command.json("tally")["lists"]
    assert [one["seen"] for one in everything if one["list"].startswith("Messier")] == [1]
    assert "All that was ever looked at" in command("tally")
    said = command("tally", "mesier", code=2)
    assert "messier" in said
    assert "there is no such file" in command("tally", "no/such.toml", code=2)


def test_what_the_rest_needs_where_site_and_telescope_are_known(command, tmp_path):
    some_nights()
    targets = "".join(f'[[target]]\nname = "{name}"\n' for name in ("M 42", "M 7", "M 31"))
    path = tmp_path / "here.toml"
    path.write_text('title = "Here"\nnight = 2026-12-12\n' + SITE_A + targets)
    told = command("tally", path)
    assert "Left: 2, from A with 150 mm reflector" in told
    assert "Never clear of its floor here in the dark: M 7" in told
    assert "The scarcest, and their next dark nights:" in told
    rest = {one["name"]: one for one in command.json("tally", path)["rest"]}
    assert rest["M 42"]["next_nights"][0] >= "2026-12-12"
    assert rest["M 7"]["months"] == []


def test_the_page_has_a_place_for_each_entry(command, five, tmp_path):
    some_nights()
    command("tally", five, "--html", "-o", tmp_path / "page.html")
    page = (tmp_path / "page.html").read_text(encoding="utf-8")
    tree = html5lib.HTMLParser(namespaceHTMLElements=False, strict=True).parse(page)
    titles = ["".join(one.itertext()) for one in tree.iter() if str(one.tag).endswith("}title")]
    told = json.loads(command("tally", five, "--json"))
    for entry in told["entries"]:
        wanted = f"{entry['name']}: {entry['outcome'] or 'left'}"
        assert sum(title.startswith(wanted) for title in titles) == 1
    assert "is there already" in command("tally", five, "--html", "-o", tmp_path / "page.html", code=2)
    assert "name it" in command("tally", "--html", code=2)


def test_nothing_kept_yet_leaves_everything(command):
    assert command.json("tally", "messier")["left"][:2] == ["M 1", "M 2"]


counts = st.tuples(*[st.integers(0, 400)] * 4).filter(any)


@given(counts)
@example((400, 1, 1, 1))
@example((1, 0, 0, 400))
def test_whatever_has_happened_shows_in_the_bar(numbers):
    outcomes = (Outcome.SEEN, Outcome.SUSPECTED, Outcome.NOT_SEEN, None)
    entries = [
        Item(str(place), identify("M 31"), outcome)
        for outcome, number in zip(outcomes, numbers, strict=True)
        for place in range(number)
    ]
    row = bar(Tally("Any", tuple(entries)))
    assert len(row) == 60
    assert {letter for letter, number in zip("#+x.", numbers, strict=True) if number} == set(row)
    assert row == "".join(sorted(row, key="#+x.".index))


def test_a_list_that_names_a_site_nobody_knows_is_told_so(command, tmp_path):
    observer = tmp_path / "observer.toml"
    site = '[[site]]\nname = "A"\nlatitude_deg = 47\nlongitude_deg = 11\n'
    observer.write_text(f'{site}[[telescope]]\nname = "T"\naperture_mm = 200\nfocal_length_mm = 1200\n')
    path = tmp_path / "far.toml"
    path.write_text(f'site = "Elsewhere"\n{LIST}')
    assert "Elsewhere" in command("tally", path, "--observer", observer, code=2)


def test_of_nothing_looked_at_no_line_is_made(command):
    assert "ever looked at" not in command("tally")
    keep(tick("M 31"))
    assert "All that was ever looked at\n1: 1 seen" in command("tally")


def test_the_moon_list_says_which_nights_of_this_lunation_show_the_rest(command, tmp_path):
    keep(tick("Plato"), night="2026-10-20")
    names = ("Plato", "Rupes Recta", "Copernicus")
    path = tmp_path / "moon.toml"
    targets = "".join(f'[[target]]\nname = "{name}"\n' for name in names)
    path.write_text('title = "Three"\nnight = 2027-01-08\n' + SITE_A + targets)
    told = command.json("tally", path)
    assert told["left"] == ["Rupes Recta", "Copernicus"]
    shown = {name for night in told["moon"] for name in night["shows"]}
    assert shown == {"Rupes Recta", "Copernicus"}
    assert "On the Moon until it is new, in their light:" in command("tally", path)
    assert "as they move" not in command("tally", path)


def test_a_comet_of_the_list_s_own_elements_counts_and_has_no_months(command, tmp_path):
    (tmp_path / "elements.txt").write_text(comet())
    path = tmp_path / "mixed.toml"
    targets = '[[target]]\nname = "M 42"\n[[target]]\nname = "C/2027 A1"\n'
    path.write_text('title = "Mixed"\nnight = 2026-12-12\nelements = "elements.txt"\n' + SITE_A + targets)
    assert command.json("tally", path)["left"] == ["M 42", "C/2027 A1"]
    assert "as they move: C/2027 A1" in command("tally", path)
    keep(tick("C/2027 A1"), night="2026-11-20")
    assert command.json("tally", path)["seen"] == 1
