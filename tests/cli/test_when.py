"""`nightmode when` as a user runs it: places and kit are invented."""

import re
from html.parser import HTMLParser

import pytest
from cli.garden import GARDEN

OBSERVER = "[observer]" + GARDEN


@pytest.fixture
def observer(tmp_path):
    path = tmp_path / "observer.toml"
    path.write_text(OBSERVER)
    return path


def test_a_long_period_stars_year_tells_its_light_within_80_columns(command, observer):
    out = command("when", "R And", "--year", "2027", "--observer", observer)
    assert len(re.findall(r"about \d+\.\d mag$", out, re.MULTILINE)) >= 10
    assert all(len(line) <= 80 for line in out.splitlines())


def test_one_objects_year_is_twelve_rows_and_its_best_weeks(command, observer):
    out = command("when", "M 42", "--year", "2027", "--observer", observer)
    rows = [line for line in out.splitlines() if re.match(r"[A-Z][a-z]{2} 2027 ", line)]
    assert len(rows) == 12
    assert rows[5].split() == ["Jun", "2027", "not", "up", "in", "the", "dark"]
    assert "Best weeks" in out
    assert all(len(line) <= 80 for line in out.splitlines())


@pytest.mark.parametrize(
    ("name", "said", "weeks"),
    [
        ("Sirius", r"Out of reach, even on .*: .*glare\.", False),
        ("M 42", "", True),
        ("M 74", "At its best .*", True),
    ],
)
def test_what_limits_a_target_that_is_never_easy_is_told_once(command, observer, name, said, weeks):
    """Sirius stands for the pair here: 11 seconds of arc and 10 magnitudes are too much for 30x."""
    out = command("when", name, "--year", "2027", "--observer", observer)
    assert re.search(said, out)
    assert ("At its best" in out) == said.startswith("At")
    assert ("Best weeks" in out) == weeks
    assert all(len(line) <= 79 for line in out.splitlines())


def test_data_have_the_documented_keys(command, observer):
    data = command.json("when", "M 42", "--year", "2027", "--observer", observer)
    assert data["name"] == "M 42"
    assert [one["month"] for one in data["months"]] == [f"2027-{month:02d}" for month in range(1, 13)]
    assert {"usable_hours", "moonless_hours", "highest_deg", "verdict"} <= set(data["months"][0])
    assert data["months"][5]["highest_deg"] is None
    assert data["months"][0]["verdict"] == "easy"


def test_a_list_says_what_each_month_is_for(command, observer, tmp_path):
    names = ("M 42", "NGC 104", "NGC 206", "B 33")  # of the third no brightness is known; the last is dark
    path = tmp_path / "mine.toml"
    path.write_text('title = "Mine"\n' + "".join(f'[[target]]\nname = "{name}"\n' for name in names))
    out = command("when", path, "--year", "2027", "--observer", observer)
    assert "Never high enough in the dark from here: NGC 104." in out
    assert re.search(r"^(Nov|Dec|Jan|Feb) 2027 .*M 42", out, re.MULTILINE)


def test_the_page_stands_alone_and_has_pictures(command, observer, tmp_path):
    out = tmp_path / "m42.html"
    command("when", "M 42", "--year", "2027", "--observer", observer, "--html", "-o", out)
    text = out.read_text()
    assert not re.search(r"<script|https?://(?!www\.w3\.org/2000/svg)", text)

    class Counter(HTMLParser):
        pictures = 0

        def handle_starttag(self, tag, attrs):
            self.pictures += tag == "svg"

    counter = Counter()
    counter.feed(text)
    assert counter.pictures == 2
    assert "already there" in command(
        "when", "M 42", "--observer", observer, "--html", "-o", out, code=2
    ).replace("is there already", "already there")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("M 42", "--year", "3000"), "--year: '3000' is not a year; write one from 1900 to 2050"),
        (("M 42", "--year", "next"), "'next' is not a year"),
        (("Nothingatall",), "Nothingatall: is not in the catalogue"),
        (("Plato",), "is a feature of the Moon"),
        (("Sun",), "the Sun is never a target"),
        (("no-such-list.toml",), "no-such-list.toml: not read, there is no such file"),
        (("M 42", "--site", "Nowhere"), "'Nowhere' is not in observer.toml"),
    ],
)
def test_what_cannot_be_answered_is_one_sentence(command, observer, words, said):
    told = command("when", *words, "--observer", observer, code=2)
    assert said in told
    assert told.count("\n") == 1


def test_json_and_a_page_at_once_are_refused(command, observer):
    assert "not allowed with" in command("when", "M 42", "--json", "--html", "--observer", observer, code=2)
