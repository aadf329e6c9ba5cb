"""Valid files changed in ways nobody would think of: either they still read, or one sentence says why not."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from session.samples import HEAD, NASTY_NOTES, entry

from nightmode.errors import NightmodeError
from nightmode.files.toml import read_toml
from nightmode.model.observer import Observer
from nightmode.model.plan import Plan
from nightmode.model.theme import Theme
from nightmode.session import journal
from nightmode.session.blocks import entry_block, head_block

OBSERVER = """# who looks, from where, with what
[observer]
pupil_mm = 6.5
min_altitude_deg = 15
phrases = ["bright", "faint, averted vision"]

[[site]]
name = "Larch Hill"
latitude_deg = 47.1
longitude_deg = 15.4
elevation_m = 900
timezone = "Europe/Vienna"
sky_brightness = 21.2
horizon = [[0, 10], [90.0, 5], [180, 12.5]]

[[telescope]]
name = "Grey tube"
aperture_mm = 200
focal_length_mm = 1200
obstruction_mm = 50

[[eyepiece]]
name = "Wide 25"
focal_length_mm = 25
apparent_field_deg = 68

[[filter]]
name = "Narrow"
passband = "narrowband"

[[finder]]
name = "Circles"
kind = "bullseye"
rings_deg = [0.5, 2, 4]
"""
PLAN = """title = "Winter from the hill"
night = 2027-01-09
site = { name = "Larch Hill", latitude_deg = 47.1, longitude_deg = 15.4 }
telescope = "Grey tube"

[[target]]
name = "M 42"
look_for = 'the dark bay and the "wings"'

[[target]]
name = "Own find"
kind = "asterism"
position = "05h35m17s -05d23m28s"
magnitude = 6.5
size_arcmin = 20
"""
THEME = """name = "ember"
about = "low and even"
[red]
strong = 170
text = 120
faint = 60
line = 35
alert = 220
"""
JOURNAL = head_block(HEAD) + b"".join(entry_block(entry(n, note)) for n, note in enumerate(NASTY_NOTES[:5]))

#: Bits of TOML and of trouble to put where they do not belong.
TOKENS = (
    "[", "]", "[[", "]]", "{", "}", "=",
    "\"", "'", '"""', "'''", "\\", "#", ",", ".", "-", "\n", "\r\n", "\r", "\t",
    "nan", "inf", "-inf", "1e999", "9" * 30, "9" * 5000, "0x" + "f" * 5000, "true", "[]", "{}", '""', "-0.0",
    "2027-02-30", "0001-01-01", "9999-12-31", "2027-01-09T25:00:00Z", "0001-01-01T00:00:00+23:59", "12:00:00",
    "[[target]]\n", "[target]\n", "[site]\n", "[observer]\n", "[session]\n", "[[entry]]\n", "ok = true\n",
    "name = 1\n", "name = \"M 42\"\n", "a.b.c = 1\n",
    "\u202e", "\\u202e", "\\u001b[31m", "\\ud800", "\\u0000",
    "\ufeff", "\u2028", "[bold]", "é", "🔭", "x" * 600, "[" * 400, "a." * 50,
)  # fmt: skip
_BYTES = (b"\0", b"\xff", b"\x1b", b"\xc3", b"\xed\xa0\x80", b"\x80", b"\x7f", b"\xef\xbb\xbf")
_piece = st.sampled_from([token.encode() for token in TOKENS] + list(_BYTES)) | st.binary(max_size=8)


@st.composite
def _changed(draw, original):
    """Return the bytes of a file after one to four changes."""
    data = original
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(data)))
        end = min(len(data), start + draw(st.sampled_from([0, 0, 1, 3, 20])))
        other = draw(st.integers(0, len(data)))
        piece = draw(_piece | st.just(data[other : other + 40]))
        data = data[:start] + piece + data[end:]
    return data


@st.composite
def _other_value(draw, original):
    """Return a file with the value of one key replaced by something else that TOML has."""
    lines = original.decode().split("\n")
    number = draw(st.sampled_from([n for n, line in enumerate(lines) if " = " in line]))
    key = lines[number].split(" = ")[0]
    lines[number] = (
        f"{key} = {draw(st.sampled_from(TOKENS) | st.from_regex(r'-?[0-9]{1,30}', fullmatch=True))}"
    )
    return "\n".join(lines).encode()


def _changes(original):
    data = original.encode() if isinstance(original, str) else original
    return _changed(data) | _other_value(data) | _changed(data)


def _reads_or_says_why_not(read, path, data):
    path.write_bytes(data)
    try:
        read(path)
    except NightmodeError as error:
        said = str(error)
        assert said.isprintable()
        assert len(said) <= 600
        assert said.startswith(("…", "/", "~"))
        assert said.endswith((".", "…"))
    assert path.read_bytes() == data


def _fuzz(strategy, check, examples):
    """Run a check over many files; the bounded run is the same every time, the long one is not."""
    quiet = [HealthCheck.too_slow, HealthCheck.data_too_large]
    long = examples > 1000
    settings(
        max_examples=examples, deadline=None, derandomize=not long, database=None, suppress_health_check=quiet
    )(given(strategy)(check))()


AMOUNTS = [50, pytest.param(10_000, marks=pytest.mark.long)]


@pytest.mark.parametrize("examples", AMOUNTS)
@pytest.mark.parametrize(
    ("original", "model"),
    [(OBSERVER, Observer), (PLAN, Plan), (THEME, Theme)],
    ids=["observer", "plan", "theme"],
)
def test_a_changed_file_reads_or_one_sentence_says_why_not(quick_folder, original, model, examples):
    path = quick_folder / "file.toml"
    path.write_text(original)
    read_toml(path, model)  # the unchanged file is right
    _fuzz(
        _changes(original),
        lambda data: _reads_or_says_why_not(lambda where: read_toml(where, model), path, data),
        examples,
    )


@pytest.mark.parametrize("examples", AMOUNTS)
def test_a_changed_journal_reads_or_one_sentence_says_why_not(quick_folder, examples):
    path = quick_folder / "session.toml"
    _fuzz(_changes(JOURNAL), lambda data: _reads_or_says_why_not(journal.read, path, data), examples)


@pytest.mark.parametrize("examples", AMOUNTS)
def test_a_changed_journal_can_be_gone_on_with_and_every_entry_it_read_stays(quick_folder, examples):
    path = quick_folder / "session.toml"

    def goes_on(data):
        for old in quick_folder.iterdir():
            old.unlink()
        path.write_bytes(data)
        try:
            before = journal.read(path).entries
            book = journal.resume(path, HEAD)
        except NightmodeError:
            assert path.read_bytes() == data
            return
        book.append(entry(99))
        after = journal.read(path)
        assert after.entries == (*before, entry(99))
        assert after.message == ""
        copies = [copy.read_bytes() for copy in quick_folder.iterdir() if copy != path]
        assert data in copies or path.read_bytes().startswith(data.removesuffix(b"".join(copies)))

    _fuzz(_changes(JOURNAL), goes_on, examples)
