import logging
import stat

import pytest

from nightmode.errors import LOG_LIMIT_BYTES
from nightmode.files.log import LONGEST_LINE, open_log


@pytest.fixture(autouse=True)
def _closed_afterwards():
    yield
    logger = logging.getLogger("nightmode")
    for handler in logger.handlers[:]:
        logger.removeHandler(handler)
        handler.close()
    logger.propagate = True


def test_a_traceback_goes_to_the_file_and_nowhere_else(tmp_path, capfd):
    path = tmp_path / "state" / "nightmode.log"
    logger = open_log(path)
    try:
        raise RuntimeError("no such star \x1b[31m")
    except RuntimeError:
        logger.exception("something broke")
    text = path.read_text("utf-8")
    assert "something broke" in text
    assert "Traceback" in text
    assert "no such star <U+001B>[31m" in text
    assert "\x1b" not in text
    assert capfd.readouterr() == ("", "")
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_the_log_is_bounded_whatever_is_written(tmp_path):
    logger = open_log(tmp_path / "nightmode.log")
    for number in range(3 * LOG_LIMIT_BYTES // (2 * LONGEST_LINE)):  # half as much again as two files hold
        logger.warning("%d %s", number, "ü" * LONGEST_LINE)
    logger.warning("z" * 5_000_000)
    sizes = [path.stat().st_size for path in tmp_path.iterdir() if path.name.startswith("nightmode.log")]
    assert len(sizes) == 2
    assert sum(sizes) < 2.2 * LOG_LIMIT_BYTES


def test_opening_it_again_does_not_write_everything_twice(tmp_path):
    for _ in range(3):
        logger = open_log(tmp_path / "nightmode.log")
    logger.warning("once")
    assert (tmp_path / "nightmode.log").read_text().count("once") == 1


def test_a_log_that_cannot_be_opened_is_not_kept_and_nobody_hears_of_it(tmp_path, capfd):
    (tmp_path / "file").write_text("")
    open_log(tmp_path / "file" / "nightmode.log").error("lost")
    open_log(tmp_path / "a\0b" / "nightmode.log").error("lost")
    assert capfd.readouterr() == ("", "")


def test_a_full_disk_keeps_the_log_quiet(full_disk, capfd):
    path = full_disk.folder / "nightmode.log"
    logger = open_log(path)
    logger.warning("first")
    full_disk.fill(path, room=20)
    for _ in range(20):
        logger.warning("x" * 900)
    full_disk.make_room()
    logger.warning("last")
    assert capfd.readouterr() == ("", "")
    assert "last" in path.read_text()


def test_a_log_that_was_removed_is_no_reason_to_stop(tmp_path, capfd):
    path = tmp_path / "nightmode.log"
    logger = open_log(path)
    logger.warning("first")
    path.unlink()
    logger.warning("second")
    assert capfd.readouterr() == ("", "")
