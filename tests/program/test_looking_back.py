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
    keep(*entries, night="2026-10-12", path=folder / "october.toml")
    before = (folder / "october.toml").read_bytes()
    program = start("demo")
    program.wait_shown("to do")
    program.wait_shown("seen before, 12 Oct: a word on it")
    program.press("q", then="q again leaves")
    program.press("q")
    assert program.end() == 0
    assert (folder / "october.toml").read_bytes() == before
