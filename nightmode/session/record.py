"""A session in progress: disk first, then state."""

from contextlib import suppress
from pathlib import Path

from nightmode.errors import NightmodeError
from nightmode.model.session import Entry, Head
from nightmode.session import unfinished
from nightmode.session.journal import Journal, read
from nightmode.walk.state import State, apply, fold


class Session:
    """The journal, and the state that follows from it.

    An entry counts only when it is on disk. One that could not be written waits in `unsaved` and
    is tried again, in order, before anything else.
    """

    is_watched = False

    def __init__(self, journal: Journal) -> None:
        self._journal = journal
        self.unsaved: tuple[Entry, ...] = ()
        self.state: State = fold(journal.entries)

    @property
    def head(self) -> Head:
        """The head of the journal."""
        return self._journal.head

    @property
    def path(self) -> Path:
        """Where the journal is."""
        return self._journal.path

    @property
    def refusal(self) -> NightmodeError | None:
        """Why nothing can be recorded, None if it can."""
        return None

    @property
    def is_empty(self) -> bool:
        """Whether nothing has been recorded yet, not even something that was undone."""
        return not self._journal.entries and not self.unsaved

    def do(self, entry: Entry) -> None:
        """Write an entry, then apply it. NightmodeError if the disk refused: nothing is applied."""
        self.unsaved = (*self.unsaved, entry)
        self.save()

    def do_or_drop(self, entry: Entry) -> None:
        """Do the same, but an entry that is refused does not wait: whoever typed it is asked again."""
        try:
            self.do(entry)
        except NightmodeError:
            self.unsaved = self.unsaved[:-1]
            raise

    def save(self) -> None:
        """Write what is unsaved, oldest first. NightmodeError at the first that is refused."""
        while self.unsaved:
            entry = self.unsaved[0]
            self._journal.append(entry)
            self.unsaved = self.unsaved[1:]
            self.state = apply(self.state, entry)

    def keep_note(self, entry: Entry) -> None:
        """Keep a note that is still being typed; a disk that refuses is told of when the note is entered."""
        with suppress(NightmodeError):
            unfinished.keep(self.path, entry)

    def forget_note(self) -> None:
        """Forget what `keep_note` has kept: it is in the journal by now, or was dropped."""
        unfinished.forget(self.path)

    def take_in_note(self) -> Entry | None:
        """Record the note that was being typed when the program was killed; return it, None if there is none.

        Where the disk refuses, it waits like any other entry.
        """
        entry = unfinished.kept(self.path, self._journal.entries)
        with suppress(NightmodeError):
            if entry is not None:
                self.do(entry)
            self.forget_note()
        return entry

    def refresh(self) -> None:
        """Read what another process has written; does nothing here, as no other process writes."""


class Watched(Session):
    """A session that another process holds: it can be watched, but nothing can be recorded in it."""

    is_watched = True

    def __init__(self, path: Path) -> None:
        """Read the journal. NightmodeError if it cannot be read or its head is damaged."""
        found = read(path)
        if found.head is None:
            raise NightmodeError(str(path), "the head is damaged", "look on once the other has repaired it")
        super().__init__(Journal(path, found.head, found.entries, b""))
        self._seen: tuple[float, int] | None = None

    @property
    def refusal(self) -> NightmodeError:
        """Why nothing can be recorded: made anew each time, as an error that is raised keeps its frames."""
        return NightmodeError("", "watching only, nothing is noted", "")

    def do(self, entry: Entry) -> None:
        """Refuse: NightmodeError."""
        raise self.refusal

    def keep_note(self, entry: Entry) -> None:
        """Keep nothing: the note beside the journal is the other process's."""

    def forget_note(self) -> None:
        """Leave the note that the other process keeps."""

    def refresh(self) -> None:
        """Read what the other process has written since; keep what is known if it cannot be read now."""
        with suppress(NightmodeError, OSError):
            status = self.path.stat()
            seen = status.st_mtime, status.st_size
            if seen != self._seen:
                self.state = fold(read(self.path).entries)
                self._seen = seen
