"""The process that speaks: `python -m nightmode.voice.mouth`.

It reads orders on standard input and answers on standard output, one JSON object a line:

    in   {"say": 3, "words": ["M 57.", "In Lyra."], "rate": 150}   speak these now, instead of all before them
    out  {"heard": 3}                                              at once
    out  {"spoken": 3, "place": 0}                                 when a sentence has been spoken to its end
    out  {"trouble": "..."}                                        when nothing can be heard; then it ends

When its input ends, the app is gone: it stops speaking at once and ends.
"""

import contextlib
import json
import os
import queue
import subprocess
import threading
import time
from collections import deque
from collections.abc import Iterator
from typing import IO, Any

from nightmode.errors import NightmodeError
from nightmode.voice.engine import Engine, clean, engine, last_line

#: A sentence may take START_S, and WORD_S for each word at one word a minute: three times as long as needed.
START_S, WORD_S = 10.0, 3 * 60.0
#: If new orders cut off every sentence for this long, the engine is taken to hang.
SILENT_S = 30.0
#: A sentence that fails is tried once more: the sound card may be waking up. After a hang it is not.
TRIES, HANGS = 2, "it does not end"
#: How much of an engine's error output is kept.
COMPLAINT_BYTES = 4000
#: Without this Windows would open a window for each process.
NO_WINDOW = getattr(subprocess, "CREATE_NO_WINDOW", 0)
_COMPLAINS = "error:"  # espeak-ng begins so when no sound card opens, and then ends as if all were well


def longest_s(sentence: str, rate_wpm: int) -> float:
    """Return after how many seconds of one sentence the engine is taken to hang."""
    return START_S + len(sentence.split()) * WORD_S / rate_wpm


class Mouth:
    """Speaks one sentence after another; a new order replaces the sentences still to be spoken."""

    def __init__(self, voice: Engine, orders: IO[str], told: IO[str]) -> None:
        self._voice, self._told = voice, told
        self._inbox: queue.SimpleQueue[tuple[str, Any]] = queue.SimpleQueue()
        self._queue: deque[tuple[int, str]] = deque()
        self._ticket, self._rate_wpm = 0, 0
        self._speaking: subprocess.Popen[bytes] | None = None
        self._tries = 0
        self._silent_since_s: float | None = None
        threading.Thread(target=self._listen, args=(orders,), daemon=True).start()

    def run(self) -> None:
        """Follow orders until they end, or until the engine fails."""
        for kind, what in self._arriving():
            if kind == "order":
                if not self._order(what):
                    return
            elif what[0] is self._speaking and not self._finish(what[1]):
                return

    def _arriving(self) -> Iterator[tuple[str, Any]]:
        while (arrived := self._inbox.get())[0] != "end":
            yield arrived
        self._hush()

    def _listen(self, orders: IO[str]) -> None:
        with contextlib.suppress(ValueError, OSError):  # the app was killed in the middle of an order
            for line in orders:
                self._inbox.put(("order", json.loads(line)))
        self._inbox.put(("end", None))

    def _tell(self, **what: object) -> None:
        self._told.write(json.dumps(what) + "\n")
        self._told.flush()

    def _order(self, order: dict[str, Any]) -> bool:
        """Stop, and begin with the sentences of this order; return False if the engine has failed."""
        self._hush()
        self._ticket, self._rate_wpm = order["say"], order["rate"]
        self._queue = deque(enumerate(order["words"]))
        self._tell(heard=self._ticket)
        if self._silent_since_s is not None and time.monotonic() - self._silent_since_s > SILENT_S:
            return self._give_up(HANGS)
        self._begin()
        return True

    def _hush(self) -> None:
        speaking, self._speaking = self._speaking, None
        if speaking is not None:
            speaking.kill()

    def _begin(self) -> None:
        """Begin to speak the first waiting sentence."""
        if not self._queue:
            return
        if self._silent_since_s is None:
            self._silent_since_s = time.monotonic()
        speaking = subprocess.Popen(
            self._voice.speaking(self._rate_wpm),
            stdin=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            creationflags=NO_WINDOW,
        )
        self._speaking = speaking
        sentence = self._queue[0][1]
        asked = (speaking, sentence, longest_s(sentence, self._rate_wpm))
        threading.Thread(target=self._follow, args=asked, daemon=True).start()

    def _follow(self, speaking: "subprocess.Popen[bytes]", sentence: str, longest: float) -> None:
        """On a thread: give the engine its sentence, wait until it ends, and report why if it failed."""
        timer = threading.Timer(longest, self._cut, (speaking,))
        timer.daemon = True
        timer.start()
        assert speaking.stdin is not None
        assert speaking.stderr is not None
        with contextlib.suppress(OSError):
            speaking.stdin.write(f"{clean(sentence)}\n".encode())
            speaking.stdin.close()
        told = last_line(_end_of(speaking.stderr))
        code = speaking.wait()
        timer.cancel()
        if code:
            self._ended(speaking, told or f"it ended with {code}")
        else:
            no_sound = f"no sound device opens ({told.removeprefix(_COMPLAINS).strip()})"
            self._ended(speaking, no_sound if told.startswith(_COMPLAINS) else "")

    def _cut(self, speaking: "subprocess.Popen[bytes]") -> None:
        self._ended(speaking, HANGS)
        speaking.kill()

    def _ended(self, speaking: "subprocess.Popen[bytes]", failed: str) -> None:
        self._inbox.put(("ended", (speaking, failed)))

    def _finish(self, failed: str) -> bool:
        """Go on after a sentence; failed is why it failed, or "". Return False to give the engine up."""
        self._speaking = None
        if not failed:
            self._tries, self._silent_since_s = 0, None
            self._tell(spoken=self._ticket, place=self._queue.popleft()[0])
        elif failed == HANGS or self._tries + 1 == TRIES:
            return self._give_up(failed)
        else:
            self._tries += 1
        self._begin()
        return True

    def _give_up(self, why: str) -> bool:
        self._tell(trouble=f"{self._voice.name}: {why}")
        return False


def _end_of(complaints: IO[bytes]) -> bytes:
    """Return the last bytes of an engine's error output, which may be endless."""
    end = b""
    while more := complaints.read(65536):
        end = (end + more)[-COMPLAINT_BYTES:]
    return end


def main() -> None:
    """Run until the orders end. Standard output is kept for answers alone: nothing else can write on it."""
    told = os.fdopen(os.dup(1), "w", encoding="utf-8")
    nowhere = os.open(os.devnull, os.O_RDWR)
    orders = os.fdopen(os.dup(0), encoding="utf-8")
    for descriptor in (0, 1, 2):
        os.dup2(nowhere, descriptor)
    try:
        Mouth(engine(), orders, told).run()
    except (NightmodeError, OSError) as error:
        with contextlib.suppress(OSError):  # the app may be gone
            told.write(json.dumps({"trouble": str(error)}) + "\n")
    with contextlib.suppress(OSError):
        told.flush()
    os._exit(0)  # not sys.exit: threads may still be waiting for an engine


if __name__ == "__main__":
    main()
