"""What nightmode costs, each figure beside a named baseline of the same run: python tests/bench.py [ROW ...]

Rows: start idle keys menus commands sky opening sessions nights; without any, all of these, in some three
minutes. `tests` is left for those who ask: it runs the suite, room by room. On a busy machine seconds of the
processor and ratios count; a figure is the middle of several runs in turn. Goals and results stand in
docs/cost.md. Linux only (/proc).
"""

import datetime as dt
import gc
import os
import resource
import select
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any

import pexpect

RUNS, IDLE_S, KEYS = 5, 40.0, 200
PYTHON, HOME = sys.executable, Path(__file__).parent.parent
BARE = """
import datetime
from textual.app import App
from textual.widgets import Static
class Bare(App):
    def compose(self):
        yield Static("ready", id="clock")
    def on_mount(self):
        self.set_interval(1.0, self.tick)
    def tick(self):
        self.query_one("#clock", Static).update(datetime.datetime.now().strftime("%H:%M:%S"))
Bare().run(mouse=False)
"""
BARE_APP = [PYTHON, "-c", BARE], "ready"
NIGHTMODE = [PYTHON, "-m", "nightmode"]
DEMO = [*NIGHTMODE, "demo", "--afresh"], "altitude|before dark"
#: What the program says when it begins to take keys.
TAKES_KEYS = "2004h"
LIBRARIES = [PYTHON, "-c", "import numpy, pydantic, skyfield.api, skyfield.almanac"]
SETUP = (
    "setup --site hill --latitude 47 --longitude 11 --telescope mirror --aperture 200 --focal-length 1200 "
    "--eyepieces 25/60,10/60 --observer observer.toml"
)
PLAN = str(HOME / "plans" / "hillside.toml")
#: What is run as a whole: its words, what it is measured against, and the goal as a multiple or in seconds.
COMMANDS = {
    "check, 30 targets": (["check", PLAN], "<= 2.5 x the libraries"),
    "nights, 40": (["nights", "--from", "2026-12-01", "--observer", "observer.toml"], "<= 0.45 s"),
    "nights, 365": (
        ["nights", "--from", "2026-12-01", "--days", "365", "--observer", "observer.toml"],
        "<= 0.8 s",
    ),
    "draft, whole catalogue": (
        ["draft", "--night", "2026-12-05", "--force", "-o", "plan.toml", "--observer", "observer.toml"],
        "<= 0.7 s",
    ),
    "sheet, 30 targets": (["sheet", PLAN], ""),
}


def row(what: str, result: str, baseline: str = "", goal: str = "") -> None:
    """Print a row of the table."""
    print(f"| {what} | {result} | {baseline} | {goal} |", flush=True)


def middle(values: Sequence[float]) -> float:
    """Return the median."""
    return statistics.median(values)


def late(values: Sequence[float]) -> float:
    """Return the 99th percentile."""
    return sorted(values)[min(len(values) - 1, int(0.99 * len(values)))]


# -- processes ------------------------------------------------------------------


def threads(pid: int) -> Iterator[Path]:
    """Yield the folder of each thread of a process."""
    yield from Path(f"/proc/{pid}/task").iterdir()


def used(pid: int) -> tuple[float, int]:
    """Return the seconds of the processor that a process has used, and how often it woke up to do so."""
    seconds, wakings = 0.0, 0
    for thread in threads(pid):
        seconds += int((thread / "schedstat").read_text().split()[0]) / 1e9
        status = (thread / "status").read_text()
        wakings += int(status.split("\nvoluntary_ctxt_switches:")[1].split()[0])
    return seconds, wakings


def memory_mb(pid: int) -> float:
    """Return what a process holds in memory."""
    return int(Path(f"/proc/{pid}/status").read_text().split("VmRSS:")[1].split()[0]) / 1024


def read_for(children: Sequence[Any], seconds: float) -> list[int]:
    """Keep reading from several, as their terminals do, for so long; return how many bytes came from each."""
    counts, end = dict.fromkeys((child.child_fd for child in children), 0), time.perf_counter() + seconds
    while (left := end - time.perf_counter()) > 0:
        for one in select.select([*counts], [], [], left)[0]:
            counts[one] += len(os.read(one, 1 << 16))
    return [*counts.values()]


@contextmanager
def shown(app: tuple[list[str], str], env: dict[str, str]) -> Iterator[tuple[Any, float]]:
    """Start a full screen in a pseudo-terminal; yield it and the seconds until it can be read."""
    began = time.perf_counter()
    child = pexpect.spawn(app[0][0], app[0][1:], env=env, dimensions=(30, 100), timeout=60)
    child.expect(app[1])
    try:
        yield child, time.perf_counter() - began
    finally:
        child.close(force=True)


def run(words: list[str], env: dict[str, str]) -> tuple[float, float]:
    """Run a command; return its seconds by the clock and by the processor."""
    began = time.perf_counter()
    child = subprocess.Popen(
        words, env=env, cwd=env["BENCH"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    _, status, usage = os.wait4(child.pid, 0)
    took = time.perf_counter() - began
    assert status == 0, words
    return took, usage.ru_utime + usage.ru_stime


def in_turn(subjects: dict[str, list[str]], env: dict[str, str]) -> dict[str, list[float]]:
    """Run commands in turn, once to warm up; return the medians by the clock and by the processor."""
    found: dict[str, list[tuple[float, float]]] = {name: [] for name in subjects}
    for turn in range(RUNS + 1):
        for name, words in subjects.items():
            took = run(words, env)
            if turn:
                found[name].append(took)
    return {name: [middle(column) for column in zip(*rows, strict=True)] for name, rows in found.items()}


# -- rows -----------------------------------------------------------------------


def start(env: dict[str, str]) -> None:
    """The first readable screen, and the first answer to a key pressed as soon as it stands."""
    found: dict[str, list[tuple[float, ...]]] = {"bare": [], "demo": []}
    for turn in range(RUNS + 1):
        for name, app in (("bare", BARE_APP), ("demo", DEMO)):
            began = time.perf_counter()
            with shown(app, env) as (child, seconds):
                took = [seconds, used(child.pid)[0]]
                if app is DEMO:
                    child.send("l")
                    child.expect("in order of setting")
                    took += [time.perf_counter() - began, used(child.pid)[0]]
                if turn:
                    found[name].append((*took, memory_mb(child.pid)))
    bare, demo = ([middle(column) for column in zip(*rows, strict=True)] for rows in found.values())
    for what, result, base, unit, goal in (
        ("first readable screen, wall", demo[0], bare[0], "s", "<= 2 x"),
        ("first readable screen, processor", demo[1], bare[1], "s", "<= 2 x"),
        ("first answer to a key, wall", demo[2], bare[0], "s", ""),
        ("first answer to a key, processor", demo[3], bare[1], "s", ""),
        ("memory then", demo[4], bare[2], "MB", ""),
    ):
        row(what, f"{result:.2f} {unit} ({result / base:.1f} x)", f"bare Textual {base:.2f} {unit}", goal)


def idle(env: dict[str, str]) -> None:
    """A minute in which nobody presses a key: a bare app, the walk, and the black screen, side by side."""
    with ExitStack() as stack:
        children: list[Any] = []
        for app, keys in ((BARE_APP, ""), (DEMO, "\x1b"), (DEMO, "\x1bb")):
            home = {"XDG_DATA_HOME": f"{env['BENCH']}/{len(children)}"}  # a session is one program's
            child, _ = stack.enter_context(shown(app, env | home))
            children.append(child)
            for key in ("", *keys):
                read_for(children, 2.0)
                child.send(key)
        read_for(children, 3.0)
        before = [used(child.pid) for child in children]
        counts = read_for(children, IDLE_S)
        after = [used(child.pid) for child in children]
    bare, walk, black = (
        ((end[0] - begin[0]) * 60.0 / IDLE_S, (end[1] - begin[1]) / IDLE_S, count / IDLE_S)
        for begin, end, count in zip(before, after, counts, strict=True)
    )
    times = f"{walk[0]:.3f} s ({walk[0] / bare[0]:.2f} x)"
    row("idle, processor a minute", times, f"{bare[0]:.3f} s", "<= 0.3 x")
    row("idle, wakings a second", f"{walk[1]:.1f}", f"{bare[1]:.1f}", "<= 1.5")
    row("idle, bytes a second", f"{walk[2]:.0f}", f"{bare[2]:.0f}", "")
    row("black, processor a minute", f"{black[0]:.4f} s", f"{bare[0]:.3f} s", "<= 0.02 s")
    row("black, bytes", f"{black[2] * IDLE_S:.0f}", f"{bare[2] * IDLE_S:.0f}", "0")


def commands(env: dict[str, str]) -> None:
    """Whole commands, beside a process that only loads the libraries."""
    run([*NIGHTMODE, *SETUP.split()], env)
    found = in_turn(
        {
            "libraries": LIBRARIES,
            "check --help": [*NIGHTMODE, "check", "--help"],
            "--help": [*NIGHTMODE, "--help"],
            **{name: [*NIGHTMODE, *words] for name, (words, _) in COMMANDS.items()},
        },
        env,
    )
    wall, cpu = found["libraries"]
    told = {name: f"{took[0]:.2f} s, processor {took[1]:.2f} s" for name, took in found.items()}
    row("--help", told["--help"], f"check --help {told['check --help']}", "<= 0.06 s")
    for name, (_, goal) in COMMANDS.items():
        times = f"{found[name][0] / wall:.1f} x, processor {found[name][1] / cpu:.1f} x"
        row(name, f"{told[name]} ({times})", f"libraries {wall:.2f} s, processor {cpu:.2f} s", goal)


def sky(_: dict[str, str]) -> None:
    """Setting times of everything in the catalogue, in closed form and by minute tracks."""
    import numpy as np

    from nightmode.catalog.columns import all_objects
    from nightmode.night.usable import clear_stretches
    from nightmode.sky.crossings import intervals
    from nightmode.sky.paths import Paths
    from nightmode.sky.vantage import stand
    from nightmode.sky.window import minute_columns, night_window

    known, where, _night = all_objects(), *hill()
    vantage = stand(open_sky(), where.site, minute_columns(night_window(where.site, where.date)))
    paths = Paths(vantage, catalogue(len(known.name)))
    least = np.full(len(paths.vectors), 15.0)

    def by_tracks() -> list[Any]:
        return intervals(vantage.time_s, np.asarray(paths.altitude_deg) - 15.0)

    closed, tracks = (timed(work, RUNS)[1] for work in (lambda: clear_stretches(paths, least, ()), by_tracks))
    assert clear_stretches(paths, least, ()) == by_tracks()
    row(
        f"setting times, {len(least)} objects",
        f"processor {closed:.3f} s ({tracks / closed:.0f} x faster)",
        f"minute tracks {tracks:.2f} s",
        "<= 0.05 s",
    )


def opening(env: dict[str, str]) -> None:
    """Nights of more and more targets, each in a process of its own."""
    for count in (30, 200, 2000, 13_000):
        base = middle([run([PYTHON, __file__, "open", "0"], env)[1] for _ in range(3)])
        cpu = middle([run([PYTHON, __file__, "open", str(count)], env)[1] for _ in range(3)])
        most_mb = float(Path(env["BENCH"], "most_mb").read_text())
        goal = "<= 2 s, <= 350 MB" if count == 13_000 else ""
        row(
            f"opening {count} targets",
            f"processor {cpu - base:.2f} s, {most_mb:.0f} MB",
            f"three matrix products {products():.2f} s" if goal else f"reading what is opened {base:.2f} s",
            goal,
        )


def products() -> float:
    """Return the seconds of three matrix products: 13,000 directions by 1,441 rotations."""
    import numpy as np

    vectors, turned = (
        np.random.default_rng(1).random((13_000, 3)),
        np.random.default_rng(2).random((3, 3, 1441)),
    )
    return timed(lambda: [vectors @ turned[axis] for axis in range(3)], 3)[1]


def keys(env: dict[str, str]) -> None:
    """A key to the disk and to the new page, as targets and entries grow; beside bare fsyncs in between."""
    for targets, entries in ((20, 10), (200, 1000), (2000, 1000), (2000, 20_000), (20, 50_000)):
        wall, cpu = press(targets, entries, Path(env["BENCH"]))
        ticks, pages, undos, bare = ([one * 1e3 for one in column] for column in wall)
        work, drawn = ([one * 1e3 for one in column] for column in cpu[:2])
        both = [tick + page for tick, page in zip(ticks, pages, strict=True)]
        row(
            f"key to fsync, {targets} targets x {entries} entries",
            f"p99 {late(ticks):.1f} ms, median {middle(ticks):.1f}; processor p99 {late(work):.1f}, "
            f"median {middle(work):.1f}; undo {middle(undos):.1f}",
            f"fsyncs in between: p99 {late(bare):.1f} ms, median {middle(bare):.1f}",
            "p99 < 10 ms" if entries <= 1000 else "",
        )
        told = f"p99 {late(both):.1f} ms, median {middle(both):.1f}; processor {middle(drawn):.1f} more"
        row("... to the new page", told, "", "< 50 ms")


def menus(env: dict[str, str]) -> None:
    """The list and the help, asked for and scrolled, as plans grow."""
    from nightmode.app.pages.lists import help_page, list_page

    for targets in (20, 2000, 13_000):
        walker = walking(targets, 10, Path(env["BENCH"]))
        works = (
            lambda one=walker: list_page(one, one.night.twilights.darkest_s, (80, 24), 12),
            lambda one=walker: help_page(one.night.person.phrases, (80, 24), 0),
        )
        listed, helped = (timed(work, 21)[1] * 1e3 for work in works)
        told = f"processor {listed:.1f} ms, help {helped:.1f} ms"
        row(f"the list, {targets} targets", told, "", "< 50 ms" if targets <= 2000 else "")


def sessions(env: dict[str, str]) -> None:
    """Journals of more and more entries, read and added up."""
    from nightmode.session.journal import read
    from nightmode.walk.state import fold

    for count in (1000, 10_000, 50_000, 100_000):
        path = Path(env["BENCH"]) / f"{count}.toml"
        journal(path, catalogue(200), count)
        seconds = timed(lambda path=path: fold(read(path).entries), 3)[1]  # type: ignore[misc]
        row(f"opening {count} entries", f"processor {seconds:.2f} s", "", "<= 1 s" if count == 50_000 else "")


def nights(env: dict[str, str]) -> None:
    """The whole program on sessions of more and more entries: going on, one tick, leaving."""
    run([*NIGHTMODE, "check", PLAN], env)  # once to warm up
    for count in (0, 50_000, 100_000):
        path = Path(env["BENCH"]) / f"night-{count}.toml"
        journal(path, catalogue(20), count)
        words = [*NIGHTMODE, "walk", PLAN, "--at", "21:00", "--session", str(path)]
        before = sum(resource.getrusage(resource.RUSAGE_CHILDREN)[:2])
        with shown((words, "altitude"), env) as (child, _):
            opened = used(child.pid)[0]
            child.expect(TAKES_KEYS)
            read_for([child], 3.0)
            began, stands = time.perf_counter(), used(child.pid)[0]
            child.send("x")
            child.expect("not seen")
            answered, ticked = time.perf_counter() - began, used(child.pid)[0]
            child.send("q")
            child.expect("again")
            child.send("q")
            child.expect(pexpect.EOF)
            child.wait()
        whole = sum(resource.getrusage(resource.RUSAGE_CHILDREN)[:2]) - before
        row(
            f"the walk on {count} entries, processor",
            f"to the first page {opened:.2f} s, a tick {(ticked - stands) * 1e3:.0f} ms "
            f"({answered * 1e3:.0f} by the clock), leaving {whole - ticked:.2f} s",
            "",
            "a tick < 50 ms" if count else "",
        )


def tests(env: dict[str, str]) -> None:
    """The suite, room by room, one after the other."""
    rooms = sorted(path for path in (HOME / "tests").iterdir() if any(path.glob("test_*.py")))
    for room in [*rooms, *sorted((HOME / "tests").glob("test_*.py"))]:
        words = [PYTHON, "-m", "pytest", "-p", "no:cacheprovider", "-n", "0", str(room)]
        wall, cpu = run(words, env | {"BENCH": str(HOME)})
        row(f"tests, {room.name}", f"processor {cpu:.1f} s, by the clock {wall:.1f} s")


# -- what the rows stand on -----------------------------------------------------


def timed(work: Callable[[], Any], times: int) -> tuple[Any, float]:
    """Return what work gives and the median of its seconds of the processor."""
    took = []
    for _ in range(times):
        began = time.process_time()
        found = work()
        took.append(time.process_time() - began)
    return found, middle(took)


def open_sky() -> Any:
    """Return the ephemeris."""
    from nightmode.sky.kernel import open_sky as opened

    return opened()


def hill() -> tuple[Any, Any]:
    """Return the circumstances of the bundled plan, with a level horizon, and its night."""
    from nightmode.night.circumstances import Circumstances
    from nightmode.night.loading import load_night

    night = load_night(Path(PLAN), None, None, 0.0).night
    level = night.site.model_copy(update={"horizon": ()})
    return Circumstances(night.date, level, night.kit, night.person), night


def catalogue(count: int) -> list[Any]:
    """Return so many objects of the catalogue, the brightest first."""
    import numpy as np

    from nightmode.catalog.columns import all_objects
    from nightmode.planning.listing import subject_at

    known = all_objects()
    return [subject_at(known, int(place), None) for place in np.argsort(known.magnitude)[:count]]


def journal(path: Path, subjects: Sequence[Any], count: int) -> Any:
    """Write a journal of so many entries about subjects, and return its head."""
    from nightmode.model.session import Entry, Event, Outcome
    from nightmode.night.loading import load_night, new_head
    from nightmode.session.blocks import entry_block, head_block

    loaded = load_night(Path(PLAN), None, None, 0.0)
    head, zone = new_head(loaded, rehearsal=True), loaded.night.site.zone
    dusk_s = round(loaded.night.twilights.darkest_s)
    with path.open("wb") as file:
        file.write(head_block(head))
        for number in range(count):
            event = (Event.TICK, Event.TICK, Event.NOTE, Event.UNDO)[number % 4]
            entry = Entry(
                at=dt.datetime.fromtimestamp(dusk_s + number % 3600, zone),
                event=event,
                target=subjects[number % max(1, len(subjects) // 2)].name,
                outcome=Outcome.SET_ASIDE if event is Event.TICK else None,
                altitude_deg=31.2,
                azimuth_deg=120.0,
                note="faint, averted vision" if event is Event.NOTE else "",
            )
            file.write(entry_block(entry))
    return head


def walking(targets: int, entries: int, folder: Path) -> Any:
    """Return a walker on so many targets, in a session of so many entries."""
    from nightmode.app.walker import Walker
    from nightmode.night.opening import open_night
    from nightmode.session.journal import resume
    from nightmode.session.record import Session

    subjects, path = catalogue(targets), folder / f"{targets}-{entries}.toml"
    night = open_night(open_sky(), hill()[0], subjects)
    return Walker(night, Session(resume(path, journal(path, subjects, entries))))


def press(targets: int, entries: int, folder: Path) -> tuple[list[list[float]], list[list[float]]]:
    """Return the seconds of ticks to the disk, of the page after each, of undoing, of a bare fsync.

    By the clock, and those of the processor alone.
    """
    from nightmode.app.pages.main import main_page
    from nightmode.model.session import Outcome

    walker = walking(targets, entries, folder)
    dusk_s, plain = walker.night.twilights.darkest_s, (folder / "plain").open("ab", buffering=0)
    works: list[Callable[[float], object]] = [
        lambda now_s: walker.tick(Outcome.SET_ASIDE, now_s),
        lambda now_s: main_page(walker, now_s, (80, 24), None, dusk_s),
        walker.undo,
        lambda _: os.fsync(plain.fileno()),
    ]
    wall: list[list[float]] = [[] for _ in works]
    cpu: list[list[float]] = [[] for _ in works]
    for number in range(KEYS):
        plain.write(b"x" * 200)
        for work, by_clock, by_processor in zip(works, wall, cpu, strict=True):
            began, before = time.perf_counter(), time.thread_time()
            work(dusk_s + number)
            by_clock.append(time.perf_counter() - began)
            by_processor.append(time.thread_time() - before)
    plain.close()
    return [seconds[2:] for seconds in wall], [seconds[2:] for seconds in cpu]


ROWS = {work.__name__: work for work in (start, idle, keys, menus, commands, sky, opening, sessions, nights)}


def main(wanted: Sequence[str]) -> None:
    """Measure what is wanted and print a table."""
    os.environ["OPENBLAS_NUM_THREADS"] = "1"  # as the command sets it; nothing has loaded numpy yet
    gc.disable()
    if wanted[:1] == ["open"]:  # the process that `opening` measures
        from nightmode.night.opening import open_night

        subjects, (where, _) = catalogue(int(wanted[1])), hill()
        open_night(open_sky(), where, subjects)
        most_kb = Path("/proc/self/status").read_text().split("VmHWM:")[1].split()[0]
        Path(os.environ["BENCH"], "most_mb").write_text(str(int(most_kb) / 1024))
        return
    print("| what | result | baseline of the same run | goal |\n|---|---|---|---|")
    with tempfile.TemporaryDirectory() as folder:
        places = {f"XDG_{name}_HOME": folder for name in ("CONFIG", "DATA", "STATE")}
        env = os.environ | places | {"TERM": "xterm-256color", "COLORTERM": "truecolor", "BENCH": folder}
        env |= {"PYTHONPATH": str(HOME), "PYTHONPYCACHEPREFIX": f"{folder}/compiled"}
        env.pop("PYTHONDONTWRITEBYTECODE", None)
        for name in wanted or ROWS:
            (ROWS | {"tests": tests})[name](env)


if __name__ == "__main__":
    main(sys.argv[1:])
