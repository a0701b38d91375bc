"""A bare figure of a place goes on with the reading before it: "pH in A is six point five, B seven"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.near import figure
from assistant.reading.sketch import Place

_LEADING = frozenset(("at", "reads", "reading", "says", "only", "just", ":", "-", "is", "even"))
_APART = 3
"""Words that may stand between a place and its figure."""
_CLAUSES = 3
"""How many clauses back the reading may stand that goes on."""
_NEAR = {"ph": 3.0, "moisture": 45.0, "temperature": 35.0}
"""How far one place may be from another, in the unit of the reading."""
_UNITS = {"ph": ("pH",), "moisture": ("percent",), "temperature": ("degF", "degC", "degree")}


def series(c: Context) -> Iterator[Draft]:
    """The figures of places that say no more than the figure."""
    for span in c.unused():
        if span.currency or c.sketch.starting("thing", span.end) is not None:
            continue
        place = _place_of(c, span)
        told = _going_on(c, span) if place is not None else None
        if place is None or told is None or told.amount is None:
            continue
        c.use(span)
        yield Draft(
            told.kind,
            min(place.start, span.start),
            span.end,
            c.clause,
            item=told.item,
            amount=figure(span, told.amount.unit),
            where=c.sketch.walk.within(place, c.clause),
        )


def _place_of(c: Context, span: AmountSpan) -> Place | None:
    """The place just before a figure, or just behind it: "B seven", "74 in control"."""
    before = [p for p in c.clause.places if p.end <= span.start and span.start - p.end <= _APART]
    if before:
        gap = c.words[before[-1].end : span.start]
        said = all(w in _LEADING or c.vocabulary.role(w, "copula", "adverb", "filler") for w in gap)
        return before[-1] if said else None
    behind = next((p for p in c.clause.places if 0 < p.start - span.end <= 2), None)
    return behind if behind is not None and c.word(span.end) in ("in", "for", "on") else None


def _going_on(c: Context, span: AmountSpan) -> Draft | None:
    """The last reading with a figure like this one, in this clause or just before it."""
    if any(m.end <= span.start for m in c.here("instrument")):
        return None
    floor = c.sketch.clauses[max(0, c.index - _CLAUSES)].start
    for told in reversed(c.drafts):
        if told.start < floor:
            return None
        if told.kind in _NEAR and told.item != "air" and _alike(span, told):
            return told
    return None


def _alike(span: AmountSpan, told: Draft) -> bool:
    """Whether a figure may be a reading of the same sort."""
    if told.amount is None or not (span.unit is None or span.unit in _UNITS[told.kind]):
        return False
    return abs(span.best - told.amount.best) <= _NEAR[told.kind]
