"""Acidity with its figure: "ph 6.8", "the strip read 6.6"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.near import figure

_ACIDITY = frozenset(("ph", "acidity"))
_STRIPS = frozenset(("strip", "litmus", "strips"))
_PH_OR_LITMUS = frozenset(("ph", "litmus"))
_TURNING = frozenset("showed shows read reads turned went said says came gave gives".split())


def ph(c: Context) -> Iterator[Draft]:
    """A pH: the word with the number nearest after it."""
    for i in range(c.clause.start, c.clause.end):
        span = _acidity_near(c, i) if c.words[i] in _ACIDITY else None
        if span is None:
            continue
        c.use(span)
        start, end = min(i, span.start), max(i + 1, span.end)
        yield Draft("ph", start, end, c.clause, amount=figure(span, "pH"))


def _acidity_near(c: Context, i: int) -> AmountSpan | None:
    """The first figure from word `i` on that can be a pH."""
    near = (a for a in c.amounts if a.end > i and a.start <= i + 8)
    return next((a for a in near if a.unit in (None, "pH") and 0 < a.best <= 14), None)


def acidity_strip(c: Context) -> Iterator[Draft]:
    """ "the strip read 6.6": a strip's figure is a pH."""
    if not c.has(_STRIPS) or (c.has(_PH_OR_LITMUS) and c.clause.used):
        return
    bare = (a for a in c.amounts if a.unit is None and not a.currency and a.start not in c.clause.used)
    span = next((a for a in bare if 3 <= a.best <= 10), None)
    if span is None or not _told(c, span):
        return
    c.use(span)
    yield Draft("ph", c.clause.start, span.end, c.clause, amount=figure(span, "pH"))


def _told(c: Context, span: AmountSpan) -> bool:
    """ "it turned", "it was": a word before the figure that a strip's figure is said with."""
    lead = c.words[c.clause.start : span.start]
    return any(c.vocabulary.role(w, "copula") or w in _TURNING for w in lead)
