"""A cache of the journals read before; it can be thrown away at any time.

An entry is found by the digest of the whole journal, so it cannot be out of date. What does not fit in the
cache is ignored, and it is no error if the disk refuses to keep it.
"""

from contextlib import suppress

from pydantic import TypeAdapter, ValidationError

from nightmode.errors import NightmodeError
from nightmode.files.places import history_cache_file, prepare
from nightmode.files.replace import safe_replace
from nightmode.files.text import read_bytes
from nightmode.history.sitting import Sitting

#: To be raised when a Sitting changes: a cache of another form is ignored.
FORM = 4
_LIMIT_BYTES = 100_000_000
_ADAPTER: TypeAdapter[tuple[int, dict[str, Sitting]]] = TypeAdapter(tuple[int, dict[str, Sitting]])


class Cache:
    """The sessions read before. Those not asked for again are left out when the cache is written."""

    def __init__(self) -> None:
        self._known: dict[str, Sitting] = {}
        with suppress(NightmodeError, ValidationError):
            form, known = _ADAPTER.validate_json(read_bytes(history_cache_file(), _LIMIT_BYTES))
            self._known = known if form == FORM else {}
        self._used: dict[str, Sitting] = {}
        self._has_news = False

    def get(self, digest: str) -> Sitting | None:
        """Return what the file with this digest says, or None."""
        if sitting := self._known.get(digest):
            self._used[digest] = sitting
        return sitting

    def put(self, digest: str, sitting: Sitting) -> None:
        """Remember what the file with this digest says."""
        self._used[digest] = sitting
        self._has_news = True

    def keep(self) -> None:
        """Write what was used to the disk, if anything is new."""
        if self._has_news:
            with suppress(NightmodeError):
                data = _ADAPTER.dump_json((FORM, self._used))
                safe_replace(prepare(history_cache_file()), data, force=True, private=True)
