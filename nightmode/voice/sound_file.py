"""Speaks sentences into a sound file."""

import subprocess
from collections.abc import Sequence
from pathlib import Path

from nightmode.errors import NightmodeError
from nightmode.files.replace import safe_replace
from nightmode.files.scratch import scratch_file
from nightmode.files.text import read_bytes
from nightmode.voice.engine import USUAL_WPM, Engine, clean, engine, last_line

#: After this time the engine is taken to hang: a whole night takes a few seconds.
LONGEST_S = 300.0
#: Some five hours of speech.
LARGEST_BYTES = 1_000_000_000
#: How a WAV file begins (RIFF, IBM and Microsoft 1991), the four bytes of its length left out.
_RIFF, _WAVE = slice(0, 4), slice(8, 12)


def write_wav(
    sentences: Sequence[str], path: Path, rate_wpm: int = USUAL_WPM, *, force: bool = False
) -> None:
    """Speak sentences into a WAV file, with a pause after each, at rate_wpm words a minute.

    The file is written whole or not at all; a file that exists is replaced only with force. NightmodeError if
    this machine has no voice, if the voice fails, or if the file cannot be written.
    """
    safe_replace(path, _spoken(engine(), sentences, rate_wpm), force=force)


def _spoken(voice: Engine, sentences: Sequence[str], rate_wpm: int) -> bytes:
    """Return the bytes of a WAV file. It passes through a file: not every engine writes to a pipe."""
    text = "".join(f"{clean(sentence)}\n\n" for sentence in sentences)
    with scratch_file("spoken.wav") as part:
        try:
            done = subprocess.run(
                voice.writing(rate_wpm, part),
                input=text.encode(),
                capture_output=True,
                timeout=LONGEST_S,
                check=False,
            )
        except subprocess.TimeoutExpired:
            raise _silent(voice, "it does not end") from None
        except OSError as error:
            raise _silent(voice, error.strerror or str(error)) from None
        if done.returncode != 0 or not part.is_file():
            raise _silent(voice, last_line(done.stderr) or f"it ended with {done.returncode}")
        data = read_bytes(part, LARGEST_BYTES)
    if data[_RIFF] != b"RIFF" or data[_WAVE] != b"WAVE":  # the voices of macOS write another format
        raise NightmodeError("voice", f"{voice.name} writes no WAV file on this system", "install espeak-ng")
    return data


def _silent(voice: Engine, why: str) -> NightmodeError:
    return NightmodeError("voice", f"{voice.name} wrote no sound: {why}", "try it by itself")
