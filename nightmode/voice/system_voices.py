"""The system's own voices as a command: `python -m nightmode.voice.system_voices -s RATE [-w FILE]`.

Speaks what it reads on its input, and ends, as espeak-ng does. The library keeps an event loop of its own,
which takes no interruption well; in a process that lives for one sentence it needs none.
"""

import shutil
import sys
from collections.abc import Sequence


def main(arguments: Sequence[str], text: str) -> int:
    """Speak text as the flags say; return the exit code."""
    import pyttsx3

    asked = dict(zip(arguments[::2], arguments[1::2], strict=True))
    if not asked.keys() & {"-w", "-d"} and sys.platform == "linux" and shutil.which("aplay") is None:
        sys.stderr.write("aplay is missing, which plays its sound here\n")  # it would not say so itself
        return 1
    voice = pyttsx3.init(asked.get("-d"))
    voice.setProperty("rate", int(asked["-s"]))
    if "-w" in asked:
        voice.save_to_file(text, asked["-w"])
    else:
        voice.say(text)
    voice.runAndWait()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], sys.stdin.buffer.read().decode("utf-8", "replace")))
