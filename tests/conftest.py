"""What every test stands on: folders of its own, and no network."""

import socket

import pytest

pytest_plugins = ["full_disks"]


@pytest.fixture(autouse=True)
def own_folders(tmp_path, monkeypatch):
    """Keep settings, journals and logs of each test in its own folder."""
    for name, folder in (
        ("XDG_CONFIG_HOME", "settings"),
        ("XDG_DATA_HOME", "data"),
        ("XDG_STATE_HOME", "state"),
        ("XDG_CACHE_HOME", "cache"),
    ):
        monkeypatch.setenv(name, str(tmp_path / folder))
    monkeypatch.setenv("HOME", str(tmp_path))


@pytest.fixture(autouse=True)
def no_network(monkeypatch):
    """Fail whatever reaches for the network; sockets within this machine's kernel stay possible."""

    def refuse(*_, **__):
        raise AssertionError("reached for the network")

    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    monkeypatch.setattr(socket, "create_connection", refuse)
    monkeypatch.setattr(socket.socket, "connect", refuse)
