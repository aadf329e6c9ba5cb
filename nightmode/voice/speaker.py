"""The app's end of the voice: sends sentences to the process that speaks, and never waits for it."""

import asyncio
import contextlib
import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from nightmode.errors import printable
from nightmode.records import Record
from nightmode.voice.engine import FASTEST_WPM, SLOWEST_WPM, USUAL_WPM
from nightmode.voice.mouth import NO_WINDOW, longest_s

MOUTH = (sys.executable, "-P", "-m", "nightmode.voice.mouth")
#: The folder in which the process finds this program, installed or not.
_HERE = Path(__file__).parents[2]
#: An order must be answered within ANSWER_S, the first one within BEGIN_S, as the process has to start.
#: Otherwise the process is taken to hang.
ANSWER_S, BEGIN_S = 5.0, 20.0
#: A failed sentence is tried twice, and then the process reports it. If that takes this much longer than it
#: can, the process itself hangs.
MARGIN_S = 5.0
#: How long after its end the last output of the process is still read.
LAST_WORDS_S = 0.1
#: The ratio of one step of speed. And with so many bytes unread the process is taken to have stopped
#: listening.
STEP, MOST_BYTES = 1.2, 50_000


class Sentence(Record):
    """What to speak.

    must  it must be heard: if other sentences replace it before its turn, it is spoken before them
    mark  what to report when it has been spoken to its end; None for nothing
    """

    text: str
    must: bool = False
    mark: object = None


class Speaker:
    """Speaks through a process of its own, on the running event loop. Every method returns at once.

    The process has no terminal, and ends when the app ends, however that happens. If it ends by itself, hangs
    or cannot be heard, it is given up, and `stopped` is called once with the reason.
    """

    def __init__(
        self,
        spoken: Callable[[object], None],
        stopped: Callable[[str], None],
        rate_wpm: int = USUAL_WPM,
        command: Sequence[str] = MOUTH,
    ) -> None:
        """Start the process.

        spoken    called with the mark of a sentence when it has been spoken to its end
        stopped   called with the reason when the voice has stopped by itself
        rate_wpm  words a minute to begin with
        command   the command that starts the process
        """
        self.rate_wpm = rate_wpm
        self._spoken, self._stopped = spoken, stopped
        self._ticket, self._place = 0, 0
        self._sentences: list[Sentence] = []
        self._process: asyncio.SubprocessTransport | None = None
        self._deadline: asyncio.TimerHandle | None = None
        self._is_closed = False
        self._task = asyncio.get_running_loop().create_task(self._start(command))

    @property
    def is_speaking(self) -> bool:
        """Whether something is spoken or still to be spoken."""
        return not self._is_closed and self._place < len(self._sentences)

    def say(self, sentences: Sequence[Sentence]) -> None:
        """Speak these sentences instead of those still to be spoken; what must be heard comes before them."""
        if self._is_closed:
            return
        new = {sentence.text for sentence in sentences}
        left = self._sentences[self._place :]
        waiting = [sentence for sentence in left if sentence.must and sentence.text not in new]
        self._sentences, self._place = [*waiting, *sentences], 0
        self._ticket += 1
        if self._process is not None:
            self._send()

    def slower(self) -> None:
        """Speak one step slower from the next order on, down to the limit."""
        self.rate_wpm = max(round(self.rate_wpm / STEP), SLOWEST_WPM)

    def faster(self) -> None:
        """Speak one step faster from the next order on, up to the limit."""
        self.rate_wpm = min(round(self.rate_wpm * STEP), FASTEST_WPM)

    def close(self) -> None:
        """Stop speaking now, and end the process."""
        self._is_closed = True
        self._wait_for(None)
        self._task.cancel()
        process, self._process = self._process, None
        if process is not None:
            if process.get_returncode() is None:
                _end_all_of(process.get_pid())
            process.close()

    # -- the process ------------------------------------------------------------

    async def _start(self, command: Sequence[str]) -> None:
        try:
            self._process, _ = await asyncio.get_running_loop().subprocess_exec(
                lambda: _Listener(self._take, self._drop),
                *command,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                env=os.environ | {"PYTHONPATH": os.pathsep.join([str(_HERE), *_paths()])},
                start_new_session=True,
                creationflags=NO_WINDOW,
            )
        except OSError as error:
            self._drop(error.strerror or str(error))
            return
        if self._sentences:
            self._send(BEGIN_S)

    def _send(self, answer_s: float = ANSWER_S) -> None:
        assert self._process is not None
        out = self._process.get_pipe_transport(0)
        assert isinstance(out, asyncio.WriteTransport)
        if out.get_write_buffer_size() > MOST_BYTES:
            self._drop("the process that speaks takes nothing more")
            return
        words = [sentence.text for sentence in self._sentences]
        out.write(json.dumps({"say": self._ticket, "words": words, "rate": self.rate_wpm}).encode() + b"\n")
        self._wait_for(answer_s)

    def _take(self, line: bytes) -> None:
        """Take one line of the process's output."""
        if self._is_closed:
            return
        try:
            why = self._hear(json.loads(line))
        except (ValueError, TypeError, KeyError, AttributeError, IndexError):
            why = "the process that speaks tells nonsense"
        if why:
            self._drop(why)

    def _hear(self, told: dict[str, Any]) -> str:
        """Take one message; return the reason if it says that the voice has failed, else ""."""
        if "trouble" in told:
            return printable(str(told["trouble"]), 200)
        if told.get("heard", told.get("spoken")) != self._ticket:
            return ""  # about an order that has been replaced
        if "spoken" in told:
            done, self._place = self._sentences[self._place : told["place"] + 1], told["place"] + 1
            for sentence in done:
                if sentence.mark is not None:
                    self._spoken(sentence.mark)
        if self.is_speaking:
            self._wait_for(longest_s(self._sentences[self._place].text, self.rate_wpm) * 2 + MARGIN_S)
        else:
            self._wait_for(None)
        return ""

    def _wait_for(self, seconds: float | None) -> None:
        """Give the process up unless it answers within so many seconds; None ends the waiting."""
        if self._deadline is not None:
            self._deadline.cancel()
            self._deadline = None
        if seconds is not None:
            self._deadline = asyncio.get_running_loop().call_later(
                seconds, self._drop, "the process that speaks does not answer"
            )

    def _drop(self, why: str) -> None:
        """Give the process up, and report why."""
        if not self._is_closed:
            self.close()
            self._stopped(why)


def _end_all_of(process: int) -> None:
    """End a process that leads a group of its own, and with it every engine that it has started."""
    with contextlib.suppress(OSError, AttributeError):  # Windows has no process groups
        os.killpg(process, signal.SIGKILL)


def _paths() -> list[str]:
    """Return the folders of PYTHONPATH, for the process to look through as well."""
    return [path for path in os.environ.get("PYTHONPATH", "").split(os.pathsep) if path]


class _Listener(asyncio.SubprocessProtocol):
    """Cuts a process's output into lines, and reports when the process has ended."""

    def __init__(self, take: Callable[[bytes], None], ended: Callable[[str], None]) -> None:
        self._take, self._ended = take, ended
        self._held = b""
        self._process: int | None = None

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        """Keep the process's number, which is that of its group too."""
        assert isinstance(transport, asyncio.SubprocessTransport)
        self._process = transport.get_pid()

    def pipe_data_received(self, fd: int, data: bytes) -> None:
        """Pass on the complete lines; in place of a line far too long an empty one, which is nonsense."""
        *lines, self._held = (self._held + data).split(b"\n")
        if len(self._held) > MOST_BYTES:
            lines, self._held = [b""], b""
        for line in lines:
            self._take(line)

    def process_exited(self) -> None:
        """End the engine if it was left speaking; report a moment later: the last line may still say why."""
        if self._process is not None:
            _end_all_of(self._process)
        asyncio.get_running_loop().call_later(LAST_WORDS_S, self._ended, "the process that speaks has ended")
