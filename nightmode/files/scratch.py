"""A place for what another program writes, gone as soon as it has been read back."""

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from nightmode.files.text import trouble


@contextmanager
def scratch_file(name: str) -> Iterator[Path]:
    """Yield the path of a file that is not there yet, in a folder that goes with all in it.

    NightmodeError if the disk refuses the folder.
    """
    try:
        temporary = tempfile.TemporaryDirectory()
    except OSError as error:
        raise trouble(Path("the temporary folder"), error, "not made") from None
    with temporary as folder:
        yield Path(folder) / name
