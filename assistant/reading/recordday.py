"""The day of a record, from the days that its clause names."""

from __future__ import annotations

from datetime import date

from assistant.reading.days import DaySpan
from assistant.reading.periods import MONTH_DOUBT, SEASON_DOUBT
from assistant.reading.sketch import Clause

_UNTIL = frozenset(("until", "till", "til", "before", "by", "over"))
_THE_LAST = frozenset(("last", "ago", "week", "previous", "past"))
_VAGUE = frozenset((MONTH_DOUBT, SEASON_DOUBT))
_COMING_DONE = "a day to come, said of something done: taken as the note's own day"

Found = tuple[str | None, tuple[str, ...]]
"""An ISO day, None where a plan names none, and what is unsure about it."""


def day_for(clause: Clause, state: str, said: date, words: list[str]) -> Found:
    """The day of a record in a clause: what is past for what was done, what is to come for the rest.

    `said` is the note's own day.
    """
    ahead = state in ("planned", "expected")
    for span in sorted(clause.days, key=_vague if ahead else _as_said):
        if span.recurring or (span.period and state == "ruled_out") or span.start in clause.beside:
            continue
        found = _ahead(span, state, said) if ahead else _behind(span, state, said, words)
        if found is not None:
            return found
    if ahead:
        return None, tuple(w for d in clause.days for w in d.unsure)
    return said.isoformat(), ()


def _vague(span: DaySpan) -> bool:
    """Whether a stretch of days is told: "later this week, probably Friday" is on Friday."""
    return span.coming is not None and span.coming[0] != span.coming[1]


def _as_said(span: DaySpan) -> bool:
    return False


def _ahead(span: DaySpan, state: str, said: date) -> Found | None:
    """The day of a plan: the first of those to come; of what is expected, the last of a stretch."""
    if not _VAGUE.isdisjoint(span.unsure):
        return None, span.unsure
    pick = span.coming or (span.past if span.past and span.past[0] >= said else None)
    if not pick:
        return None
    return pick[1 if state == "expected" and not span.period else 0].isoformat(), span.unsure


def _behind(span: DaySpan, state: str, said: date, words: list[str]) -> Found | None:
    """The day of what was done or left undone; None where the span is no such day."""
    now = words[span.start] == "this" and span.past is not None and span.past[0] != span.past[1]
    if now or _own_weekday(words, span, said):
        return said.isoformat(), span.unsure  # "no gnats this week" is seen today
    if state == "ruled_out" and _UNTIL & {words[span.start], words[span.start - 1] if span.start else ""}:
        return None
    pick = span.past or (span.coming if span.coming and span.coming[0] <= said else None)
    if state == "ruled_out" and (pick is None or pick[0] > said):
        return None
    if pick and pick[0] <= said:
        return pick[0].isoformat(), span.unsure
    if span.past is None and span.coming is None:
        return said.isoformat(), span.unsure
    if state == "done" and span.coming and span.past is None:
        return said.isoformat(), (_COMING_DONE,)
    return None


def _own_weekday(words: list[str], span: DaySpan, said: date) -> bool:
    """ "Slow Monday so I sorted the tower", said on a Monday: the note's own day."""
    if span.past is None or span.past[0] != span.past[1] or (said - span.past[0]).days != 7:
        return False
    return not _THE_LAST & set(words[max(0, span.start - 1) : span.end])
