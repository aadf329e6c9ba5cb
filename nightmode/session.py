"""A session in progress: disk first, then state."""

from nightmode.files.journal import Journal
from nightmode.model.session import Entry, Head
from nightmode.walk.state import State, apply, fold


class Session:
    """The journal and what it adds up to.

    An entry counts only when it is on disk. One that could not be written waits in `unsaved` and
    is tried again, in order, before anything else.
    """

    def __init__(self, journal: Journal) -> None:
        self._journal = journal
        self.unsaved: tuple[Entry, ...] = ()
        self.state: State = fold(journal.entries)

    @property
    def head(self) -> Head:
        """The head of the journal."""
        return self._journal.head

    def do(self, entry: Entry) -> None:
        """Write an entry, then apply it. NightmodeError if the disk refused: nothing is applied."""
        self.unsaved = (*self.unsaved, entry)
        self.save()

    def save(self) -> None:
        """Write what is unsaved, oldest first. NightmodeError at the first that is refused."""
        while self.unsaved:
            entry = self.unsaved[0]
            self._journal.append(entry)
            self.unsaved = self.unsaved[1:]
            self.state = apply(self.state, entry)

    def close(self) -> None:
        """Let go of the journal."""
        self._journal.close()
