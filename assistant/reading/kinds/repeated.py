"""Told by place and figure alone, as before: "ph control seven, treatment six", "tray two a cup"."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.figures import READINGS, SPRAY
from assistant.reading.kinds.near import figure
from assistant.reading.sketch import Clause

_FIGURED = ("ph", "moisture", "temperature")
_ANNOUNCED = {"ph": "ph", "moisture": "moisture", "temp": "temperature", "temperature": "temperature"}
_PUT_IN = frozenset(("feed", "bed", "amend", "water"))


def elliptical(c: Context) -> Iterator[Draft]:
    """A place and a figure repeat the reading before, a place and a measure what was put in before."""
    if c.index == 0 or not c.clause.places or len(c.amounts) != 1 or c.items:
        return
    span, before = c.amounts[0], c.sketch.clauses[c.index - 1]
    if not _alone(c, span) or before.end < c.clause.start - 1:
        return
    told = next((d for d in c.drafts[-1:] if d.clause is before and d.amount), None)
    if told and told.kind in _PUT_IN and _measured(span, told.kind) and _bare(c):
        c.use(span)
        start, end = min(c.clause.start, span.start), span.end
        yield replace(told, start=start, end=end, clause=c.clause, where=None, amount=quantity(span))
        return
    last = next((d for d in c.drafts[-1:] if d.kind in _FIGURED and d.amount), None)
    kind = _kind(c, before, last)
    if kind is None or not _fits(kind, span):
        return
    c.use(span)
    item = "bed" if kind == "temperature" else None
    amount = figure(span, _unit(kind, last))
    yield Draft(kind, c.clause.start, span.end, c.clause, item=item, amount=amount)


def _alone(c: Context, span: AmountSpan) -> bool:
    """Whether the clause is hardly more than its places and a figure that no reading has used."""
    placed = sum(p.end - p.start for p in c.clause.places)
    others = c.clause.end - c.clause.start - (span.end - span.start) - placed
    return others <= 2 and span.start not in c.clause.used and not span.currency


def _measured(span: AmountSpan, kind: str) -> bool:
    """Whether a figure is of something put in, and no reading."""
    return span.unit not in (None, *READINGS, "min") and (span.unit == SPRAY) == (kind == "water")


def _bare(c: Context) -> bool:
    """Whether the clause tells of nothing else."""
    return not any(c.here(layer) for layer in ("verb", "moisture", "leftover", "progress"))


def _kind(c: Context, before: Clause, last: Draft | None) -> str | None:
    """The kind of reading that the clause before told, or only announced ("ph, control seven")."""
    announced = _ANNOUNCED.get(c.words[before.end - 1])
    if announced:
        return announced
    return last.kind if last and last.clause is before else None


def _fits(kind: str, span: AmountSpan) -> bool:
    """Whether a figure can be one of a kind of reading."""
    if span.unit not in (None, "pH", "percent"):
        return False
    if kind == "ph":
        return span.best <= 14
    if kind == "moisture":
        return span.unit == "percent" or (span.unit is None and span.best > 10)
    return span.best >= 5


def _unit(kind: str, last: Draft | None) -> str:
    if kind == "ph":
        return "pH"
    if kind == "moisture":
        return "percent"
    return last.amount.unit if last and last.amount else "degF"
