"""`nightmode log`: what was kept comes out of every format again."""

import csv
import io
import json
import re

import ephem
import html5lib
import numpy as np
from history.keeping import at, head, keep, note, tick
from hypothesis import given
from hypothesis import strategies as st

from nightmode.cli.main import main
from nightmode.files.places import sessions_folder
from nightmode.history.heights import heights_of
from nightmode.history.sitting import sitting_of
from nightmode.model.base import storable
from nightmode.model.session import Entry, Event, Outcome
from nightmode.report.log.data import CSV_HEAD, log_csv, log_json
from nightmode.report.log.html import log_html
from nightmode.report.log.markdown import log_markdown
from nightmode.report.log.story import Story
from nightmode.sky.kernel import open_sky


def two_nights():
    keep(
        tick("M 31", minute=3, altitude_deg=61.0, azimuth_deg=120.5, eyepiece="Wide 25", filter="Grey"),
        note("bright core, dust on one side", "M 31", 4),
        tick("M 33", "suspected", 20, altitude_deg=55.2),
        Entry(at=at(30), event=Event.SKY, sky_brightness=21.1),
        Entry(at=at(31), event=Event.CHECK, seeing="II"),
        Entry(at=at(40), event=Event.CLOUDS, note="N NE"),
    )
    keep(tick("NGC 224", "not seen", 9, "2027-02-03", altitude_deg=20.0), night="2027-02-03", plan="Haze")


def test_many_nights_fit_a_terminal_of_80_columns(command):
    for day in range(1, 6):
        night = f"2027-03-{day:02d}"
        keep(
            *(tick("M 33", minute=minute, night=night) for minute in range(3)),
            Entry(at=at(9, night), event=Event.CHECK, seeing="III"),
            Entry(at=at(10, night), event=Event.SKY, sky_brightness=21.1),
            night=night,
            site="A hill with a name that goes on and on",
        )
    lines = command("log").splitlines()
    assert max(map(len, lines)) == 80
    assert len(lines) == 8


def test_a_night_is_a_page(command):
    two_nights()
    page = command("log", "2027-01-09")
    assert "Saturday 9 January 2027, Larch Hill, Grey tube" in page
    assert re.search(r"19:03 M 31 +galaxy in And +61.0° Wide 25 \+ Grey\S* +seen", page)
    assert "bright core, dust on one side" in page
    assert "sky 21.10 mag/arcsec²; seeing II" in page
    assert "19:40 clouds, clear only N NE" in page
    assert "Haze" not in page
    assert max(map(len, page.splitlines())) < 80


def test_an_object_is_told_across_nights_under_any_of_its_names(command):
    two_nights()
    for name in (["M 31"], ["NGC 224"], ["Andromeda Galaxy"], ["M", "31"]):
        told = command("log", *name)
        assert "2 nights; 1 seen, 1 not seen" in told
        assert "as NGC 224" in told
        assert "M 33" not in told


def test_names_of_several_words_need_no_quotes_one_after_another(command):
    keep(tick("M 31"), tick("Albireo", minute=5), tick("47 Tuc", minute=9), night="2026-10-12")
    typed = command("log", "Albireo", "M", "31", "2026", "47", "Tuc")
    assert typed == command("log", "Albireo", "M 31", "2026", "47 Tuc")
    assert typed.count("1 night; 1 seen") == 3
    assert "M: is neither" in command("log", "M", "Albireo", code=2)


def test_a_season_is_a_line_a_night(command):
    two_nights()
    for month in (3, 4):
        keep(tick("M 1"), night=f"2027-0{month}-05", plan="Spring")
    told = command("log", "2027-01..2027-03").splitlines()
    assert told[0].startswith("3 nights") or "Saturday" in told[0]
    told = command("log")
    assert re.search(r"Sat +9 Jan 2027 19:03 to 19:40 +Larch Hill +21.10 II +1 +1 +0", told)
    assert len([line for line in told.splitlines() if "Larch Hill" in line]) == 4


def test_a_session_is_named_by_its_file_and_a_rehearsal_is_shown_when_named(command, tmp_path):
    two_nights()
    path = keep(tick("M 13"), plan="Practice", rehearsal=True, path=tmp_path / "practice.toml")
    assert "rehearsal, not counted" in command("log", path)
    assert "M 13" not in command("log")
    (kept,) = sessions_folder().glob("2027-01-09-winter-larch-hill-*.toml")
    assert "M 33" in command("log", kept.name)


def test_words_that_mean_nothing_get_one_sentence(command, tmp_path):
    two_nights()
    for word, said in (
        ("2027-02-30", "is no date"),
        ("2027-03..2027-01", "ends before it begins"),
        ("nowhere.toml", "no such file"),
        ("M 311", "neither in the catalogue nor in a session"),
        ("Andromeda Galaxi", "did you mean"),
    ):
        assert said in command("log", word, code=2)
    assert "nothing noted yet" in command("log", "NGC 891")


def test_nothing_kept_yet_is_no_error(command):
    assert "Nothing noted yet" in command("log")
    assert json.loads(command("log", "--format", "json")) == {"nights": []}


def test_files_are_written_by_their_ending_and_never_over_another(command, tmp_path):
    two_nights()
    for ending, begins in (("csv", "night,at"), ("json", "{"), ("md", "# "), ("html", "<!doctype")):
        path = tmp_path / f"log.{ending}"
        assert "Wrote" in command("log", "-o", path)
        assert path.read_text(encoding="utf-8").startswith(begins)
        assert "is there already" in command("log", "-o", path, code=2)


def test_foreign_files_are_named_beside_the_output(command, capsys):
    two_nights()
    (sessions_folder() / "holiday.jpg").write_bytes(b"\xff\xd8")
    capsys.readouterr()
    assert main(["log", "--format", "json"]) == 0
    said = capsys.readouterr()
    json.loads(said.out)
    assert said.err.count("holiday.jpg") == 1


wild = st.text(st.characters(codec="utf-8"), min_size=1, max_size=40).map(storable)
short = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=20)
formulas = st.sampled_from(["=1+1", "+SUM(A1)", "-2", "@cmd", "=cmd|' /C calc'!A0"])
entries = st.lists(
    st.builds(
        lambda minute, name, outcome, words, height: Entry(
            at=at(minute), event=Event.TICK, target=name, outcome=outcome, note=words, altitude_deg=height
        ),
        st.integers(0, 600),
        short | formulas,
        st.sampled_from(Outcome),
        wild | formulas,
        st.none() | st.floats(-1, 89).map(lambda x: round(x, 1)),
    ),
    min_size=1,
    max_size=5,
    unique_by=lambda entry: entry.target,
)


def kept(found):
    return [(look.name, look.outcome.value, look.altitude_deg, "; ".join(look.notes)) for look in found]


def test_a_note_with_what_is_no_character_makes_a_page_that_html_allows():
    note = "before\ufdd0after\uffff\U0010fffe"
    entry = Entry(at=at(5), event=Event.TICK, target="M 31", outcome=Outcome.SEEN, note=note)
    text = log_html(Story((sitting_of("x.toml", head(), [entry]),)), {})
    assert from_html(text) == [("M 31", "seen", "")]
    assert "before\ufffdafter" in text


@given(entries)
def test_what_was_ticked_comes_out_of_every_format_again(found):
    sitting = sitting_of("x.toml", head(), found)
    story, wanted = Story((sitting,)), kept(sitting.by_time)
    looks = json.loads(json.dumps(log_json(story)))["nights"][0]["looks"]
    assert [(x["target"], x["outcome"], x["altitude_deg"], "; ".join(x["notes"])) for x in looks] == wanted
    assert from_csv(log_csv(story)) == wanted
    assert from_html(log_html(story, {})) == [
        (name, outcome, "" if height is None else f"{height:.1f}°") for name, outcome, height, _ in wanted
    ]
    assert log_markdown(story).count("\n| 1") + log_markdown(story).count("\n| 2") + log_markdown(
        story
    ).count("\n| 0") == len(wanted)


def from_csv(text):
    assert all(line.endswith("\r\n") for line in io.StringIO(text, newline="").readlines()[-1:])
    head_row, *rows = csv.reader(io.StringIO(text, newline=""), strict=True)
    assert tuple(head_row) == CSV_HEAD
    found = []
    for row in rows:
        assert not any(cell.startswith(tuple("=+@")) for cell in row)
        cells = dict(zip(head_row, row, strict=True))
        height = float(cells["altitude_deg"]) if cells["altitude_deg"] else None
        found.append((plain(cells["target"]), cells["outcome"], height, plain(cells["notes"])))
    return found


def plain(cell):
    """Take the apostrophe away that keeps a spreadsheet from reckoning."""
    return cell[1:] if cell[:1] == "'" and cell[1:2] in tuple("=+-@＝＋－＠") else cell


def from_html(text):
    tree = html5lib.HTMLParser(namespaceHTMLElements=False, strict=True).parse(text)
    rows = []
    for row in tree.iter("tr"):
        cells = ["".join(cell.itertext()) for cell in row.findall("td")]
        if cells:
            rows.append((cells[2], cells[6], cells[4]))
    return rows


def test_the_page_loads_nothing_and_runs_nothing(command, tmp_path):
    two_nights()
    keep(tick("<script>alert(1)</script>"), night="2027-03-01", plan="<b>Odd</b>")
    keep(tick("M 1"), night="2027-03-01", plan="Another of that night")
    command("log", "-o", tmp_path / "log.html")
    page = (tmp_path / "log.html").read_text(encoding="utf-8")
    tree = html5lib.HTMLParser(namespaceHTMLElements=False, strict=True).parse(page)
    assert not list(tree.iter("script"))
    assert not list(tree.iter("b"))
    assert not re.search(r"(src|href)=\"(?!#)", page)
    assert "url(" not in page
    links = {one.get("href")[1:] for one in tree.iter() if one.get("href")}
    places = [one.get("id") for one in tree.iter() if one.get("id")]
    assert links <= set(places)
    assert len(places) == len(set(places))
    assert len(links) == 3


def test_the_heights_in_the_picture_are_those_of_another_reckoning():
    """PyEphem says how high M 42 stood; its place is the catalogue's, J2000."""
    sitting = sitting_of("x.toml", head(), [tick("M 42", minute=120)])
    heights = heights_of(open_sky(), sitting)
    found = np.interp(sitting.looks[0].at.timestamp(), heights.time_s, heights.altitude_deg["M 42"])
    place = ephem.Observer()
    place.lat, place.lon, place.pressure, place.temp = "47.1", "15.4", 1010, 10
    place.date = "2027/01/09 20:00:00"
    nebula = ephem.readdb("M 42,f|U,5:35:17.3,-5:23:28,4,2000")
    nebula.compute(place)
    assert abs(found - np.degrees(float(nebula.alt))) < 0.05


def test_a_folder_full_of_foreign_files_does_not_push_the_record_away(capsys):
    two_nights()
    for number in range(40):
        (sessions_folder() / f"note-{number:02d}.toml").write_text("milk, bread\n")
    assert main(["log"]) == 0
    out, err = capsys.readouterr()
    assert "NGC 224" in out
    lines = err.splitlines()
    assert lines[0].startswith("left out: ")
    assert "note-00.toml" in lines[0]
    assert lines[-1] == "left out: 35 files more"
    assert len(lines) == 6
