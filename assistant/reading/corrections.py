"""The keeper takes back or mends what was just said; only the corrected record is kept (contract 5.4)."""

from __future__ import annotations

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.named import betweens, named
from assistant.reading.retold import retold
from assistant.reading.sketch import Clause
from assistant.reading.where import Walk
from assistant.records import Amount

_REACH = 3
"""How many clauses back a correction may reach when it names nothing."""


def correct(c: Context, new: list[Draft], walk: Walk) -> list[Draft]:
    """Apply a correction that the clause carries to the drafts before it; give back the drafts that stand."""
    mended = named(c, new, walk) if c.drafts else None
    if mended is None:
        mended = retold(c, new, betweens())
    if mended is not None:
        return mended
    mark = next((m for m in c.here("mark") if m.value in ("drop", "replace")), None)
    pending = mark is None and _bare_mark_before(c)
    if mark is None and not pending:
        return [*_completed(c, new), *new]
    if mark is not None and mark.value == "drop" and _is_verbish(c, mark.start):
        return [*c.drafts, *new]
    last = _last(c)
    if not last:
        return [*c.drafts, *new]
    dropping = mark is not None and mark.value == "drop"
    return _applied(c, new, last, dropping, walk)


def _applied(c: Context, new: list[Draft], last: list[Draft], dropping: bool, walk: Walk) -> list[Draft]:
    place = c.clause.places[0] if c.clause.places else None
    amount = next((a for a in c.amounts if not a.currency), None)
    if place is not None and not new:
        moved = _group(c, last)
        for draft in moved:
            draft.where = walk.targets(place)
            draft.whole = False
        return c.drafts
    if amount is not None and not _things(new):
        if _amended(last, amount):
            return [*c.drafts, *[d for d in new if d.kind in ("temperature", "ph")]]
        return [*c.drafts, *new]
    if new and last[-1].kind == new[0].kind and last[-1].state == new[0].state:
        return [*[d for d in c.drafts if d is not last[-1]], *_inherit(last[-1], new)]
    if dropping:
        gone = {id(d) for d in last if d.clause is last[-1].clause}
        return [*[d for d in c.drafts if id(d) not in gone], *new]
    return [*c.drafts, *new]


def _inherit(old: Draft, new: list[Draft]) -> list[Draft]:
    """What replaces a record keeps the amount it does not say anew."""
    if new[0].amount is None and old.kind in ("feed", "bed", "amend"):
        new[0].amount = old.amount
    return new


def _is_verbish(c: Context, i: int) -> bool:
    return c.word(i) == "scratch" and c.word(i - 1) in ("to", "the", "a")


def _bare_mark_before(c: Context) -> bool:
    """Whether the clause before was nothing but "no wait" or "sorry"."""
    if c.index == 0:
        return False
    before = c.sketch.clauses[c.index - 1]
    marks = [m for m in c.sketch.within("mark", before.start, before.end) if m.value in ("replace", "drop")]
    return bool(marks) and before.end - marks[-1].end <= 1 and c.clause.start - before.end <= 1


def _last(c: Context) -> list[Draft]:
    """The drafts of the last few clauses, the newest last; none where talk came between."""
    clauses: list[Clause] = c.sketch.clauses
    floor = clauses[max(0, c.index - _REACH)].start
    if c.index and clauses[c.index - 1].because == "hypothetical":
        return []
    return [d for d in c.drafts if d.clause.start >= floor]


def _group(c: Context, last: list[Draft]) -> list[Draft]:
    """What a place corrected at the end moves: the last record, or all at its place where "all" is said."""
    if "all" in c.words[c.clause.start : c.clause.end] or "both" in c.words[c.clause.start : c.clause.end]:
        where = last[-1].where or last[-1].clause.where
        return [d for d in c.drafts if (d.where or d.clause.where) == where]
    return [d for d in last if d.clause is last[-1].clause]


def _things(new: list[Draft]) -> bool:
    return any(d.kind not in ("temperature", "ph", "water") for d in new)


def _amended(last: list[Draft], amount) -> bool:  # type: ignore[no-untyped-def]
    for draft in reversed(last):
        if draft.amount is None:
            continue
        degrees = draft.kind == "temperature"
        if degrees != (amount.unit in ("degree", "degF", "degC")) and amount.unit is not None:
            continue
        if amount.unit is None or amount.unit == draft.amount.unit or draft.amount.unit == "piece" or degrees:
            unit = amount.unit or draft.amount.unit
            unit = draft.amount.unit if unit == "degree" else unit
            draft.amount = Amount(amount.low, amount.best, amount.high, unit)
            return True
    draft = last[-1]
    if draft.amount is None and amount.unit:
        draft.amount = quantity(amount)
        return True
    return False


def _completed(c: Context, new: list[Draft]) -> list[Draft]:
    """ "the duckweed ... it was three cups": an amount alone completes the record just before; a second one
    ("eleven pounds ... call it eleven and a half") replaces it."""
    castings = (
        bool(c.items)
        and all(i.topic == "castings" for i in c.items)
        and bool(c.drafts)
        and c.drafts[-1].kind == "harvest"
    )
    if new or (c.items and not castings) or c.clause.stance != "done":
        return c.drafts
    spans = [a for a in c.amounts if not a.currency and a.start not in c.clause.used]
    last = [d for d in c.drafts if c.index and d.clause.start >= c.sketch.clauses[max(0, c.index - 2)].start]
    if not spans or not last:
        return c.drafts
    span, draft = spans[-1], last[-1]
    if draft.state == "ruled_out" or draft.kind not in (
        "feed",
        "bed",
        "drain",
        "harvest",
        "water",
        "amend",
        "worms_added",
        "worms_removed",
        "sell",
        "give",
        "prepare",
    ):
        return c.drafts
    measured = span.unit is not None and span.unit not in ("percent", "degree", "degF", "degC", "min")
    if draft.amount is None and measured:
        draft.amount = quantity(span)
    elif (
        draft.amount is not None
        and (span.unit in (None, draft.amount.unit))
        and "call" in c.words[max(0, span.start - 3) : span.end]
    ):
        draft.amount = Amount(span.low, span.best, span.high, draft.amount.unit)
    return c.drafts
