"""The process that speaks: `python -m nightmode.voice.mouth`.

Reads orders from its input and tells what became of them on its output, one JSON object a line:

    in   {"say": 3, "words": ["M 57.", "In Lyra."], "rate": 150}   speak these now, instead of all before them
    out  {"heard": 3}                                              at once
    out  {"spoken": 3, "place": 0}                                 when a sentence has been spoken to its end
    out  {"trouble": "..."}                                        when nothing can be heard; then it ends

When its input ends, whoever gave the orders is gone: it falls silent at once and ends.
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

#: A sentence may take so long at first, and so much more for each word of it at one word a minute.
START_S, WORD_S = 10.0, 3 * 60.0
#: So long one order after another may cut off what is spoken before the engine is taken to hang.
SILENT_S = 30.0
#: A sound card that is just waking up is asked once more; an engine that hangs is not.
TRIES, HANGS = 2, "it does not end"
#: What is kept of what an engine complains.
COMPLAINT_BYTES = 4000
#: Windows would open a window for each process.
NO_WINDOW = getattr(subprocess, "CREATE_NO_WINDOW", 0)
_COMPLAINS = (
    "error:"  # how espeak-ng begins the line that no sound card opens; it then ends as if all was well
)


def longest_s(sentence: str, rate_wpm: int) -> float:
    """Return for how long a sentence may be spoken before the engine is taken to hang."""
    return START_S + len(sentence.split()) * WORD_S / rate_wpm


class Mouth:
    """Speaks one sentence after the other; an order replaces what was still to be spoken."""

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
        """Obey until the orders end, or nothing can be heard."""
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
        with contextlib.suppress(ValueError, OSError):  # half an order, from one that was killed
            for line in orders:
                self._inbox.put(("order", json.loads(line)))
        self._inbox.put(("end", None))

    def _tell(self, **what: object) -> None:
        self._told.write(json.dumps(what) + "\n")
        self._told.flush()

    def _order(self, order: dict[str, Any]) -> bool:
        """Speak what is ordered instead of what is spoken; return False when nothing can be heard."""
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
        """Begin with the first sentence that waits."""
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
        """Hand an engine its sentence, wait for its end, and say why it failed, if it did. On a thread."""
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
        """Go on after a sentence; return False when nothing can be heard."""
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
    """Return the end of what an engine complains of, however much it is."""
    end = b""
    while more := complaints.read(65536):
        end = (end + more)[-COMPLAINT_BYTES:]
    return end


def main() -> None:
    """Speak what arrives, and end. Nothing else of this process can write on what is told."""
    told = os.fdopen(os.dup(1), "w", encoding="utf-8")
    nowhere = os.open(os.devnull, os.O_RDWR)
    orders = os.fdopen(os.dup(0), encoding="utf-8")
    for descriptor in (0, 1, 2):
        os.dup2(nowhere, descriptor)
    try:
        Mouth(engine(), orders, told).run()
    except (NightmodeError, OSError) as error:
        with contextlib.suppress(OSError):  # whoever listened may be gone
            told.write(json.dumps({"trouble": str(error)}) + "\n")
    with contextlib.suppress(OSError):
        told.flush()
    os._exit(0)  # threads may still wait for an engine


if __name__ == "__main__":
    main()
