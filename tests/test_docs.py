"""What the documents say is so."""

import re
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import picture
import pytest
from rows import rows

from nightmode.app.keys import HEARD, key_help
from nightmode.cli.main import COMMANDS, parser
from nightmode.model.observer import Observer
from nightmode.model.plan import Plan
from nightmode.model.session import Entry, Head
from nightmode.model.theme import Theme

HOME = Path(__file__).parent.parent
README = (HOME / "README.md").read_text(encoding="utf-8")
PAGES = [HOME / "README.md", HOME / "DEVELOPERS.md", *sorted((HOME / "docs").glob("*.md"))]


def test_the_readme_has_exactly_the_keys_there_are():
    listed = re.findall(r"^\| `(.+?)` \| (.+?) \|$", README, re.MULTILINE)
    assert listed[: len(key_help())] == key_help()


def test_the_page_on_hearing_has_exactly_the_keys_of_a_black_screen():
    page = (HOME / "docs" / "hearing.md").read_text(encoding="utf-8")
    assert tuple(re.findall(r"^\| ([A-Z].*?) \| (.+?) \|$", page, re.MULTILINE)) == HEARD


@rows("path", PAGES)
def test_commands_named_in_a_page_exist(path):
    text = path.read_text(encoding="utf-8")
    blocks = "\n".join(re.findall(r"^```.*?^```", text, re.MULTILINE | re.DOTALL))
    named = {
        *re.findall(r"`(?:\S*/)?nightmode ([a-z]+)", text),
        *re.findall(r"^[$ ]*(?:\S*/)?nightmode ([a-z]+)", blocks, re.MULTILINE),
    }
    assert named <= set(COMMANDS)


@rows("path", PAGES)
def test_links_lead_somewhere(path):
    for link in re.findall(r"\]\(([^)#]+?)(?:#[^)]*)?\)", path.read_text(encoding="utf-8")):
        if not link.startswith("http"):
            assert (path.parent / link).exists(), link


def test_every_page_is_linked_from_the_readme():
    linked = set(re.findall(r"\]\((docs/[^)#]+\.md)", README))
    assert linked == {f"docs/{path.name}" for path in PAGES if path.parent.name == "docs"}


def test_every_command_is_in_the_readme_or_the_pages():
    everything = "\n".join(path.read_text(encoding="utf-8") for path in PAGES)
    for name in COMMANDS:
        assert f"nightmode {name}" in everything, name


@rows("name", COMMANDS)
def test_every_command_has_help_with_an_example(name, capsys):
    with pytest.raises(SystemExit) as ended:
        parser([name]).parse_args([name, "--help"])
    assert ended.value.code == 0
    said = capsys.readouterr().out
    assert "example" in said
    assert f"nightmode {name}" in said


def test_every_key_of_every_file_is_described():
    text = (HOME / "docs" / "files.md").read_text(encoding="utf-8")
    models = [Observer, Plan, Entry, Head, Theme]
    seen = set()
    while models:
        model = models.pop()
        for field, info in model.model_fields.items():
            assert field in text, f"{model.__name__}.{field}"
            found = re.findall(r"nightmode\.model\.\w+\.(\w+)", str(info.annotation))
            for name in set(found) - seen:
                seen.add(name)
                models += [part for part in _models() if part.__name__ == name]


def _models():
    from nightmode.model import kit, observer, site, target, theme

    places = (kit, observer, site, target, theme)
    return [value for place in places for value in vars(place).values() if hasattr(value, "model_fields")]


@pytest.mark.parametrize("name", picture.PICTURES)
def test_the_pictures_show_the_pages_as_they_are(name):
    drawn = ElementTree.parse(picture.DOCS / name).getroot()
    words = [node.text for node in drawn.iter("{http://www.w3.org/2000/svg}text")]
    lines = picture.page(picture.PICTURES[name])
    assert words == [text for _, _, text, _ in picture.pieces(lines)]
    circles = list(drawn.iter("{http://www.w3.org/2000/svg}circle"))
    assert len(circles) == len(list(picture.dots(lines)))


def test_no_page_names_a_place_of_one_machine():
    for path in PAGES:
        assert not re.search(r"/(?:work|home|root|tmp)/", path.read_text(encoding="utf-8")), path
