"""sheet writes a page or prints text, says where, and leaves what is there alone."""

import argparse
import re

import html5lib
import pytest

from nightmode.cli import sheet
from nightmode.errors import NightmodeError
from nightmode.files.places import shipped


@pytest.fixture
def run(capsys, tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))

    def call(*flags):
        parser = argparse.ArgumentParser()
        sheet.add(parser.add_subparsers())
        args = parser.parse_args(["sheet", str(shipped("plans") / "hillside.toml"), *map(str, flags)])
        assert args.run(args) == 0
        return capsys.readouterr().out

    return call


def test_without_a_file_the_text_is_printed(run):
    out = run()
    assert out.startswith("Thin Moon over Larkfell\nSunday 13 December 2026")
    assert out.count("[ ] seen") == 30


def test_a_text_file_gets_text_and_another_night_moves_the_times(run, tmp_path):
    path = tmp_path / "sheet.txt"
    run("-o", path, "--night", "2027-01-15")
    assert path.read_text().startswith("Thin Moon over Larkfell\nFriday 15 January 2027")


def test_a_page_is_written_and_told_of_and_a_file_that_is_there_is_kept_unless_forced(run, tmp_path):
    path = tmp_path / "sheet.html"
    path.write_text("mine")
    with pytest.raises(NightmodeError, match="is there already"):
        run("-o", path)
    assert path.read_text() == "mine"
    assert "Wrote 30 targets to" in run("-o", path, "--force")
    assert path.read_text().startswith("<!doctype html>")
    html5lib.HTMLParser(strict=True).parse(path.read_text())


def test_no_line_ends_between_an_hour_and_its_height(run):
    rows = [line for line in run().splitlines() if re.match(r"\s+\d\dh", line) or re.search(r"\dh$", line)]
    assert any(len(row) > 70 for row in rows)  # some are full, so that they could break
    assert all(re.fullmatch(r"\s+(\d\dh \d+°( {2}|$))+", row) for row in rows)


def test_a_night_with_a_change_of_the_clock_says_so(run):
    """Summer time ends in Europe on the last Sunday of October, at 3 h (Directive 2000/84/EC)."""
    change = "clocks: 03:00 becomes 02:00 tonight"
    assert change in " ".join(run("--night", "2027-10-30").split())
    assert change not in " ".join(run("--night", "2027-10-29").split())
