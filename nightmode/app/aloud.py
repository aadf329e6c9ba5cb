"""What is spoken on the walk, and when; loaded when the voice is asked for.

Words that answer a key replace those before them. What was noted, or could not be, is always heard. What
happens by itself waits until nothing else is spoken.
"""

from collections.abc import Callable, Iterable, Sequence

from nightmode.app import heard
from nightmode.app.calls import Calls
from nightmode.app.keys import HEARD
from nightmode.app.pages.aim import ChartView
from nightmode.app.walker import Say, Walker
from nightmode.voice.speaker import Sentence, Speaker
from nightmode.wording.spoken import answers, questions
from nightmode.wording.spoken.ear import name_for_ear
from nightmode.wording.spoken.sentences import said, sentences

#: Nobody has looked so soon after a name was heard: such a tick was meant for what was shown before it, or is
#: the second of two.
LOOK_S = 2.0
#: Stands for the target while none has been told.
_NONE = -1
_ENDED = "the voice is to end"
ON, OFF = "Voice on.", ("Voice off.", "Any key lights a black screen.")
#: So many figures for setting circles come after altitude and azimuth, which are told in words.
FIGURES = 4
FASTER, SLOWER = "Faster.", "Slower."


class Aloud:
    """The voice of the walk. Every method returns at once.

    A target counts as named once its name has been spoken to the end. On a black screen nothing is ticked
    before that: neither a doubled key nor a target that has set meanwhile can tick what nobody has heard of.
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
        steady_s  a clock that only runs forward, for the hand on the keys
        stopped   called with the reason if the voice ends by itself
        """
        person = walker.night.person
        self._walker, self._now_s, self._steady_s = walker, now_s, steady_s
        self._speaker = Speaker(self._spoken, stopped, person.voice_words_per_min)
        self._calls = Calls(walker, now_s()) if person.voice == "all" else None
        #: The row of the target that the speaker was given last, and of that whose name was heard last.
        self._told: int | None = _NONE
        self._named: int | None = _NONE
        self._named_at_s = 0.0
        self._lead = ""
        self._last: tuple[Sentence, ...] = ()
        self._has_repeated = False

    # -- what is spoken ---------------------------------------------------------

    def say(self, texts: Sequence[str] = (), *, must: bool = False) -> None:
        """Speak sentences, and the target if another one is shown by now."""
        self._speak([Sentence(text, must) for text in texts])

    def ask(self, texts: Sequence[str]) -> None:
        """Speak sentences alone: a question that waits for its answer."""
        self._speak([Sentence(text) for text in texts], alone=True)

    def message(self, say: Say | None) -> None:
        """Speak a message of the screen; it is heard whatever comes after it."""
        self.say(heard.answer(say) if say else (), must=True)

    def begin(self, first_words: Say | None) -> None:
        """Say that there is a voice, then the first words of the walk, and the target."""
        self.say((ON, *(heard.answer(first_words) if first_words else ())), must=True)

    def back(self) -> None:
        """Name the target: the observer comes back to it from another page."""
        self._told = _NONE
        self.say()

    def black(self) -> None:
        """Say how to come out of the dark, unless there is more to hear.

        The target stood on the lit screen: it counts as named.
        """
        if self._told == self._walker.shown(self._now_s()):
            self._named = self._told
        if not self._speaker.is_speaking:
            self.ask(questions.BLACK)

    def end(self) -> None:
        """Say that the voice goes off, and end once that has been heard."""
        first, last = OFF
        self._speaker.say([Sentence(first), Sentence(last, mark=_ENDED)])

    def close(self) -> None:
        """Fall silent at once."""
        self._speaker.close()

    def follow(self) -> None:
        """Speak of a target that has come by itself, or of what happens; if nothing else is spoken."""
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
        """Return that the target told last is gone, if it has gone by itself."""
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
            if self._told != self._named:  # its name is cut off, and comes again
                self._told = _NONE
            spoken = (*spoken, *(() if alone else self._change()))
        if spoken:
            self._last = tuple(spoken)
            self._speaker.say(spoken)

    def _change(self) -> tuple[Sentence, ...]:
        """Return what is said of the target shown, unless that has been told."""
        now_s = self._now_s()
        row = self._walker.shown(now_s)
        if row == self._told:
            return ()
        lead, self._lead = self._lead, ""
        return self._naming(row, heard.change(self._walker, now_s, lead), lead)

    def _naming(self, row: int | None, texts: Sequence[str], lead: str = "") -> tuple[Sentence, ...]:
        """Return sentences with a mark where the target has been named: after its name, else at the end."""
        self._told = row
        name = sentences(lead + self._name(row)) if row is not None else ()
        starts = [at for at, text in enumerate(texts) if name and text.startswith(name[0].rstrip("."))]
        named = min(starts[0] + len(name), len(texts)) - 1 if starts else len(texts) - 1
        return tuple(Sentence(text, mark=(row,) if at == named else None) for at, text in enumerate(texts))

    def _name(self, row: int) -> str:
        return name_for_ear(self._walker.night.targets[row].subject.name)

    # -- keys -------------------------------------------------------------------

    def takes(self, action: str, argument: str) -> bool:
        """Take a key on a black screen that does nothing there but speak; return whether it was one."""
        if action == "glow":
            self._pace(argument)
        elif (action == "tick" and not self._may_tick()) or (action in {"phrase", "note"} and self._gone()):
            self._name_again()
        elif action in {"list", "help"}:  # what their page shows; it would take the keys after it
            self.pressed(action, None)
        else:
            return False
        return True

    def pressed(self, action: str, say: Say | None, view: ChartView = ChartView.SKY) -> None:
        """Speak the answer to a key: what it did, asked or shows.

        say   the message that it left
        view  the view of the chart that it opened or stepped to
        """
        if action == "back":
            self._again()
        elif action == "step":
            self._told = _NONE
            self.say()
        elif action in {"tick", "undo"}:
            self._told = self._named = _NONE  # whatever is shown now is named before it can be ticked
            self._lead = answers.NEXT if action == "tick" and say and not say.alert else ""
            self.message(say)
        elif action == "other_instrument" and say:  # there is none
            self.message(say)
        elif action in {"aim", "circles", "other_eyepiece", "other_instrument", "list", "help"}:
            self._page(action, view)
        elif action in questions.ASKED:
            self.ask(questions.ASKED[action])
        elif action == "leave":
            self.ask(questions.leaving(len(self._walker.session.unsaved)))
        elif action not in {"note", "voice", "black"}:  # they speak for themselves
            self.message(say)

    def note(self, row: int | None) -> None:
        """Ask for a note on a target, or on the night."""
        self.ask(questions.note(None if row is None else self._walker.night.targets[row].subject.name))

    def clearing(self, points: Iterable[str]) -> None:
        """Say which compass points are to count as clear so far."""
        self.ask(questions.clear(points))

    def echo(self, text: str) -> None:
        """Say what has been typed, word by word."""
        self.ask(questions.echo(text))

    def checklist(self, title: str, items: Sequence[tuple[str, bool]], cursor: int, notice: str) -> None:
        """Say which checklist it is, how long, and the item to tick next; a notice comes first."""
        count = f"{title}: {len(items)} items, {sum(done for _, done in items) or 'none'} done"
        self.ask((*said(notice, count), *self._item(items, cursor), *questions.CHECKLIST))

    def item(self, items: Sequence[tuple[str, bool]], cursor: int) -> None:
        """Say an item of a checklist, and whether it is done."""
        self.ask(self._item(items, cursor))

    def _item(self, items: Sequence[tuple[str, bool]], cursor: int) -> tuple[str, ...]:
        return answers.check(*items[cursor]) if items else ()

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
        """Say which target is shown, unless that is just being said or has been."""
        row = self._walker.shown(self._now_s())
        if self._told != row or (self._named != row and not self._speaker.is_speaking):
            gone = self._gone()
            self._told = _NONE
            self.say(gone)

    def _page(self, action: str, view: ChartView) -> None:
        """Say what the page shows that a key opens."""
        walker, now_s = self._walker, self._now_s()
        if action == "list":
            self.say(heard.what_next(walker, now_s))
        elif action == "help":
            self.say(questions.keys(HEARD))
        elif action in {"other_eyepiece", "other_instrument"}:
            self.say(heard.eyepiece(walker, now_s))
        elif action == "aim" and view in {ChartView.FINDER, ChartView.EYEPIECE}:
            self.say(heard.where(walker, now_s, view))
        else:
            texts = heard.where(walker, now_s, view) if action == "aim" else self._height(now_s)
            gone = [Sentence(text) for text in self._gone()]
            self._speak([*gone, *self._naming(walker.shown(now_s), texts)])

    def _height(self, now_s: float) -> tuple[str, ...]:
        """Return how high and how long, then the figures that stand on the page."""
        walker = self._walker
        if walker.shown(now_s) is None:
            return heard.how_high(walker, now_s)
        figures = heard.setting_circles(walker, now_s)[-FIGURES:]
        return (*heard.how_high(walker, now_s), *heard.how_long(walker, now_s), *figures)

    def _pace(self, by: str) -> None:
        """Speak slower or faster, and say the last words again so."""
        if by == "1":
            self._speaker.faster()
        else:
            self._speaker.slower()
        last = [sentence for sentence in self._last if sentence.text not in {FASTER, SLOWER}]
        self._speak([Sentence(FASTER if by == "1" else SLOWER), *last])

    def _again(self) -> None:
        """Say the last words again; asked once more, the whole target."""
        is_told = self._told == self._walker.shown(self._now_s())
        if not is_told or self._has_repeated or not self._last:
            self._told = _NONE
            self.say()
        else:
            self._speak(self._last)
            self._has_repeated = True
