"""Decides what is spoken on the walk, and when; loaded only when the voice is on.

The answer to a key replaces what is being spoken. Whether an entry was saved is always heard to the end. What
happens by itself is told when nothing else is being spoken.
"""

from collections.abc import Callable, Iterable, Sequence

from nightmode.app import heard
from nightmode.app.calls import Calls
from nightmode.app.keys import HEARD
from nightmode.app.pages.aim import ChartView
from nightmode.app.pages.checklist import Checklist
from nightmode.app.say import Say
from nightmode.app.walker import Walker
from nightmode.voice.speaker import Sentence, Speaker
from nightmode.wording.spoken import answers, questions
from nightmode.wording.spoken.ear import name_for_ear
from nightmode.wording.spoken.sentences import Told, said, sentences

#: A tick sooner than this after a name was heard is ignored: nobody has looked yet. It was meant for the
#: target before, or the key was hit twice.
LOOK_S = 2.0
#: Stands for "no target yet" where None means "nothing is up".
_NONE = -1
_ENDED = "the voice is to end"
ON, OFF = "Voice on.", ("Voice off.", "Any key lights a black screen.")
FASTER, SLOWER = "Faster.", "Slower."


class Aloud:
    """The voice of the walk. Every method returns at once.

    A target counts as named once its name has been spoken to the end. On a black screen it cannot be ticked
    before that: so neither a key hit twice, nor a change of target in the meantime, ticks the wrong one.
    """

    def __init__(
        self,
        walker: Walker,
        now_s: Callable[[], float],
        steady_s: Callable[[], float],
        stopped: Callable[[str], None],
    ) -> None:
        """Start to speak.

        now_s     the night's clock
        steady_s  a clock that nobody can set, in seconds
        stopped   called with the reason if the voice ends by itself
        """
        person = walker.night.person
        self._walker, self._now_s, self._steady_s = walker, now_s, steady_s
        self._speaker = Speaker(self._spoken, stopped, person.voice_words_per_min)
        self._calls = Calls(walker, now_s()) if person.voice == "all" else None
        #: The row of the target given to the speaker last, and the row of the target whose name was heard
        #: last.
        self._told: int | None = _NONE
        self._named: int | None = _NONE
        self._named_at_s = 0.0
        self._lead = ""
        self._last: tuple[Sentence, ...] = ()
        self._has_repeated = False

    # -- what is spoken ---------------------------------------------------------

    def say(self, texts: Sequence[str] = (), *, must: bool = False) -> None:
        """Speak sentences, then the target if it has changed."""
        self._speak([Sentence(text, must) for text in texts])

    def ask(self, texts: Sequence[str]) -> None:
        """Speak a question or other sentences, without the target after them."""
        self._speak([Sentence(text) for text in texts], alone=True)

    def message(self, say: Say | None) -> None:
        """Speak a message of the screen; later sentences do not cut it off."""
        self.say(heard.answer(say) if say else (), must=True)

    def begin(self, first_words: Say | None) -> None:
        """Say that there is a voice, then the first words of the walk, and the target."""
        self.say((ON, *(heard.answer(first_words) if first_words else ())), must=True)

    def back(self) -> None:
        """Name the target again: the observer has come back from another page."""
        self._told = _NONE
        self.say()

    def forget(self) -> None:
        """Name the target shown anew: the rows of the night are no longer those of before."""
        self._told = self._named = _NONE

    def black(self) -> None:
        """Say how to light the black screen again, unless something else is being spoken.

        The target was on the lit screen, so it counts as named.
        """
        if self._told == self._walker.shown(self._now_s()):
            self._named = self._told
        if not self._speaker.is_speaking:
            self.ask(questions.BLACK)

    def end(self) -> None:
        """Say that the voice is off, and end after that has been spoken."""
        first, last = OFF
        self._speaker.say([Sentence(first), Sentence(last, mark=_ENDED)])

    def close(self) -> None:
        """Stop speaking at once."""
        self._speaker.close()

    def follow(self) -> None:
        """If nothing is being spoken, tell of a target that changed by itself, or of what has happened."""
        if self._speaker.is_speaking:
            return
        now_s = self._now_s()
        row = self._walker.shown(now_s)
        if row != self._told:
            self._lead = answers.NEXT if row is not None else ""
            self.say(self._gone())
        elif self._calls is not None and (text := self._calls.due(now_s)):
            self.say((text,))

    def _gone(self) -> tuple[str, ...]:
        """Return that the target named last can no longer be seen, if it is no longer shown."""
        row = self._told
        if row is None or row in {_NONE, self._walker.shown(self._now_s())}:
            return ()
        return sentences(f"{self._name(row)} can no longer be seen")

    def _spoken(self, mark: object) -> None:
        if mark == _ENDED:
            self._speaker.close()
        elif isinstance(mark, tuple):
            (self._named,), self._named_at_s = mark, self._steady_s()

    def _speak(self, spoken: Sequence[Sentence], *, alone: bool = False) -> None:
        self._has_repeated = False
        if not any(sentence.mark for sentence in spoken):
            if self._told != self._named:  # its name has been cut off, and must be said again
                self._told = _NONE
            spoken = (*spoken, *(() if alone else self._change()))
        if spoken:
            self._last = tuple(spoken)
            self._speaker.say(spoken)

    def _change(self) -> tuple[Sentence, ...]:
        """Return what is said of the target shown, or nothing if that has been said."""
        now_s = self._now_s()
        row = self._walker.shown(now_s)
        if row == self._told:
            return ()
        lead, self._lead = self._lead, ""
        return self._naming(row, heard.change(self._walker, now_s, lead))

    def _naming(self, row: int | None, told: Told) -> tuple[Sentence, ...]:
        """Return what is told of the target in this row, with a mark on the sentence that names it."""
        self._told = row
        return tuple(
            Sentence(text, mark=(row,) if count == told.named else None)
            for count, text in enumerate(told.sentences, start=1)
        )

    def _name(self, row: int) -> str:
        return name_for_ear(self._walker.night.targets[row].subject.name)

    # -- keys -------------------------------------------------------------------

    def takes(self, action: str, argument: str) -> bool:
        """Take a key that on a black screen only speaks; return False for a key that does more."""
        if action == "glow":
            self._pace(argument)
        elif (action == "tick" and not self._may_tick()) or (action in {"phrase", "note"} and self._gone()):
            self._name_again()
        elif action in {"list", "help"}:  # spoken instead of opened: the page would take the next keys
            self.pressed(action, None)
        else:
            return False
        return True

    def pressed(self, action: str, say: Say | None, view: ChartView = ChartView.SKY) -> None:
        """Speak the answer to a key: what it did, asks or shows.

        say   the message that the key left
        view  the view of the chart that the key opened or stepped to
        """
        if action == "back":
            self._again()
        elif action == "step":
            self._told = _NONE
            self.say()
        elif action in {"tick", "undo"}:
            self._told = self._named = _NONE  # the target shown now must be named before it can be ticked
            self._lead = answers.NEXT if action == "tick" and say and not say.alert else ""
            self.message(say)
        elif action == "other_instrument" and say:  # there is no other instrument
            self.message(say)
        elif action in {"aim", "circles", "remarks", "other_eyepiece", "other_instrument", "list", "help"}:
            self._page(action, view)
        elif action in questions.ASKED:
            self.ask(questions.ASKED[action])
        elif action == "leave":
            self.ask(questions.leaving(len(self._walker.session.unsaved)))
        elif action not in {"note", "voice", "black"}:  # these are spoken elsewhere
            self.message(say)

    def note(self, row: int | None) -> None:
        """Ask for a note on a target, or on the night."""
        self.ask(questions.note(None if row is None else self._walker.night.targets[row].subject.name))

    def clearing(self, points: Iterable[str]) -> None:
        """Say which compass points are marked as clear so far."""
        self.ask(questions.clear(points))

    def echo(self, text: str) -> None:
        """Say what has been typed, word by word."""
        self.ask(questions.echo(text))

    def checklist(self, listed: Checklist, notice: str) -> None:
        """Say the notice, then title and length of the checklist, and the item at the cursor."""
        count = f"{listed.title}: {len(listed.items)} items, {len(listed.done) or 'none'} done"
        self.ask((*said(notice, count), *self._item(listed), *questions.CHECKLIST))

    def item(self, listed: Checklist) -> None:
        """Say the item at the cursor, and whether it is done."""
        self.ask(self._item(listed))

    def _item(self, listed: Checklist) -> tuple[str, ...]:
        return answers.check(listed.items[listed.cursor], listed.is_cursor_done) if listed.items else ()

    def listed(self, row: int) -> None:
        """Say a row of the list."""
        self.ask(heard.listed(self._walker, row, self._now_s()))

    def dropped(self) -> None:
        """Say that what was typed is dropped."""
        self.say(questions.DROPPED)

    def _may_tick(self) -> bool:
        is_named = self._named == self._told == self._walker.shown(self._now_s())
        return is_named and self._steady_s() - self._named_at_s >= LOOK_S

    def _name_again(self) -> None:
        """Name the target shown, unless its name has been spoken or is being spoken."""
        row = self._walker.shown(self._now_s())
        if self._told != row or (self._named != row and not self._speaker.is_speaking):
            gone = self._gone()
            self._told = _NONE
            self.say(gone)

    def _page(self, action: str, view: ChartView) -> None:
        """Say what is on the page that a key opens."""
        walker, now_s = self._walker, self._now_s()
        if action == "list":
            self.say(heard.what_next(walker, now_s))
        elif action == "help":
            self.say(questions.keys(HEARD))
        elif action in {"other_eyepiece", "other_instrument"}:
            self.say(heard.eyepiece(walker, now_s))
        elif action == "remarks":
            self.say(heard.written(walker, now_s))
        elif action == "aim" and view in {ChartView.FINDER, ChartView.EYEPIECE}:
            self.say(heard.in_view(walker, now_s, view))
        else:
            asked = heard.where_it_is if action == "aim" else heard.setting_circles
            gone = [Sentence(text) for text in self._gone()]
            self._speak([*gone, *self._naming(walker.shown(now_s), asked(walker, now_s))])

    def _pace(self, by: str) -> None:
        """Speak slower or faster, and repeat the last words at the new pace."""
        if by == "1":
            self._speaker.faster()
        else:
            self._speaker.slower()
        self._speak([Sentence(FASTER if by == "1" else SLOWER), *self._last])
        self._last = self._last[1:]  # whoever asks for the last words again does not mean the pace

    def _again(self) -> None:
        """Repeat the last words; when asked a second time, tell all about the target."""
        is_told = self._told == self._walker.shown(self._now_s())
        if not is_told or self._has_repeated or not self._last:
            self._told = _NONE
            self.say()
        else:
            self._speak(self._last)
            self._has_repeated = True
