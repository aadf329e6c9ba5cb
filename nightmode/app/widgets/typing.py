"""The row for typing."""

from rich.cells import cell_len
from textual import events
from textual.geometry import Region
from textual.widgets import Input

from nightmode.model.base import LONGEST_NOTE

#: The keys that edit, by Textual's names, and the method each one calls.
_EDITS = {
    "backspace": "delete_left",
    "delete": "delete_right",
    "ctrl+w": "delete_left_word",
    "ctrl+u": "delete_left_all",
    "left": "cursor_left",
    "right": "cursor_right",
    "home": "home",
    "end": "end",
}


class TypingRow(Input, can_focus=False):
    """One row for words, hidden until it is opened.

    It never takes the focus; the screen passes keys on to it. Textual delivers keys to a focused field by
    another path than the key that opened it, so that letters typed fast could be lost or change places.
    """

    DEFAULT_CSS = """
    TypingRow { padding: 0 1; background: #000000; display: none; }
    TypingRow.open { display: block; }
    """

    def __init__(self) -> None:
        super().__init__(max_length=LONGEST_NOTE, select_on_focus=False, compact=True)
        self.cursor_blink = False

    @property
    def is_open(self) -> bool:
        """Whether something is being typed."""
        return self.has_class("open")

    def on_resize(self) -> None:
        """Keep the cursor in sight when the window has become narrower."""
        self.call_after_refresh(self._show_cursor)

    def _show_cursor(self) -> None:
        before = cell_len(self.value[: self.cursor_position])
        self.scroll_to_region(Region(before, 0, 1, 1), force=True, animate=False)

    def begin(self) -> None:
        """Show the row, empty, with its cursor."""
        self.value = ""
        self.add_class("open")
        self.has_focus = True

    def close(self) -> str:
        """Hide the row and return what was typed, without blanks at its ends."""
        self.has_focus = False
        self.remove_class("open")
        return self.value.strip()

    def bring_back(self, text: str) -> None:
        """Put text into an empty row."""
        if not self.value:
            self.insert_text_at_cursor(text)

    def pressed(self, event: events.Key) -> bool:
        """Take a key: a character, or one that edits. Return whether there was room for it."""
        if event.is_printable and event.character:
            return self._take(event.character)
        if edit := _EDITS.get(event.key):
            getattr(self, f"action_{edit}")()
        return True

    def pasted(self, text: str) -> bool:
        """Take pasted text, as one line, as much as there is room for. Return whether that was all."""
        return self._take(" ".join(text.split()))

    def _take(self, text: str) -> bool:
        room = LONGEST_NOTE - len(self.value)
        self.insert_text_at_cursor(text[:room])
        return len(text) <= room
