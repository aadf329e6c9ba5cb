"""Whatever is wrong with a file is one sentence: the file, the place in it, what is wrong, what to write."""

import datetime as dt
import os

import pytest
from files.wrong_files import HILL, M13, WRONG
from rows import rows
from turns import rarely

from nightmode.errors import NightmodeError
from nightmode.files.toml import LIMIT_BYTES, read_toml
from nightmode.model.plan import Plan


def _sentence(path, model):
    with pytest.raises(NightmodeError) as caught:
        read_toml(path, model)
    return str(caught.value)


@rows("model, text, sentence", WRONG)
def test_what_is_wrong_is_said_with_its_place_and_what_to_write_instead(
    tmp_path, monkeypatch, model, text, sentence
):
    for old in tmp_path.iterdir():
        old.unlink()
    monkeypatch.chdir(tmp_path)
    path = tmp_path / f"{model.__name__.lower()}.toml"
    path.write_text(text, "utf-8", newline="")
    said = _sentence(path.relative_to(tmp_path), model)
    assert sentence in said
    assert said.isprintable()
    assert path.read_text("utf-8") == text.replace("\r\n", "\n").replace("\r", "\n")
    assert list(tmp_path.iterdir()) == [path]


@rows(
    "data, sentence",
    [
        (
            "é".encode("latin-1").join([b"title = '", b"'"]),
            "line 1: holds the byte E9, which is not UTF-8; save it",
        ),
        (b"\n\ntitle = '\xff'", "line 3: holds the byte FF, which is not UTF-8; save it as UTF-8."),
        ('title = "a"'.encode("utf-16"), "is UTF-16 or UTF-32 text; save it as UTF-8."),
        ('title = "a"'.encode("utf-32"), "is UTF-16 or UTF-32 text; save it as UTF-8."),
        ('title = "a"'.encode("utf-16-le"), "is not a text file; name a TOML file saved as UTF-8."),
        (b"\x7fELF\x02\x01\x01\x00", "is not a text file; name a TOML file saved as UTF-8."),
        (b"\x89PNG\r\n\x1a\n", "line 1: holds the byte 89, which is not UTF-8; save it as UTF-8."),
        (b"x" * (LIMIT_BYTES + 1), "is larger than 2 MB; name the file that was meant."),
    ],
)
def test_other_encodings_binary_and_huge_files_are_one_sentence(tmp_path, data, sentence):
    path = tmp_path / "plan.toml"
    path.write_bytes(data)
    assert sentence in _sentence(path, Plan)


def test_a_sparse_file_of_fifty_megabytes_is_refused_without_reading_it(tmp_path):
    path = tmp_path / "plan.toml"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    assert "is larger than 2 MB" in _sentence(path, Plan)


def test_what_is_no_ordinary_file_is_refused_and_never_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "circle").symlink_to(tmp_path / "circle")
    for name, sentence in {
        "gone.toml": "not read, there is no such file or folder; check the name.",
        "": "is a folder; name a file in it.",
        "pipe": "is a device or pipe; name an ordinary file.",
        "/dev/zero": "is a device or pipe; name an ordinary file.",
        "a\0b": "not read, the name cannot be that of a file; check the name.",
        "x" * 300: "not read, the name is too long; use a shorter one.",
        "circle": "not read, the links lead round in a circle; name the file itself.",
    }.items():
        assert sentence in _sentence(tmp_path / name, Plan)


@rows(
    "data",
    [
        M13.encode(),
        b"\xef\xbb\xbf" + M13.encode(),
        M13.replace("\n", "\r\n").encode(),
        M13.encode().rstrip(),
        b"# remark\n\n" + M13.encode() + b"# end",
        M13.encode() + b"note = '[bold]only text[/] \xf0\x9f\x94\xad'",
    ],
)
def test_what_is_right_is_read_however_it_was_saved(tmp_path, data):
    path = tmp_path / "plan.toml"
    path.write_bytes(data)
    assert read_toml(path, Plan).target[0].name == "M 13"


def test_every_value_arrives_as_it_was_written(tmp_path):
    path = tmp_path / "plan.toml"
    site = HILL.replace("[[site]]", "[site]") + "horizon = [[0, 10], [180.0, 25.5]]\n"
    path.write_text('title = "Winter"\nnight = 2027-01-09\n' + M13 + 'kind = "globular cluster"\n' + site)
    plan = read_toml(path, Plan)
    assert plan.night == dt.date(2027, 1, 9)
    assert plan.target[0].kind == "globular cluster"
    assert plan.site.horizon == ((0, 10), (180.0, 25.5))


def test_two_thousand_targets_are_read(tmp_path):
    path = tmp_path / "plan.toml"
    path.write_text("".join(f'[[target]]\nname = "NGC {n}"\nnote = "{"x" * 400}"\n' for n in range(2000)))
    assert len(read_toml(path, Plan).target) == 2000


def _filled(unit, share=1):
    return unit * (LIMIT_BYTES // share // len(unit) - 1)


@pytest.mark.parametrize(
    "text",
    [
        _filled("[[target]]\n", 5),
        rarely(_filled("[[target]]\n")),
        rarely("".join(f"[a{n}{'.b' * 6}]\n" for n in range(40_000))),
        "x = {" + _filled("a."),
        '"a"' + _filled('."a"'),
        "a" + _filled(" . a"),
        "x = " + _filled("["),
        rarely("".join(f"x{n} = {'[' * 200}{']' * 200}\n" for n in range(2_000))),
        "x = " + _filled("{a="),
        "x = [" + _filled("1,") + "]",
        'x = """' + _filled('""a'),
        "x = 0x" + _filled("f"),
        _filled('"'),
        _filled(","),
    ],
    ids=range(14),
)
def test_a_file_made_to_take_for_ever_is_refused(tmp_path, text):
    path = tmp_path / "plan.toml"
    path.write_text(text)
    said = _sentence(path, Plan)
    assert said.isprintable()


def test_a_journal_given_as_a_plan_is_refused_like_any_file(tmp_path):
    path = tmp_path / "session.toml"
    path.write_text("[session]\nformat = 1\n")
    assert 'unknown key "session"' in _sentence(path, Plan)
