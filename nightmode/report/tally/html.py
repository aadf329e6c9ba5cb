"""The tally as an HTML page: a picture of the whole list, how it grew, its parts, and what is left."""

from collections.abc import Iterable, Iterator
from html import escape

from nightmode.history.tally import Tally
from nightmode.model.session import LOOKED
from nightmode.report.objects import kind_text
from nightmode.report.picture.marks import LEGEND
from nightmode.report.picture.page import figure, html_table, page, paragraph
from nightmode.report.picture.progress import growth_picture, months_strip, progress_picture
from nightmode.report.tally.account import Account
from nightmode.report.tally.words import best_words, constellation_counts, counts_line, first_words
from nightmode.wording.figures import date_text

_SEEN_HEADS = (
    ("target", "t"), ("what", ""), ("outcome", "t"), ("first", "t"), ("best", "t"), ("last noted", ""),
)  # fmt: skip
_PART_HEADS = (("", ""), ("all", "n"), ("seen", "n"), ("suspected", "n"), ("not seen", "n"), ("left", "n"))
_MOON_HEADS = (("until new Moon", "t"), ("in light", "n"), ("only then", ""), ("all", ""))
_LEGEND = LEGEND.replace("Small dot: set aside or noted on.", "Grey: left.")


def tally_html(account: Account, first_month: int) -> str:
    """Return a complete HTML page that loads nothing; months run from `first_month` on."""
    tally = account.tally
    parts = [
        paragraph(counts_line(tally) + "."),
        figure(progress_picture(tally), _LEGEND),
        *([figure(grown, "Seen by which night.")] if (grown := growth_picture(tally)) else []),
    ]
    if tally.left:
        parts += _left(account, first_month)
    if len(tally.parts("kind")) > 1:
        parts += ["<h2>By kind</h2>", html_table(_PART_HEADS, _part_rows(tally))]
    if len(tally.parts("constellation")) > 1:
        told = ", ".join(constellation_counts(tally))
        parts += ["<h2>By constellation, seen of all</h2>", paragraph(f"{told}.")]
    if tally.count(None) < len(tally.items):
        parts += ["<h2>What was looked at</h2>", html_table(_SEEN_HEADS, _seen_rows(tally))]
    return page(tally.title, parts)


def _left(account: Account, first_month: int) -> Iterator[str]:
    left = account.tally.left
    yield f"<h2>Left: {len(left)}</h2>"
    if not account.needs and not account.moon:
        yield paragraph(", ".join(item.name for item in left) + ".")
        yield paragraph(account.basis, "quiet")
        return
    yield paragraph(f"From {account.basis}.", "quiet")
    if account.moon:
        yield html_table(_MOON_HEADS, _moon_rows(account))
        if later := account.after_new_moon:
            yield paragraph(f"Not before the new Moon: {', '.join(later)}.")
    if not account.needs:
        return
    heads = (("target", "t"), ("what", ""), ("shows in", "t"), ("at best", "t"), ("next dark nights", ""))
    yield html_table(heads, _left_rows(account, first_month))


def _moon_rows(account: Account) -> Iterator[Iterable[str]]:
    for night in account.moon:
        yield (
            date_text(night.night),
            str(len(night.names)),
            escape(", ".join(night.only)),
            escape(", ".join(night.names)),
        )


def _left_rows(account: Account, first_month: int) -> Iterator[Iterable[str]]:
    for item in account.tally.left:
        need = account.needs.get(item.name)
        if need is None:
            yield escape(item.name), escape(kind_text(item.object)), "moves", "", ""
            continue
        best = need.word.value if need.is_up else "never clear of its floor"
        nights = ", ".join(date_text(night) for night in need.next_nights)
        strip = months_strip(need.months, first_month)
        yield escape(item.name), escape(kind_text(item.object)), strip, best, nights


def _part_rows(tally: Tally) -> Iterator[Iterable[str]]:
    for name, counts in tally.parts("kind").items():
        figures = (counts[outcome] for outcome in (*LOOKED, None))
        yield escape(name), str(counts.total()), *(str(figure or "") for figure in figures)


def _seen_rows(tally: Tally) -> Iterator[Iterable[str]]:
    for item in tally.items:
        if item.outcome is not None:
            told = (item.outcome.value, first_words(item.first), best_words(item.best))
            note = f'<span class="words">{escape(item.note)}</span>' if item.note else ""
            yield escape(item.name), escape(kind_text(item.object)), *told, note
