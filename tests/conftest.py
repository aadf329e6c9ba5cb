"""What every test stands on: folders of its own, and no network."""

import atexit
import contextlib
import gc
import itertools
import os
import shutil
import socket
import sys
from pathlib import Path

import pytest

pytest_plugins = ["full_disks", "quick_keys", "same_sky", "stand_in"]

#: To make the asserts of all tests speak takes every worker some five seconds. Kept beside the tests it is
#: done once, also where the environment asks for no compiled code; so this stands before other imports.
sys.dont_write_bytecode = False

#: What is loaded while tests are collected stays to the end: nothing is gained by looking for garbage in it.
gc.disable()

#: What a worker holds at its end is given back whole: to take it apart would take a second or two.
if "PYTEST_XDIST_WORKER" in os.environ:
    atexit.register(os._exit, 0)  # the first to be registered, so the last to be called

_NUMBERS = itertools.count()
#: The tests take a tenth of this at once.
SPARE_BYTES = 1 << 30


def pytest_configure(config):
    """Choose where tests work, and how many examples a property is tried on, where a test does not say.

    Fewer every day, more where the long tests run as well. No example has a time it must keep: the machine
    may be busy. hypothesis has asserts that speak, too: it is imported once they may be kept.
    """
    from hypothesis import HealthCheck, settings

    _work_in_memory()
    examples = 15 if config.getoption("-m").startswith("not long") else 300
    unhurried = settings(max_examples=examples, deadline=None, suppress_health_check=[HealthCheck.too_slow])
    settings.register_profile("nightmode", unhurried)
    settings.load_profile("nightmode")


def _work_in_memory():
    """Have folders of tests made in memory, where there is some to spare.

    A file that has reached the disk takes two milliseconds there to be written and two to be taken away, and
    the tests make thousands. None of them pulls the plug: after a kill, what the program has handed over to
    the system is there on either.
    """
    memory = "/dev/shm"
    if os.access(memory, os.W_OK) and shutil.disk_usage(memory).free > SPARE_BYTES:
        os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", memory)


def pytest_collection(session):
    """Have each worker make the asserts of its share of new tests speak, for all of them: it takes seconds.

    pytest has no public way to this; where its own is another some day, each worker does it all, as pytest
    does.
    """
    with contextlib.suppress(AttributeError, ImportError, TypeError):
        from _pytest.assertion.rewrite import PYC_TAIL, _read_pyc, _rewrite_test, _write_pyc, assertstate_key

        first = int(os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw"))
        count = int(os.environ.get("PYTEST_XDIST_WORKER_COUNT", "1"))
        for path in sorted(Path(__file__).parent.rglob("test_*.py"))[first::count] if count > 1 else ():
            kept = path.parent / "__pycache__" / (path.stem + PYC_TAIL)
            if _read_pyc(path, kept) is None:
                kept.parent.mkdir(exist_ok=True)
                status, code = _rewrite_test(path, session.config)
                _write_pyc(session.config.stash[assertstate_key], code, status, kept)


def pytest_collection_finish():
    """Look for garbage from now on, in what the tests themselves leave, and not after every few of them."""
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)
    gc.enable()


@pytest.hookimpl(tryfirst=True)
def pytest_sessionfinish():
    """Let lie what garbage there is: the process ends."""
    gc.freeze()


@pytest.fixture(autouse=True)
def own_folders(request, tmp_path_factory, monkeypatch):
    """Keep settings, journals and logs of each test in a folder of its own, made if the test asks."""
    asks = "tmp_path" in request.fixturenames
    home = request.getfixturevalue("tmp_path") if asks else _nowhere(tmp_path_factory)
    for name, folder in (
        ("XDG_CONFIG_HOME", "settings"),
        ("XDG_DATA_HOME", "data"),
        ("XDG_STATE_HOME", "state"),
        ("XDG_CACHE_HOME", "cache"),
    ):
        monkeypatch.setenv(name, str(home / folder))
    monkeypatch.setenv("HOME", str(home))


def _nowhere(tmp_path_factory):
    """Return a folder that is not there: most tests need none, and to make thousands takes seconds."""
    return tmp_path_factory.getbasetemp() / f"home-{next(_NUMBERS)}"


@pytest.fixture(autouse=True)
def no_network(monkeypatch):
    """Fail whatever reaches for the network; sockets within this machine's kernel stay possible."""

    def refuse(*_, **__):
        raise AssertionError("reached for the network")

    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    monkeypatch.setattr(socket, "create_connection", refuse)
    monkeypatch.setattr(socket.socket, "connect", refuse)


def pytest_xdist_auto_num_workers():
    """Two workers a core: many tests wait for the real program, and the other worker runs meanwhile."""
    return 2 * (os.cpu_count() or 1)
