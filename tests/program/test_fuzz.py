"""The whole `check` command on files changed at random, and on files as odd as they may rightly be."""

import datetime as dt
import json

import pytest
import tomli_w
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from program.answers import answer, assert_proper, on_disk

from nightmode.kinds import Kind

OBSERVER = """[observer]
pupil_mm = 6.5
min_altitude_deg = 15
site = "Larch Hill"
phrases = ["bright", "faint, averted vision"]

[[site]]
name = "Larch Hill"
latitude_deg = 47.1
longitude_deg = 15.4
timezone = "Europe/Vienna"
sky_brightness = 21.2
horizon = [[0, 10], [90.0, 5], [180, 12.5]]

[[telescope]]
name = "Grey tube"
aperture_mm = 200
focal_length_mm = 1200

[[eyepiece]]
name = "Wide 25"
focal_length_mm = 25

[[filter]]
name = "Narrow"
passband = "narrowband"
"""
PLAN = """title = "Winter from the hill"
night = 2027-01-09

[[target]]
name = "M 42"
look_for = 'the dark bay and the "wings"'

[[target]]
name = "Own find"
kind = "galaxy"
position = "05h35m17s -05d23m28s"
magnitude = 9.5
size_arcmin = 20
"""
PIECES = (
    *(
        "[",
        "]",
        "[[",
        "{",
        "}",
        "=",
        '"',
        "'",
        '"""',
        "\\",
        "#",
        ",",
        ".",
        "-",
        "\n",
        "\r\n",
        "\r",
        "\t",
        "\0",
    ),
    *("nan", "-inf", "1e999", "9" * 30, "0x" + "f" * 500, "true", "[]", "{}", '""', "-0.0", "1e-300", "47,1"),
    *(
        "2027-02-30",
        "0001-01-01",
        "9999-12-31",
        "2027-01-09T25:00:00Z",
        "[[target]]\n",
        "[site]\n",
        "[a.b]\n",
    ),
    *('name = "M 42"\n', 'name = "M 31"\n', "night = 2053-09-30\n", "latitude_deg = -90\n", "a.b.c = 1\n"),
    *(
        "\u202e",
        "\\u202e",
        "\\u001b[31m",
        "\x1b]52;c;AA\x07",
        "\\ud800",
        "\ufeff",
        "[bold]",
        "é",
        "🔭",
        "x" * 600,
    ),
)
PIECE = st.sampled_from([piece.encode() for piece in PIECES]) | st.binary(max_size=6)
QUIET = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.function_scoped_fixture]


@st.composite
def changed(draw, text):
    """Return the bytes of a file after up to three changes."""
    data = text.encode()
    for _ in range(draw(st.integers(0, 3))):
        start = draw(st.integers(0, len(data)))
        end = min(len(data), start + draw(st.sampled_from([0, 0, 1, 2, 8, 40])))
        other = draw(st.integers(0, len(data)))
        data = data[:start] + draw(PIECE | st.just(data[other : other + 60])) + data[end:]
    encoding = draw(st.sampled_from([""] * 12 + ["utf-16", "latin-1"]))
    return data.decode(errors="replace").encode(encoding, "replace") if encoding else data


@st.composite
def with_other_lines(draw, text):
    """Return a file with lines left out, given twice, out of order, or with another value."""
    lines = text.splitlines()
    for _ in range(draw(st.integers(1, 3))):
        place, other = (draw(st.integers(0, len(lines) - 1)) for _ in range(2))
        act = draw(st.sampled_from(["drop", "repeat", "swap", "value", "key"]))
        if act == "drop" and len(lines) > 1:
            del lines[place]
        elif act == "repeat":
            lines.insert(other, lines[place])
        elif act == "swap":
            lines[place], lines[other] = lines[other], lines[place]
        elif " = " in lines[place]:
            key, value = lines[place].split(" = ", 1)
            piece = draw(st.sampled_from(PIECES) | st.floats().map(repr) | st.integers().map(repr))
            lines[place] = f"{key} = {piece}" if act == "value" else f"{key[:-1]}{piece} = {value}"
    return "\n".join(lines).encode()


def _run(examples, strategy, check):
    quick = examples < 1000
    run = settings(
        max_examples=examples, deadline=None, derandomize=quick, database=None, suppress_health_check=QUIET
    )
    run(given(strategy)(check))()


@pytest.mark.parametrize("examples", [20, pytest.param(8_000, marks=pytest.mark.long)])
@pytest.mark.parametrize("change", [changed, with_other_lines])
def test_changed_files_are_read_or_refused_in_one_sentence(tmp_path, change, examples):
    plan, observer = tmp_path / "plan.toml", tmp_path / "observer.toml"
    codes = set()

    def check(files):
        plan.write_bytes(files[0])
        observer.write_bytes(files[1])
        before = on_disk(tmp_path)
        argv = ["check", str(plan), "--observer", str(observer)]
        got = answer(argv)
        assert_proper(got, (argv, files))
        assert on_disk(tmp_path) == before
        codes.add(got.code)

    sound = st.tuples(st.just(PLAN.encode()), change(OBSERVER))
    _run(examples, st.tuples(change(PLAN), st.just(OBSERVER.encode())) | sound, check)
    assert codes == {0, 2}


def number(low, high):
    """Return numbers from low to high, often the ends themselves."""
    return st.sampled_from([low, high]) | st.floats(low, high, allow_nan=False)


def table(needed, **others):
    return st.fixed_dictionaries(needed, optional=others)


NAMES = st.text(
    st.characters(blacklist_categories=("Cc", "Cf", "Cs", "Zl", "Zp", "Co")), min_size=1, max_size=80
)
NAMES = NAMES.filter(lambda name: name.strip())
BARRELS = st.sampled_from([0.965, 1.25, 2])
POSITIONS = st.tuples(st.integers(0, 359), st.integers(-90, 90)).map(
    lambda place: f"{place[0]} {place[1]:+d}"
)
SITE = table(
    {"name": NAMES, "latitude_deg": number(-90, 90), "longitude_deg": number(-180, 360)},
    elevation_m=number(-450, 6000),
    timezone=st.sampled_from(
        ["UTC", "Europe/Vienna", "Pacific/Kiritimati", "Asia/Kathmandu", "Antarctica/Troll"]
    ),
    extinction=number(0.05, 2),
    horizon=st.lists(st.tuples(number(0, 360), number(-5, 89)).map(list), max_size=5),
) | table(
    {
        "name": NAMES,
        "latitude_deg": number(-90, 90),
        "longitude_deg": number(-180, 360),
        "bortle": st.integers(1, 9),
    }
)
TELESCOPE = table(
    {"name": NAMES, "aperture_mm": number(20, 2000), "focal_length_mm": number(50, 20000)},
    obstruction_mm=number(0, 19),
    transmission=number(0.11, 1),
    barrel_in=BARRELS,
)
EYEPIECE = table(
    {"name": NAMES, "focal_length_mm": number(1, 120)},
    apparent_field_deg=number(20, 120),
    field_stop_mm=number(0.1, 60),
    barrel_in=BARRELS,
)
TARGET = table(
    {"name": NAMES, "kind": st.sampled_from([kind.value for kind in Kind]), "position": POSITIONS},
    magnitude=number(-30, 25),
    companion_magnitude=number(-30, 25),
    size_arcmin=number(0.001, 1200),
    size_minor_arcmin=number(0.001, 1200),
    separation_arcsec=number(0.001, 3600),
    min_altitude_deg=number(0, 85),
) | table({"name": st.sampled_from(["M 31", "NGC 7293", "Moon", "Saturn", "Venus", "Albireo", "M 45"])})
PLANS = table(
    {
        "night": st.dates(dt.date(1900, 1, 1), dt.date(2053, 9, 30)),
        "site": SITE,
        "telescope": TELESCOPE,
        "target": st.lists(TARGET, min_size=1, max_size=4),
    },
    title=NAMES,
    eyepiece=st.lists(EYEPIECE, max_size=3),
    barlow=st.lists(table({"name": NAMES, "factor": number(0.3, 6)}, barrel_in=BARRELS), max_size=2),
    filter=st.lists(
        table({"name": NAMES, "passband": st.sampled_from(["oiii", "neutral", "hbeta"])}), max_size=2
    ),
    finder=st.lists(
        table({"name": NAMES, "kind": st.just("optical")}, field_deg=number(0.1, 20)), max_size=1
    ),
)
PEOPLE = table(
    {},
    pupil_mm=number(2, 9),
    experience=number(0.5, 10),
    min_altitude_deg=number(0, 60),
    seeing_arcsec=number(0.3, 10),
)


@pytest.mark.parametrize(
    "key", ["size_arcmin = 5e-324", "size_minor_arcmin = 1e-310", "separation_arcsec = 5e-324"]
)
def test_the_smallest_numbers_that_a_file_can_hold_are_judged(tmp_path, key):
    plan, observer = tmp_path / "plan.toml", tmp_path / "observer.toml"
    plan.write_text(PLAN.replace("size_arcmin = 20", key))
    observer.write_text(
        OBSERVER.replace("focal_length_mm = 25", "focal_length_mm = 25\nfield_stop_mm = 5e-324")
    )
    got = answer(["check", str(plan), "--observer", str(observer)])
    assert_proper(got, key)
    assert got.code == 0


def _no_number(text):
    raise AssertionError(f"{text} is no number")


@pytest.mark.parametrize("examples", [15, pytest.param(4_000, marks=pytest.mark.long)])
def test_a_plan_as_odd_as_it_may_be_is_judged_in_numbers(tmp_path, examples):
    plan, observer = tmp_path / "plan.toml", tmp_path / "observer.toml"
    judged = 0

    def check(files):
        nonlocal judged
        plan.write_text(tomli_w.dumps(files[0]), encoding="utf-8")
        observer.write_text(tomli_w.dumps({"observer": files[1]}), encoding="utf-8")
        got = answer(["check", str(plan), "--observer", str(observer), *files[2]])
        assert_proper(got, files)
        if got.code == 0 and files[2]:
            judged += 1
            found = json.loads(got.out, parse_constant=_no_number)
            assert len(found["targets"]) == len(files[0]["target"])

    flags = st.sampled_from([[], ["--json", "--at", "23:30"], ["--json"]])
    _run(examples, st.tuples(PLANS, PEOPLE, flags), check)
    assert judged > examples / 4
