"""The real program on a terminal, begun in a moment: cold as a user does, or forked from a warm process.

Two thirds of a second of every start are imports. So each test worker keeps one process that has imported
what the night screen imports, and has read what comes with the program and is the same in every run: the
models of its files, its tables of the sky. For each program it forks a child, which becomes what the system
would have made: a process and a session of its own with the terminal as its own, with this
environment, folder and umask, streams, zone and chances of its own, and nothing else open. Then it runs the
entry point of the command, and ends as the interpreter ends. Pid, signals, SIGKILL and exit code are real.

What it cannot show is the start before the entry point: what is imported when, what is written meanwhile,
what a failing import does, how much memory imports take. Tests of those ask for `cold`. What is read from the
environment while modules are loaded cannot be changed afterwards either: where anything differs from the warm
process that is not known to be read later (READ_LATE), the start is cold by itself.
`tests/program/test_warm_start.py` holds a cold and a warm program against each other.
"""

import atexit
import contextlib
import fcntl
import gc
import json
import os
import random
import select
import signal
import socket
import subprocess
import sys
import termios
import time
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

#: What the program and its libraries read from the environment only once it runs.
READ_LATE = {
    *("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME", "PATH", "TZ"),
    *("TERM", "COLORTERM", "NO_COLOR", "LINES", "COLUMNS", "TMUX", "STY", "PYTEST_CURRENT_TEST"),
}
#: The modules of a sitting on the night screen, by the last of each chain of imports.
NIGHT_SCREEN = (
    *("nightmode.cli.walk", "nightmode.cli.demo", "nightmode.cli.record", "nightmode.history.earlier"),
    *("nightmode.app.guard.frame", "nightmode.app.pages.first", "nightmode.app.app"),
    *("nightmode.app.guard.posix", "nightmode.night.loading", "nightmode.night.opening"),
    *("nightmode.sky.typed_time", "nightmode.catalog.resolve", "nightmode.session.opening"),
    *("numpy.ma", "skyfield.jpllib", "skyfield.toposlib", "skyfield.magnitudelib"),
    *("textual.pilot", "textual.scrollbar", "textual.layouts.factory"),
)


def begin(
    words: Sequence[str], terminal: int, env: Mapping[str, str], *, code: str = "", cold: bool = False
) -> "subprocess.Popen[bytes] | Child":
    """Start `nightmode WORDS` with this environment and this end of a pseudo-terminal as its own terminal.

    code: Python to run in place of the entry point, with the words as its arguments
    """
    if not cold and _fixed(env) == _fixed(_usual_env()):
        return _warm().fork(words, terminal, env, code)
    return subprocess.Popen(
        [sys.executable, *(("-c", code) if code else ("-m", "nightmode")), *words],
        env=env,
        stdin=terminal,
        stdout=terminal,
        stderr=terminal,
        start_new_session=True,
        preexec_fn=lambda: fcntl.ioctl(0, termios.TIOCSCTTY, 0),
    )


def _usual_env() -> dict[str, str]:
    import nightmode

    return os.environ | {"PYTHONPATH": str(Path(nightmode.__file__).resolve().parents[1])}


def _fixed(env: Mapping[str, str]) -> dict[str, str]:
    """Return what of an environment may have been read by the time that everything is imported."""
    return {name: value for name, value in env.items() if name not in READ_LATE}


class Child:
    """A program begun warm, waited for as a subprocess.Popen is; then the warm process has reaped it."""

    def __init__(self, report: int) -> None:
        self._report = os.fdopen(report, "rb", buffering=0)
        self.pid = int(self._report.readline())
        self.returncode: int | None = None
        #: Seconds of the processor, once it has ended.
        self.cpu_s = 0.0

    def poll(self) -> int | None:
        """Return the exit code, None while it runs."""
        with contextlib.suppress(subprocess.TimeoutExpired):
            self.wait(0)
        return self.returncode

    def wait(self, timeout: float | None = None) -> int:
        """Wait for the end; return the exit code, or minus the signal. subprocess.TimeoutExpired."""
        if self.returncode is None:
            if not select.select([self._report], [], [], timeout)[0]:
                raise subprocess.TimeoutExpired("nightmode", timeout or 0.0)
            status, cpu_s = self._report.readline().split()
            self.returncode, self.cpu_s = os.waitstatus_to_exitcode(int(status)), float(cpu_s)
            self._report.close()
        return self.returncode

    def kill(self) -> None:
        """Kill it, unless it is known to have ended."""
        if self.poll() is None:
            os.kill(self.pid, signal.SIGKILL)


class _Warm:
    """The warm process, as its test worker has it."""

    def __init__(self) -> None:
        self._line, theirs = socket.socketpair()
        command = [sys.executable, "-P", __file__, str(theirs.fileno())]
        self._process = subprocess.Popen(
            command,
            env=_fixed(_usual_env()),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            pass_fds=[theirs.fileno()],
            start_new_session=True,
            cwd="/",  # a folder and a umask of its own, so that it shows if a child is not given its own
            umask=0o077,
        )
        theirs.close()
        atexit.register(self._end)

    def fork(self, words: Sequence[str], terminal: int, env: Mapping[str, str], code: str) -> Child:
        umask = os.umask(0)
        os.umask(umask)
        asked: dict[str, Any] = {"words": list(words), "env": dict(env), "code": code}
        asked |= {"folder": str(Path.cwd()), "umask": umask}
        report, theirs = os.pipe()
        socket.send_fds(self._line, [json.dumps(asked).encode() + b"\n"], [terminal, theirs])
        os.close(theirs)
        return Child(report)

    def _end(self) -> None:
        self._line.close()
        self._process.wait()


_WARM: list[_Warm] = []


def _warm() -> _Warm:
    if not _WARM:
        _WARM.append(_Warm())
    return _WARM[0]


# -- the warm process itself ------------------------------------------------------


class _Forking:
    """Forks a program for each request, and reports its pid and its end to whoever asked."""

    def __init__(self, line: socket.socket) -> None:
        self._line = line
        self._reports: dict[int, int] = {}  # pid -> where its end is reported
        self._bell, self._ringer = socket.socketpair()
        self._ringer.setblocking(False)
        signal.signal(signal.SIGCHLD, lambda *_: None)
        signal.set_wakeup_fd(self._ringer.fileno(), warn_on_full_buffer=False)

    def until_forked(self) -> str:
        """Fork whatever is asked for; ends with the worker that asks. In the children: return their code."""
        while True:
            ready, _, _ = select.select([self._line, self._bell], [], [])
            if self._bell in ready:
                self._bell.recv(4096)
                self._report_ends()
            if self._line in ready:
                asked, (terminal, report) = self._asked()
                pid = os.fork()
                if pid == 0:
                    self._let_go(report)
                    _become(asked, terminal)
                    return str(asked["code"])
                os.write(report, b"%d\n" % pid)
                os.close(terminal)
                self._reports[pid] = report

    def _asked(self) -> tuple[dict[str, Any], list[int]]:
        data, fds, _, _ = socket.recv_fds(self._line, 65536, 2)
        while data and not data.endswith(b"\n"):
            data += self._line.recv(65536)
        if not data:
            os._exit(0)  # the worker has gone
        return json.loads(data), fds

    def _report_ends(self) -> None:
        while self._reports:
            pid, status, used = os.wait4(-1, os.WNOHANG)
            if not pid:
                return
            report = self._reports.pop(pid)
            with contextlib.suppress(OSError):  # nobody may be interested any more
                os.write(report, b"%d %f\n" % (status, used.ru_utime + used.ru_stime))
            os.close(report)

    def _let_go(self, report: int) -> None:
        """In a child: keep nothing of the warm process."""
        signal.set_wakeup_fd(-1)
        signal.signal(signal.SIGCHLD, signal.SIG_DFL)
        for held in (self._line, self._bell, self._ringer):
            held.close()
        for number in (report, *self._reports.values()):
            os.close(number)


def _become(asked: dict[str, Any], terminal: int) -> None:
    """Be what the system makes of a new process: see `begin`."""
    os.setsid()
    fcntl.ioctl(terminal, termios.TIOCSCTTY, 0)
    for number in (0, 1, 2):
        os.dup2(terminal, number)
    os.close(terminal)
    os.environ.clear()
    os.environ.update(asked["env"])
    time.tzset()
    os.umask(asked["umask"])
    os.chdir(asked["folder"])
    sys.argv = ["nightmode", *asked["words"]]
    sys.path.insert(0, asked["folder"])
    random.seed()
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        was = getattr(sys, name)
        stream = open(number, was.mode, encoding=was.encoding, errors=was.errors, closefd=False)  # noqa: SIM115
        setattr(sys, name, stream)
        setattr(sys, f"__{name}__", stream)


def _keep_warm(line: socket.socket) -> str:
    """Import the night screen as the program does, and fork; returns in the children only, what they run."""
    import importlib

    from nightmode.cli.main import _run_lean

    os.environ["TEXTUAL_ANIMATIONS"] = "none"  # as the terminal sets it before Textual is loaded
    _run_lean()
    for name in NIGHT_SCREEN:
        importlib.import_module(name)
    _make_ready()
    gc.freeze()  # what is shared with the warm process is no garbage of the child, and is not touched
    return _Forking(line).until_forked()


def _make_ready() -> None:
    """Build the models of files and read the tables of the catalogue, as the first plan would have it.

    The connection to the catalogue's database is not for two processes: each child opens its own.
    """
    from nightmode.catalog import database
    from nightmode.files.places import shipped
    from nightmode.files.toml import read_toml
    from nightmode.model.observer import Observer
    from nightmode.model.plan import Plan
    from nightmode.model.session import Entry, Head
    from nightmode.model.theme import Theme
    from nightmode.night.loading import resolve_all
    from nightmode.sky.constellation import _map
    from nightmode.sky.kernel import _timescale

    for model in (Plan, Observer, Head, Entry, Theme):
        model.model_rebuild()
    path = shipped("plans") / "hillside.toml"
    resolve_all(read_toml(path, Plan), str(path))
    _timescale()
    _map()
    database._connection().close()
    database._connection.cache_clear()


if __name__ == "__main__":
    if code := _keep_warm(socket.socket(fileno=int(sys.argv[1]))):
        exec(compile(code, "<code>", "exec"), {"__name__": "__main__"})
    else:
        from nightmode.cli.main import entry

        entry()
