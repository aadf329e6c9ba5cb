"""`nightmode gather`: sessions from a stick, told in a line each."""

from history.keeping import head, keep, tick

from nightmode.files.places import sessions_folder
from nightmode.session.journal import create


def on_stick(folder, name, *entries, **about):
    folder.mkdir(exist_ok=True)
    journal = create(folder / name, head(**about))
    for entry in entries:
        journal.append(entry)


def test_each_session_is_told_and_counts_from_then_on(command, tmp_path):
    kept = keep(tick("M 42"))
    stick = tmp_path / "stick"
    on_stick(stick, kept.name, tick("M 42"), tick("M 43", minute=4))
    on_stick(stick, "new.toml", tick("M 1"), tick("M 2", minute=3), night="2027-02-02")
    on_stick(stick, "practice.toml", tick("M 3"), rehearsal=True)
    told = command("gather", stick)
    assert "Took in 2 sessions, 4 targets" in told
    assert "  new.toml\n" in told
    assert f"goes further than {kept.name}: both are kept" in told
    assert "A rehearsal, left where it is: 1" in told
    assert command.json("tally", "messier")["seen"] == 4
    again = command("gather", stick)
    assert "Took in 0 sessions" in again
    assert "Already here: 2" in again
    assert len(list(sessions_folder().iterdir())) == 3


def test_a_folder_that_is_not_there_is_named(command, tmp_path):
    assert "no such file" in command("gather", tmp_path / "nothing", code=2)
    (tmp_path / "plan.toml").write_text('title = "A plan"\n')
    assert "is not the journal of a session" in command("gather", tmp_path / "plan.toml", code=2)
