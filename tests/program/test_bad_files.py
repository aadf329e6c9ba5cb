"""Each of the four files as everything but a right one: one sentence, no harm, and never a hang."""

import os
import time

import pytest
from program.answers import answer, assert_proper, on_disk, on_terminal
from turns import SHARES, rarely

from nightmode.files.places import observer_file

SITE = '{ name = "Hill", latitude_deg = 47.1, longitude_deg = 15.4, timezone = "Europe/Vienna" }'
TUBE = '{ name = "Tube", aperture_mm = 200, focal_length_mm = 1200 }'
PLAN = f"""night = 2026-12-13
site = {SITE}
telescope = {TUBE}
eyepiece = [{{ name = "Wide 25", focal_length_mm = 25 }}]
[[target]]
name = "M 42"
"""
OBSERVER = f"site = [{SITE}]\ntelescope = [{TUBE}]\n"
THEME = 'name = "own"\n[red]\nstrong = 170\ntext = 120\nfaint = 60\nline = 35\nalert = 220\n'
RIGHT = {"plan": PLAN, "observer": OBSERVER, "theme": THEME}


def _link_loop(path, text):
    path.symlink_to(path.with_name("round"))
    path.with_name("round").symlink_to(path)


def _sparse(path, text):
    with path.open("wb") as file:
        file.truncate(50_000_000)


#: What stands where a file should be: how it is made from the right text.
WRONG = {
    "missing": lambda path, text: None,
    "empty": lambda path, text: path.write_bytes(b""),
    "a folder": lambda path, text: path.mkdir(),
    "binary": lambda path, text: path.write_bytes(bytes(range(256)) * 40),
    "UTF-16": lambda path, text: path.write_bytes(text.encode("utf-16")),
    "UTF-32": lambda path, text: path.write_bytes(text.encode("utf-32")),
    "Latin-1": lambda path, text: path.write_bytes(f"# é\n{text}".encode("latin-1")),
    "50 MB": _sparse,
    "nested deep": lambda path, text: path.write_text("x = " + "[" * 5000 + "]" * 5000),
    "tables nested deep": lambda path, text: path.write_text("[" + ".".join("a" * 5000) + "]\nb = 1\n"),
    "a key twice": lambda path, text: path.write_text(f"x = 1\nx = 2\n{text}"),
    "an unknown key": lambda path, text: path.write_text(f"x = 1\n{text}"),
    "not TOML": lambda path, text: path.write_text(f"{text}\n<html>"),
    "escapes": lambda path, text: path.write_bytes(text.encode() + b'\x1b[31m = "\x1b]52;c;AAAA\x07"\n'),
    "a bare carriage return": lambda path, text: path.write_bytes(b'a = "\r"\n' + text.encode()),
    "line ends of an old system": lambda path, text: path.write_bytes(text.replace("\n", "\r").encode()),
    "a loop of links": _link_loop,
    "a link to nowhere": lambda path, text: path.symlink_to(path.with_name("nowhere")),
    "a pipe": lambda path, text: os.mkfifo(path),
    "a device": lambda path, text: path.symlink_to("/dev/zero"),
}  # fmt: skip
HARMLESS = {
    "a byte-order mark": lambda path, text: path.write_bytes(b"\xef\xbb\xbf" + text.encode()),
    "line ends of another system": lambda path, text: path.write_bytes(text.replace("\n", "\r\n").encode()),
    "no line end": lambda path, text: path.write_bytes(text.rstrip().encode()),
    "a link": lambda path, text: (
        path.symlink_to(path.with_name("real")),
        path.with_name("real").write_text(text),
    ),
}


@pytest.fixture
def here(tmp_path, monkeypatch):
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    (folder / "plan.toml").write_text(PLAN)
    return folder


def line(role, path):
    if role == "plan":
        return ["check", str(path)]
    return ["check", "plan.toml", "--observer", str(path)]


def assert_refused(argv, folder):
    before, began_s = on_disk(folder), time.process_time()
    got = answer(argv)
    assert_proper(got, argv)
    assert got.code == 2
    assert got.out == ""
    assert on_disk(folder) == before
    assert time.process_time() - began_s < 5
    return got.error


@pytest.mark.parametrize("kind", WRONG)
@pytest.mark.parametrize("role", ["plan", "observer"])
def test_a_wrong_file_is_one_sentence(here, role, kind):
    path = here / f"{role} under test.toml"
    WRONG[kind](path, RIGHT[role])
    if (role, kind) == ("observer", "empty"):
        assert answer(line(role, path)).code == 0  # says nothing, which is right
        return
    assert path.name in assert_refused(line(role, path), here)


def test_an_observer_whose_disk_is_not_there_is_not_taken_for_none(here):
    usual = observer_file()
    usual.parent.mkdir(parents=True)
    usual.symlink_to(here / "stick" / "observer.toml")
    assert "observer.toml: not read, there is no such file" in assert_refused(["nights", "--days=1"], here)


def test_a_file_without_line_feeds_is_told_about_its_line_ends(here):
    (here / "old.toml").write_bytes(RIGHT["plan"].replace("\n", "\r").encode())
    assert "old.toml: a line ends with a bare carriage return; save" in assert_refused(
        ["check", "old.toml"], here
    )


@pytest.mark.parametrize("kind", HARMLESS)
@pytest.mark.parametrize("role", ["plan", "observer"])
def test_what_does_no_harm_is_read(here, role, kind):
    path = here / "other.toml"
    HARMLESS[kind](path, RIGHT[role])
    got = answer(line(role, path))
    assert_proper(got, kind)
    assert got.code == 0
    assert "M 42" in got.out


@pytest.mark.parametrize("kind", [kind for kind in WRONG if kind != "missing"])
def test_a_file_that_is_no_journal_is_not_touched(here, kind):
    path = here / "session.toml"
    WRONG[kind](path, PLAN)
    before = {place: what for place, what in on_disk(here).items() if place.suffix == ".toml"}
    got = on_terminal(["walk", "plan.toml", "--at", "21:00", "--session", str(path)])
    if kind == "empty":
        assert got.code == 143  # what a crash in the very first moment leaves: begun again
        return
    assert got.code == 2, got
    assert {place: what for place, what in on_disk(here).items() if place.suffix == ".toml"} == before


@pytest.mark.parametrize("kind", ["missing", "a folder", "binary", "nested deep", "escapes", "a pipe"])
def test_a_wrong_theme_is_told_and_the_night_goes_on_in_the_usual_one(here, kind):
    path = here / "theme.toml"
    WRONG[kind](path, THEME)
    got = on_terminal(["walk", "plan.toml", "--at", "21:00", "--theme", str(path)], until=b"theme.toml")
    assert got.code == 143
    assert "theme.toml" in got.out
    assert "\x1b]52" not in got.out


@pytest.mark.parametrize("role", ["plan", "observer"])
def test_a_file_that_may_not_be_read_is_one_sentence(here, role):
    path = here / "private.toml"
    path.write_text(RIGHT[role])
    assert answer(line(role, path)).code == 0
    path.chmod(0)
    give_up = (lambda: os.setuid(65534)) if os.getuid() == 0 else (lambda: None)
    got = on_terminal(line(role, path), before=give_up)
    assert got.code == 2
    assert "no permission" in got.out
    assert got.out.count("\n") == 1


#: Values that stand where others should, in the places of a plan.
BAD_VALUES = (
    "nan", "inf", "-inf", "1e999", "9" * 400, "-1", '"text"', "true", "[]", "{}", "[[1]]", "2027-02-30",
    "0001-01-01", "9999-12-31", "1979-05-27T07:32:00Z", "07:32:00", '""', '"\\u001b[31m"', '"\\u202e"',
    f'"{"x" * 10_000}"', '"[bold]"', '"[link=x]y[/link]"', '"\\u0000"', '"\\ud800"',
)  # fmt: skip
KEYS = {
    "plan": (
        "title", "night", "note", "site", "telescope", "site.latitude_deg", "site.longitude_deg",
        "site.timezone", "site.horizon", "site.bortle", "telescope.aperture_mm", "telescope.focal_length_mm",
        "eyepiece", "target",
    ),
    "target": (
        "name", "kind", "position", "magnitude", "companion_magnitude", "size_arcmin", "size_minor_arcmin",
        "separation_arcsec", "note", "look_for", "min_altitude_deg", "eyepiece",
    ),
    "observer": (
        "pupil_mm", "experience", "min_altitude_deg", "seeing_arcsec", "site", "telescope", "theme", "red",
        "dim_after_min", "phrases", "before_dark", "packing_up",
    ),
}  # fmt: skip
PLACES = [(table, key) for table, keys in KEYS.items() for key in keys]
MINIMAL = 'night = 2026-12-13\nsite.name = "Hill"\nsite.latitude_deg = 47.1\nsite.longitude_deg = 15.4\n'
MINIMAL += 'telescope.name = "Tube"\ntelescope.aperture_mm = 200\ntelescope.focal_length_mm = 1200\n'


def with_value(table, key, value):
    """Return the text of a plan, and of an observer.toml, in which one key has another value."""
    top = [row for row in MINIMAL.splitlines() if table != "plan" or row.partition(" ")[0] != key]
    if table == "plan" and "." not in key:
        top = [row for row in top if not row.startswith(f"{key}.")]
    if table == "plan":
        top.append(f"{key} = {value}")
    rows = ['name = "Own find"', 'kind = "galaxy"', 'position = "05h35m17s -05d23m28s"']
    if table == "target":
        rows = [row for row in rows if row.partition(" ")[0] != key] + [f"{key} = {value}"]
    targets = [] if (table, key) == ("plan", "target") else ["[[target]]", *rows]
    observer = f"[observer]\n{key} = {value}\n" if table == "observer" else ""
    return "\n".join([*top, *targets]) + "\n", observer


@pytest.mark.parametrize("share", SHARES)
@pytest.mark.parametrize(("table", "key"), PLACES)
def test_any_value_at_any_place_is_read_or_refused_in_one_sentence(here, table, key, share):
    refused = 0
    values = BAD_VALUES[PLACES.index((table, key)) % share :: share]
    for value in values:
        plan, observer = with_value(table, key, value)
        (here / "p.toml").write_text(plan)
        (here / "o.toml").write_text(observer)
        argv = ["check", "p.toml", "--observer", "o.toml"]
        before = on_disk(here)
        got = answer(argv)
        assert_proper(got, (plan, observer))
        assert on_disk(here) == before
        refused += got.code == 2
    assert refused >= len(values) / 2


@pytest.mark.parametrize(
    ("count", "magnitude"), [(500, 8), rarely(2100, 8), rarely(2100, 14)], ids=["", "fit", "do not fit"]
)
def test_hundreds_and_thousands_of_targets_work(here, count, magnitude):
    rows = [
        f'[[target]]\nname = "Find {n}"\nkind = "galaxy"\nmagnitude = {magnitude}\nsize_arcmin = 3\n'
        f'position = "{n * 360 / count:.3f} {n % 35 + 50:+d}"\n'
        for n in range(count)
    ]
    plan = here / "many.toml"
    plan.write_text(PLAN.partition("[[target]]")[0] + "".join(rows))
    got = answer(["check", str(plan)])
    assert got.code == 0
    assert got.out.count("Find ") >= count


@pytest.mark.parametrize(
    ("targets", "word"),
    [
        (["M 42", "M 42"], "twice"),
        (["M 42", "m42"], "twice"),
        ([], "no target"),
        (["Sun"], "Sun"),
        (["M 9999"], "M 9999"),
        (["NGC 99999"], "NGC 99999"),
        (["Nibiru"], "Nibiru"),
    ],
)
def test_targets_that_cannot_be_are_one_sentence(here, targets, word):
    plan = here / "odd.toml"
    top = PLAN.partition("[[target]]")[0]
    plan.write_text(top + "".join(f'[[target]]\nname = "{name}"\n' for name in targets))
    assert word in assert_refused(["check", str(plan)], here)


RIGHT_POSITIONS = (
    "05h35m17s -05d23m28s", "05:35:17 -05:23:28", "05 35 17 -05 23 28", "5h35.3m -5d23.5m", "83.8208 -5.3911",
    "05h35m17.3s-05°23′28″", "05 35.3 -05 23.5", "05h 35m 17s −05° 23' 28\\\"",
)  # fmt: skip
WRONG_POSITIONS = (
    "25h00m00s +00d00m00s", "05h60m00s +00d00m00s", "05h35m17s +91d00m00s", "05h35m17s", "360.0 +0.0",
    "05h35m17s 05d23m28s", "-1 +0", "M 42", "somewhere", "05,35 -05,23", "nan nan", "٠٥h35m17s -05d23m28s",
    "5" * 55,
)  # fmt: skip


@pytest.mark.parametrize("position", RIGHT_POSITIONS + WRONG_POSITIONS)
def test_positions_in_every_usual_spelling_and_in_wrong_ones(here, position):
    plan = here / "own.toml"
    top = PLAN.partition("[[target]]")[0]
    plan.write_text(f'{top}[[target]]\nname = "Own"\nkind = "emission nebula"\nposition = "{position}"\n')
    if position in RIGHT_POSITIONS:
        got = answer(["check", str(plan), "--json"])
        assert got.code == 0, got
        assert '"ra_deg": 83.8' in got.out
        assert '"dec_deg": -5.3' in got.out
    else:
        assert "position" in assert_refused(["check", str(plan)], here)
