"""What the message line says."""

from nightmode.errors import NightmodeError, printable
from nightmode.model.session import Entry
from nightmode.records import Record, replace


class Say(Record):
    """One message for the observer.

    text    the message; after an alert, what follows from it
    alert   what went wrong or must be known, lit brightest and before the text; "" if there is nothing such
    hint    what else could be pressed, after the text; left out where the page may give little light
    ticked  the entry of a tick that the message confirms, undone the one taken back: the voice makes its own
            words from them
    """

    text: str
    alert: str = ""
    hint: str = ""
    ticked: Entry | None = None
    undone: Entry | None = None

    @property
    def whole(self) -> str:
        """Alert and text as one line."""
        return ": ".join(part for part in (self.alert, self.text) if part)

    @property
    def with_hint(self) -> str:
        """The whole, and the hint after it."""
        return f"{self.whole}   {self.hint}" if self.hint else self.whole


def refusal(error: NightmodeError) -> Say:
    """Return an error as a message: where it is, or what is wrong if it has no place, is the alert."""
    told = printable(error.told)
    return Say(told, alert=printable(error.where)) if error.where else Say("", alert=told)


def first_message(words: str, trouble: Say | None) -> Say | None:
    """Return what is said first: trouble before the words on the session, None for neither."""
    if trouble is None:
        return Say(words) if words else None
    return replace(trouble, text="; ".join(part for part in (trouble.text, words) if part))
