"""The house: who may import whom, what each room may touch, how large things may grow."""

import ast
import graphlib
import re
import subprocess
import sys
import tomllib
from functools import cache
from pathlib import Path

import pytest
from rows import rows

HOME = Path(__file__).parent.parent
PACKAGE = HOME / "nightmode"
FILES = sorted(PACKAGE.rglob("*.py"))

# Each room may import itself and every room on a later line; rooms on one line don't import each other.
ROOMS = (
    {"cli"},
    {"report"},
    {"planning", "app"},
    {"history"},
    {"night", "session"},
    {"wording"},
    {"catalog", "aim", "voice"},
    {"eyepiece", "sky", "walk", "setup", "files", "light"},
    {"visibility", "model"},
    {"optics", "errors", "arrays", "records", "words", "kinds", "defaults", "constants"},
)
FLOOR = {room: level for level, rooms in enumerate(ROOMS) for room in rooms}
ONLY = {
    "skyfield": {"sky"},
    "skyfield_data": {"sky"},
    "pyongc": {"catalog"},
    "sqlite3": {"catalog"},
    "textual": {"app"},
    "rich": {"app"},
    "argparse": {"cli"},
    "platformdirs": {"files"},
    "tempfile": {"files"},
    "pyttsx3": {"voice"},
}


#: Rooms that open files, and the one module of another room that does.
OPENING = {"files", "catalog", "session", "light"}
KERNEL = PACKAGE / "sky" / "kernel.py"


def room_of(path):
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


@cache
def nodes_of(path):
    """Imports, calls, functions and classes: nothing else is asked of a file."""
    asked = (ast.Import, ast.ImportFrom, ast.Call, ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return [node for node in ast.walk(tree) if isinstance(node, asked)]


def imports(path):
    for node in nodes_of(path):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def files_of(room):
    return [path for path in FILES if room_of(path) == room]


@cache
def calls_in(path):
    """Each call with the name of what is called."""
    return [(ast.unparse(node.func), node) for node in nodes_of(path) if isinstance(node, ast.Call)]


def test_every_file_is_in_a_room():
    assert {room_of(path) for path in FILES} - set(FLOOR) == {"__init__", "__main__"}


@rows("room", sorted(FLOOR))
def test_arrows_run_downward_only(room):
    for path, name in ((file, name) for file in files_of(room) for name in imports(file)):
        parts = name.split(".")
        if parts[0] == "nightmode" and len(parts) > 1 and parts[1] in FLOOR and parts[1] != room:
            assert FLOOR[parts[1]] > FLOOR[room], f"{path} imports {name}"
        if parts[0] in ONLY:
            assert room in ONLY[parts[0]], f"{path} imports {parts[0]}"


@rows("room", sorted(FLOOR))
def test_only_the_edge_prints_and_reads_the_clock(room):
    for path, called in ((file, called) for file in files_of(room) for called, _ in calls_in(file)):
        assert called != "print" or room == "cli", f"{path} prints"
        if called in {"time.time", "datetime.now", "dt.datetime.now", "date.today", "dt.date.today"}:
            assert room in {"app", "cli"}, f"{path} calls {called}"


def module_of(path):
    return ".".join(path.relative_to(HOME).with_suffix("").parts).removesuffix(".__init__")


def test_no_modules_import_each_other_in_a_circle():
    modules = {module_of(path): path for path in FILES}
    arrows = {
        name: {target for target in imports(path) if target in modules} - {name}
        for name, path in modules.items()
    }
    graphlib.TopologicalSorter(arrows).prepare()  # CycleError names the modules of a circle


def opens_a_file(called, call):
    if call.args and ast.unparse(call.args[0]) == "os.devnull":
        return False
    method = called.rpartition(".")[2]
    return called in {"open", "io.FileIO"} or (
        "." in called and method in {"open", "read_text", "read_bytes", "write_text", "write_bytes"}
    )


def test_only_the_rooms_of_the_disk_open_files():
    others = [path for path in FILES if room_of(path) not in OPENING and path != KERNEL]
    calls = [(path, *call) for path in others for call in calls_in(path)]
    assert [f"{path}: {called}" for path, called, call in calls if opens_a_file(called, call)] == []


@rows("call", ["open(p)", "p.open()", "p.read_text()", "os.open(p, 0)", "io.open(p)"])
def test_what_counts_as_opening_a_file(call):
    assert opens_a_file(call.partition("(")[0], ast.parse(call).body[0].value)


def test_files_stay_small():
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in FILES}
    assert {path: length for path, length in lengths.items() if length > 400} == {}


def test_functions_stay_small():
    for path, node in ((file, node) for file in FILES for node in nodes_of(file)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            first = node.body[1] if ast.get_docstring(node) and len(node.body) > 1 else node.body[0]
            assert node.end_lineno - first.lineno + 1 <= 40, f"{path}: {node.name}"


#: Modules in the order in which two processes load them, one after another, and what must not be there yet.
HEAVY = {"textual", "numpy", "pydantic", "rich"}
SPOKEN = {"nightmode.voice", "nightmode.wording.spoken", "nightmode.app.aloud", "pyttsx3"}
LOADED = [
    {
        "nightmode.light.terminal": HEAVY,
        "nightmode.cli.main": HEAVY | {"skyfield"},
        "nightmode.cli.walk": HEAVY | {"skyfield"},
        "nightmode.cli.check": {"textual", "rich"},
        "nightmode.night.opening": {"textual", "pyongc"},
        "nightmode.app.app": SPOKEN,
    },
    {
        "nightmode.voice.mouth": HEAVY | {"asyncio", "pyttsx3"},
        "nightmode.voice.speaker": HEAVY | {"skyfield", "pyttsx3"},
    },
]


@pytest.mark.parametrize("unwanted", LOADED, ids=["the walk", "the voice"])
def test_heavy_libraries_are_loaded_only_where_needed(unwanted):
    code = (
        "import sys, importlib\nfor name in sys.argv[1:]: importlib.import_module(name); print(*sys.modules)"
    )
    loading = [sys.executable, "-c", code, *unwanted]
    loaded = subprocess.run(loading, cwd=HOME, capture_output=True, text=True, check=True)
    for (module, names), there in zip(unwanted.items(), loaded.stdout.splitlines(), strict=True):
        assert module in there.split()
        assert not names & set(there.split()), module


def test_no_two_classes_have_one_name():
    homes = {}
    for path in FILES:
        for node in nodes_of(path):
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                homes.setdefault(node.name, []).append(path.relative_to(HOME).as_posix())
    assert {name: paths for name, paths in homes.items() if len(paths) > 1} == {}


def test_the_top_level_holds_what_it_should():
    wanted = {"README.md", "DEVELOPERS.md", "pyproject.toml", "nightmode", "tests", "plans", "themes", "docs"}
    assert {path.name for path in HOME.iterdir() if not path.name.startswith(".")} == wanted


def test_dependencies_are_those_imported():
    project = tomllib.loads((HOME / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    card = [*project["dependencies"], *project["optional-dependencies"]["voice"]]
    named = {re.match(r"[\w-]+", line)[0].replace("-", "_") for line in card}
    used = {name.split(".")[0] for path in FILES for name in imports(path)}
    by_data = {"tzdata", "skyfield_data", "pyongc"}  # read as data, never imported
    assert named - by_data <= used
    assert used - named - set(sys.stdlib_module_names) - {"nightmode", "rich", "jplephem"} == set()
