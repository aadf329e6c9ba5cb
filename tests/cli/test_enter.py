"""enter: pencilled ticks become an ordinary session, with the times given."""

import datetime as dt
import io

import pytest

from nightmode.cli.main import main
from nightmode.files.places import shipped
from nightmode.history.entering import Entering
from nightmode.model.session import Entry, Event, Outcome
from nightmode.night.loading import load_night, new_head
from nightmode.session.journal import create, read, resume
from nightmode.session.last import last_plan
from nightmode.session.record import Session

LATER_S = dt.datetime(2027, 1, 1, tzinfo=dt.UTC).timestamp()


def moment(text):
    return dt.datetime.fromisoformat(text)


@pytest.fixture(scope="module")
def loaded(tmp_path_factory):
    empty = tmp_path_factory.mktemp("observer") / "observer.toml"
    empty.write_text("")
    return load_night(shipped("plans") / "hillside.toml", empty, None, 0.0)


@pytest.fixture
def enter(loaded, tmp_path):
    path = tmp_path / "session.toml"

    def call(*answers, now_s=LATER_S):
        asked, said, left = [], [], iter(answers)

        def ask(prompt):
            asked.append(prompt)
            try:
                return next(left)
            except StopIteration:
                raise EOFError from None

        head = new_head(loaded, rehearsal=False)
        session = Session(resume(path) if path.exists() else create(path, head))
        count = Entering(loaded.night, session, ask, said.append, now_s).run()
        return path, asked, said, count

    return call


def ticks(path):
    session = Session(resume(path))
    return {entry.target: entry for entry in session.state.ticks.values()}


def test_a_pass_over_the_sheet_makes_an_ordinary_session(enter):
    path, asked, _, count = enter(
        "18:30", "II", "21.1", "", "y 18:20 green oval, tiny", "x", "s 1915 one side orange?", "q"
    )
    made = ticks(path)
    assert asked[3].startswith("M 30 (")
    assert {name: entry.outcome for name, entry in made.items()} == {
        "NGC 7009": Outcome.SEEN,
        "Moon": Outcome.NOT_SEEN,
        "Albireo": Outcome.SUSPECTED,
    }
    assert made["NGC 7009"].note == "green oval, tiny"
    assert made["NGC 7009"].at == moment("2026-12-13T18:20:00+01:00")
    assert made["Moon"].at == made["NGC 7009"].at
    assert made["Albireo"].at == moment("2026-12-13T19:15:00+01:00")
    assert made["NGC 7009"].altitude_deg == pytest.approx(21.2, abs=1.5)
    assert made["NGC 7009"].eyepiece is None
    assert made["NGC 7009"].verdict in ("easy", "fair", "hard")
    assert made["NGC 7009"].experience == 2.4
    assert made["Albireo"].experience is None
    assert count == 5
    assert read(path).head.rehearsal is False


def test_seeing_and_sky_are_kept_at_the_time_it_began(enter):
    path, *_ = enter("19:00", "iii", "5.5mag", "q")
    check, sky = read(path).entries
    assert (check.seeing, check.at) == ("III", moment("2026-12-13T19:00:00+01:00"))
    assert 20.0 < sky.sky_brightness < 20.6


def test_it_can_be_stopped_and_gone_on_with(enter):
    enter("", "y 17:50", "q")
    path, asked, _, count = enter("y 18:30")
    assert asked[0].startswith("NGC 7009")
    assert count == 1
    assert set(ticks(path)) == {"M 30", "NGC 7009"}


def test_undo_goes_back_to_the_target_it_concerns(enter):
    path, asked, said, _ = enter("", "y 17:50", "", "", "u", "x 17:55", "q")
    assert [prompt.split(" (")[0] for prompt in asked[1:]] == [
        "M 30",
        "NGC 7009",
        "Moon",
        "Albireo",
        "M 30",
        "NGC 7009",
    ]
    assert "  undone: M 30: seen" in said
    assert ticks(path)["M 30"].outcome is Outcome.NOT_SEEN


def test_a_note_alone_is_no_tick(enter):
    path, *_ = enter("", "n 17:50 cloud in the south", "q")
    (entry,) = read(path).entries
    assert (entry.event.value, entry.outcome, entry.note) == ("note", None, "cloud in the south")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("seen it", "y 19:40"),
        ("y", "none is known yet"),
        ("y 12:61", "not a time"),
        ("y 23:30", "below the horizon"),
        ("y 9:99", "not a time"),
        ("y 25:00", "write it like 19:40"),
        ("y 5:50pm low", "'5:50pm' is not a time"),
    ],
)
def test_a_line_that_does_not_fit_is_asked_again(enter, line, says):
    path, asked, said, count = enter("", line, "q")
    assert asked[-1].startswith("M 30")
    assert says in " ".join(said)
    assert count == 0
    assert read(path).entries == ()


@pytest.mark.parametrize(
    "line", ["y 17.50 low", "y17:50 low", "y 1750 low", "Y 17h50 low", "y17.50  low", "y 17:50, low"]
)
def test_a_time_is_read_as_people_write_it_and_is_no_part_of_the_note(enter, line):
    path, *_ = enter("", line, "q")
    (entry,) = read(path).entries
    assert (entry.at, entry.note) == (moment("2026-12-13T17:50:00+01:00"), "low")


@pytest.mark.parametrize("note", ["100x shows it", "12.5 mag star beside", "3 stars", "18 degrees high"])
def test_a_note_that_begins_with_a_figure_is_no_time(enter, note):
    path, *_ = enter("17:50", "", "", f"y {note}", "q")
    (entry,) = ticks(path).values()
    assert (entry.note, entry.at) == (note, moment("2026-12-13T17:50:00+01:00"))


def test_noon_typed_for_midnight_is_asked_again(enter):
    """The Moon can be looked at with the Sun up; M 15 (right ascension 21 h 30 min) is up then too."""
    skips = [""] * 3
    _, asked, said, count = enter("", *skips, "y 12:15", "q")
    assert asked[-1] == asked[-2]
    assert any("the Sun was up" in line for line in said)
    assert count == 0


@pytest.mark.parametrize(("answer", "kept"), [("2", "II"), ("v", "V"), ("7", None), ("good", None)])
def test_seeing_may_be_a_figure_and_stays_on_its_scale(enter, answer, kept):
    path, _, said, _ = enter("17:50", answer, "" if kept else "q", "q")
    assert [entry.seeing for entry in read(path).entries] == ([kept] if kept else [])
    assert any("write I to V, or 1 to 5" in line for line in said) == (kept is None)


def test_the_questions_about_the_evening_can_be_stopped_too(enter):
    _, asked, _, count = enter("q", "y 17:50")
    assert (len(asked), count) == (1, 0)


def test_a_time_still_to_come_is_refused(enter):
    early = dt.datetime(2026, 12, 13, 17, 0, tzinfo=dt.UTC).timestamp()
    _, _, said, count = enter("", "y 18:10", "q", now_s=early)
    assert any("still to come" in line for line in said)
    assert count == 0


def test_the_hours_after_midnight_belong_to_the_same_night(enter):
    skips = [""] * 24
    path, *_ = enter("", *skips, "y 02:15", "q")
    (entry,) = ticks(path).values()
    assert entry.at == moment("2026-12-14T02:15:00+01:00")


def test_a_night_that_has_not_begun_is_refused_and_nothing_is_kept(tmp_path, capsys):
    session = tmp_path / "s.toml"
    plan = str(shipped("plans") / "hillside.toml")
    assert main(["enter", plan, "--night", "2049-12-13", "--session", str(session)]) == 2
    assert capsys.readouterr().err.startswith("night: the night of 2049-12-13 has not begun yet")
    assert not session.exists()


def test_a_pass_without_answers_leaves_no_session_and_no_plan_to_go_on_with(tmp_path, capsys, monkeypatch):
    plan, session = str(shipped("plans") / "hillside.toml"), tmp_path / "s.toml"
    command = ["enter", plan, "--night", "2025-12-13", "--session", str(session)]
    for keys in ("", "q\n", "\n\n\nq\n"):
        monkeypatch.setattr("sys.stdin", io.StringIO(keys))
        assert main(command) == 0
        assert "Nothing was entered." in capsys.readouterr().out
        assert not session.exists()
        assert last_plan() is None
    monkeypatch.setattr("sys.stdin", io.StringIO("19:00\nII\nq\n"))
    assert main(command) == 0
    assert "Wrote 1 entry to" in capsys.readouterr().out
    kept = session.read_bytes()
    monkeypatch.setattr("sys.stdin", io.StringIO("q\n"))
    assert main(command) == 0
    assert session.read_bytes() == kept
    assert last_plan() is not None


@pytest.mark.parametrize("full_disk", ["file size limit"], indirect=True)
def test_what_the_disk_refused_is_asked_again_and_there_once(loaded, full_disk):
    path, said = full_disk.folder / "session.toml", []

    def answers():
        yield from ("20:00", "", "")
        full_disk.fill(path, room=20)
        yield from ("y 20:05 typed once", "y 20:05 typed twice")
        full_disk.make_room()
        yield from ("y 20:05 typed thrice", "q")

    left = answers()
    session = Session(create(path, new_head(loaded, rehearsal=False)))
    count = Entering(loaded.night, session, lambda _: next(left), said.append, LATER_S).run()
    assert sum("not saved" in line for line in said) == 2
    assert count == 1
    assert [entry.note for entry in read(path).entries] == ["typed thrice"]


def test_a_target_that_was_added_on_the_walk_is_asked_about_with_the_others(tmp_path, monkeypatch, capsys):
    path, plan = tmp_path / "session.toml", shipped("plans") / "balcony.toml"
    at = moment("2026-01-15T20:00:00+01:00")
    journal = create(path, new_head(load_night(plan, None, at.date(), 0.0), rehearsal=False))
    journal.append(Entry(at=at, event=Event.ADD, target="NGC 6207"))
    journal.append(Entry(at=at, event=Event.ADD, target="NGC 404"))
    journal.append(Entry(at=at, event=Event.UNDO, target="NGC 404"))
    monkeypatch.setattr("sys.stdin", io.StringIO("\n" * 100))
    assert main(["enter", str(plan), "--night", "2026-01-15", "--session", str(path)]) == 0
    out, err = capsys.readouterr()
    assert "NGC 6207 (" in out + err
    assert "NGC 404 (" not in out + err


def test_a_tick_on_the_sheet_of_two_instruments_keeps_the_one_that_the_sheet_named(tmp_path):
    loaded = load_night(shipped("plans") / "orchard.toml", None, None, 0.0)
    path = tmp_path / "session.toml"
    answers = iter(["20:00", "", "", "y 20:00", "y", "y", "q"])
    now_s = dt.datetime(2027, 3, 1, tzinfo=dt.UTC).timestamp()
    session = Session(create(path, new_head(loaded, rehearsal=False)))
    Entering(loaded.night, session, lambda _: next(answers), lambda _: None, now_s).run()
    assert {name: entry.telescope for name, entry in ticks(path).items()} == {
        "M 31": "10x50 binoculars",
        "M 42": "300 mm reflector",
        "M 45": "10x50 binoculars",
    }


def test_the_first_session_of_all_is_not_greeted_with_a_key_of_the_walk(tmp_path, monkeypatch, capsys):
    plan = tmp_path / "plan.toml"
    plan.write_text((shipped("plans") / "balcony.toml").read_text(encoding="utf-8"), encoding="utf-8")
    monkeypatch.setattr("sys.stdin", io.StringIO("q\n"))
    assert last_plan() is None
    assert main(["enter", str(plan), "--night", "2026-01-15"]) == 0
    out, err = capsys.readouterr()
    assert "question mark" not in out + err
    assert "Began at" in out + err
