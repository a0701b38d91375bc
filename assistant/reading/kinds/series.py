"""Readings in a row: "pH in A is six point five, B seven"; "temps 62, 64, 61", a figure for each place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft, Target
from assistant.reading.kinds.near import figure
from assistant.reading.sketch import Place

_LEADING = frozenset(
    ("at", "more", "like", "reads", "reading", "says", "only", "just", ":", "-", "is", "even")
)
_APART = 4
"""Words that may stand between a place and its figure."""
_CLAUSES = 3
"""How many clauses back the reading may stand that goes on."""
_NEAR = {"ph": 3.0, "moisture": 45.0, "temperature": 35.0}
"""How far one place may be from another, in the unit of the reading."""
_LISTING = frozenset(", and / & then".split())
_GUESSED = "the figures are taken for the places in their order"
_UNITS = {"ph": ("pH",), "moisture": ("percent",), "temperature": ("degF", "degC", "degree")}


def series(c: Context) -> Iterator[Draft]:
    """The figures of places that say no more than the figure."""
    for span in c.unused():
        if span.currency or c.sketch.starting("thing", span.end) is not None:
            continue
        place = _place_of(c, span)
        if place is None and (last := _now(c, span)) is not None and last.amount is not None:
            c.use(span)
            amount = figure(span, last.amount.unit)
            today = c.sketch.now.date().isoformat()
            yield Draft(
                last.kind,
                span.start,
                span.end,
                c.clause,
                item=last.item,
                amount=amount,
                day=today,
                dated=True,
            )
            continue
        told = _going_on(c, span) if place is not None else None
        if place is None or told is None or told.amount is None:
            continue
        if told.kind == "ph":
            span = _spoken(c, span)
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


def _now(c: Context, span: AmountSpan) -> Draft | None:
    """ "pH 6.2 last week, 6.7 today": the reading of another day, just before in the clause."""
    if c.word(span.end) not in ("today", "now"):
        return None
    told = _going_on(c, span)
    return told if told is not None and told.clause is c.clause else None


def _spoken(c: Context, span: AmountSpan) -> AmountSpan:
    """ "middle tray six eight": a pH of 6.8."""
    tenths = c.sketch.starting("amount", span.end)
    if tenths is None or tenths.unit or not 0 <= tenths.best <= 9 or tenths.best % 1 or span.best % 1:
        return span
    best = span.best + tenths.best / 10
    return replace(span, end=tenths.end, low=best, best=best, high=best)


def _place_of(c: Context, span: AmountSpan) -> Place | None:
    """The place just before a figure, or just behind it: "B seven", "74 in control"."""
    row = c.clause.places[-1:]
    if row and row[0].tiers and row[0].end == c.clause.end:  # "71 top 70 middle"
        here = next((p for p in c.clause.places if p.start == span.end and p.tiers), None)
        if here is not None:
            return here
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


def in_order(c: Context, new: list[Draft]) -> None:
    """ "temps 62, 64, 61": as many figures as there are places, given to them in their order."""
    row = [d for d in new if d.kind in _NEAR and d.item != "air" and d.amount is not None]
    if len(row) < 2 or len({d.kind for d in row}) > 1 or any(d.where for d in row):
        return
    gaps = (c.words[a.end : max(a.end, b.end - 1)] for a, b in pairwise(row))
    if not all(w in _LISTING or w[0].isdigit() for gap in gaps for w in gap):
        return
    for draft, target in zip(row, _places_for(c, len(row)), strict=False):
        draft.where, draft.doubts = (target,), (*draft.doubts, _GUESSED)


def _places_for(c: Context, count: int) -> tuple[Target, ...]:
    """The places that a row of so many figures is of: those that hold, the bin's tiers, or all bins."""
    here, setup = c.clause.where, c.sketch.setup
    if len(here) == count:
        return here
    bin_ = next((b for b in setup if b.name == here[0][0]), None)
    if len(here) == 1 and bin_ and bin_.tiers == count and here[0][1] is None:
        return tuple((bin_.name, tier) for tier in range(1, count + 1))
    every = len(setup) == count and not c.clause.places
    return tuple((b.name, None) for b in setup) if every else ()
