"""The real program on its screen says what was made of a target on an earlier night."""

from history.keeping import keep, note, tick

from nightmode.files.places import shipped
from nightmode.files.toml import read_toml
from nightmode.model.plan import Plan


def test_the_record_of_other_nights_is_read_when_the_screen_stands(start, tmp_path):
    plan = read_toml(shipped("plans") / "hillside.toml", Plan)
    folder = tmp_path / "XDG_DATA_HOME" / "nightmode" / "sessions"
    folder.mkdir(parents=True)
    entries = [tick(target.name, minute=place) for place, target in enumerate(plan.target)]
    entries += [note("a word on it", target.name, 100) for target in plan.target]
    entries += [tick("NGC 404", minute=101), note("a ghost", "NGC 404", 102)]
    keep(*entries, night="2026-10-12", path=folder / "october.toml")
    before = (folder / "october.toml").read_bytes()
    program = start("demo")
    program.wait_shown("to do")
    program.wait_shown("seen before, 12 Oct: a word on it")
    program.press("/", *"ngc404", "enter", then="NGC 404 is added for tonight")
    program.wait_shown("seen before, 12 Oct: a ghost")
    program.press("q", then="q again leaves")
    program.press("q")
    assert program.end() == 0
    assert (folder / "october.toml").read_bytes() == before


def test_targets_ticked_that_the_plan_has_lost_are_told_when_going_on(start, tmp_path):
    plan, names = tmp_path / "plan.toml", ("M 31", "M 42", "M 45")  # in order of setting
    head = (shipped("plans") / "hillside.toml").read_text().partition("[[target]]")[0]

    def walk(targets):
        plan.write_text(head + "".join(f'[[target]]\nname = "{name}"\n' for name in targets))
        return start("walk", str(plan), "--at", "21:00", "--session", str(tmp_path / "session.toml"))

    program = walk(names)
    program.wait_for("to do")
    program.press("space", then=": seen")
    program.press("s", then=": suspected")
    program.kill()
    walk(names[2:]).wait_for("2 targets ticked, not in")


def test_a_target_added_on_the_walk_is_there_again_when_going_on(start):
    program = start("demo", "--at", "21:00")
    program.wait_for("to do")
    program.press("/", *"ngc 404", "enter", then="NGC 404 is added for tonight")
    program.press("space", then="NGC 404: seen")
    program.kill()
    again = start("demo")
    again.wait_for("going on: 1 done, last NGC 404 at ")
    assert "not in the plan" not in again.said
    again.press("/", *"ngc404", "enter", then="this is NGC 404")


def test_a_target_only_added_outlives_a_kill_also_where_the_plan_is_changed_meanwhile(start, tmp_path):
    plan, bundled = tmp_path / "plan.toml", (shipped("plans") / "hillside.toml").read_text()
    plan.write_text(bundled)

    def walk():
        return start("walk", str(plan), "--at", "21:00", "--session", str(tmp_path / "session.toml"))

    program = walk()
    program.wait_for("to do")
    program.press("/", *"ngc 404", "enter", then="NGC 404 is added for tonight")
    program.kill()
    plan.write_text(bundled + '[[target]]\nname = "M 52"\n')
    again = walk()
    again.wait_for("the plan has changed since")
    again.press("/", *"ngc404", "enter", then="this is NGC 404")
    again.press("u", then="undone: NGC 404: added for tonight")
    again.kill()
    last = walk()
    last.wait_for("to do")
    last.press("/", *"ngc404", "enter", then="NGC 404 is added for tonight")
