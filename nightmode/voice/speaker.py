"""The app's end of the voice: sentences go out to the process that speaks, and nothing is waited for."""

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
#: Where the process finds this program, installed or not.
_HERE = Path(__file__).parents[2]
#: So soon an order is answered; the first one waits for the process to start. Then it counts as hung.
ANSWER_S, BEGIN_S = 5.0, 20.0
#: A sentence that fails is tried twice; the mouth gives up on it by itself, unless it hangs as well.
MARGIN_S = 5.0
#: What the process told last is read so long after its end.
LAST_WORDS_S = 0.1
#: How much slower or faster a step is, and after how many bytes on their way a mouth has stopped listening.
STEP, MOST_BYTES = 1.2, 50_000


class Sentence(Record):
    """What to speak.

    must  it is spoken even if something else is to be spoken before its turn comes; then it comes first
    mark  what to hand back once it has been spoken to its end; None for nothing
    """

    text: str
    must: bool = False
    mark: object = None


class Speaker:
    """Speaks through a process of its own, on the running event loop. Every method returns at once.

    The process has no terminal, and ends with this one, however that ends. When it ends by itself, hangs or
    cannot be heard, it is dropped and `stopped` is called, once, with the reason.
    """

    def __init__(
        self,
        spoken: Callable[[object], None],
        stopped: Callable[[str], None],
        rate_wpm: int = USUAL_WPM,
        command: Sequence[str] = MOUTH,
    ) -> None:
        """Start the process.

        spoken   called with the mark of each sentence that has one, once it has been spoken to its end
        stopped  called with why the voice has stopped
        rate_wpm words a minute to begin with
        command  how the process is started
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
        """Speak these now instead of what was being spoken, but for what must be heard: that comes first."""
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
        """Speak slower from the next sentence on, down to a limit."""
        self.rate_wpm = max(round(self.rate_wpm / STEP), SLOWEST_WPM)

    def faster(self) -> None:
        """Speak faster from the next sentence on, up to a limit."""
        self.rate_wpm = min(round(self.rate_wpm * STEP), FASTEST_WPM)

    def close(self) -> None:
        """Fall silent now, and end the process."""
        self._is_closed = True
        self._wait_for(None)
        self._task.cancel()
        process, self._process = self._process, None
        if process is not None:
            if process.get_returncode() is None:  # what it has started goes with it
                with contextlib.suppress(OSError, AttributeError):  # Windows knows no groups
                    os.killpg(process.get_pid(), signal.SIGKILL)
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
        """Take one line of what the process tells."""
        if self._is_closed:
            return
        try:
            why = self._hear(json.loads(line))
        except (ValueError, TypeError, KeyError, AttributeError, IndexError):
            why = "the process that speaks tells nonsense"
        if why:
            self._drop(why)

    def _hear(self, told: dict[str, Any]) -> str:
        """Take one message; return why nothing can be heard, if that is what it says."""
        if "trouble" in told:
            return printable(str(told["trouble"]), 200)
        if told.get("heard", told.get("spoken")) != self._ticket:
            return ""  # about what has been replaced since
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
        """Take it to hang unless it tells something within so many seconds; None: wait for nothing."""
        if self._deadline is not None:
            self._deadline.cancel()
            self._deadline = None
        if seconds is not None:
            self._deadline = asyncio.get_running_loop().call_later(
                seconds, self._drop, "the process that speaks does not answer"
            )

    def _drop(self, why: str) -> None:
        """Go on without a voice."""
        if not self._is_closed:
            self.close()
            self._stopped(why)


def _paths() -> list[str]:
    """Return what else Python was told to look through."""
    return [path for path in os.environ.get("PYTHONPATH", "").split(os.pathsep) if path]


class _Listener(asyncio.SubprocessProtocol):
    """Cuts what a process tells into lines, and says when it has ended."""

    def __init__(self, take: Callable[[bytes], None], ended: Callable[[str], None]) -> None:
        self._take, self._ended = take, ended
        self._held = b""

    def pipe_data_received(self, fd: int, data: bytes) -> None:
        """Take the lines that are complete; more than can be one ends it as nonsense does."""
        *lines, self._held = (self._held + data).split(b"\n")
        if len(self._held) > MOST_BYTES:
            lines, self._held = [b""], b""
        for line in lines:
            self._take(line)

    def process_exited(self) -> None:
        """Say that it has ended; why, it may have told before, and that counts."""
        asyncio.get_running_loop().call_later(LAST_WORDS_S, self._ended, "the process that speaks has ended")
