"""The system's own voices as a command: `python -m nightmode.voice.system_voices -s RATE [-w FILE]`.

It speaks the text on standard input and ends, as espeak-ng does. The library runs an event loop that is hard
to interrupt; in a process that lives for one sentence it need not be interrupted.
"""

import shutil
import sys
from collections.abc import Sequence


def main(arguments: Sequence[str], text: str) -> int:
    """Speak text as the command-line arguments say; return the exit code."""
    import pyttsx3

    asked = dict(zip(arguments[::2], arguments[1::2], strict=True))
    if not asked.keys() & {"-w", "-d"} and sys.platform == "linux" and shutil.which("aplay") is None:
        sys.stderr.write("aplay is missing, which plays its sound here\n")  # the library would not report it
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
