"""A signal that arrives inside a library's import, where a bare `except` swallows it."""

import sys

import pexpect
import pytest

SWALLOWED = """
import os, signal
from nightmode.light.terminal import Terminal
with Terminal() as terminal:
    try:
        os.kill(os.getpid(), signal.SIGTERM)
    except:
        {afterwards}
"""


@pytest.mark.parametrize("afterwards", ["raise ImportError('the fallback is missing too')", "pass"])
def test_a_swallowed_signal_still_ends_the_program_with_its_own_code(afterwards):
    child = pexpect.spawn(sys.executable, ["-c", SWALLOWED.format(afterwards=afterwards)], timeout=10)
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 143
    assert b"fault" not in child.before
