"""Creatures just seen, told of once more: none of them elsewhere, how many today, "just a cloud of em"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.near import verb_values
from assistant.reading.kinds.wormstates import few_or_some

_THEM = frozenset(("them", "em", "um", "'em"))
_SOME = 2.0
_THIS_TIME = frozenset(("today", "now", "tonight"))
_NOBODY_THERE = frozenset("in on here there today now to at that anywhere this yet".split())


def told_again(c: Context) -> Iterator[Draft]:
    """ "two fruit flies on the mirror | none in the bin", "30 on the card Monday | today 12"."""
    last = next(
        (d for d in reversed(c.drafts[-2:]) if d.kind == "sighting" and d.clause is not c.clause), None
    )
    if (
        c.items
        or last is None
        or last.item is None
        or last.clause not in c.sketch.clauses[max(0, c.index - 2) : c.index]
    ):
        return
    none = next((i for i in range(c.clause.start, c.clause.end) if _none_at(c, i)), None)
    if none is not None and last.level != 0 and _of_those(c, last):
        last.level, last.amount, last.end = 0.0, None, c.clause.end  # "of the mites | I saw not one"
        return
    if none is not None and last.level != 0 and not set(verb_values(c)) - {"see"}:
        yield Draft("sighting", none, c.clause.end, c.clause, item=last.item, level=0.0)
        return
    there = _there_too(c, last)
    if there is not None:
        yield there
        return
    span = next((a for a in c.unused() if a.unit in (None, "piece") and not a.currency), None)
    said = set(c.words[c.clause.start : c.clause.end])
    if span is None or c.here("verb") or not (c.clause.days or "now" in said) or not said & _THIS_TIME:
        return
    c.use(span)
    amount = quantity(span)
    level = few_or_some(amount) if amount else None
    yield Draft("sighting", span.start, span.end, c.clause, item=last.item, amount=amount, level=level)


def _there_too(c: Context, last: Draft) -> Draft | None:
    """ "springtails in both | a few in the tub | a ton in the stack": how many in one of the places."""
    told = next((m for m in c.here("abundance") if m.value), None)
    led = told is not None and c.vocabulary.role(c.word(told.end), "prep")
    if told is None or not led or c.here("verb") or not c.clause.places or last.level == 0:
        return None
    held = last.where or last.clause.where
    if set(c.clause.where) < set(held):
        last.where = tuple(t for t in held if t not in c.clause.where)
    elif set(c.clause.where) == set(held):
        last.level = told.value
        return None
    for span in c.amounts:
        c.use(span)
    return Draft("sighting", told.start, c.clause.end, c.clause, item=last.item, level=told.value)


def _of_those(c: Context, last: Draft) -> bool:
    """ "of the mites that troubled me | I saw not one": an "of" that belongs to no word for how many."""
    return any(
        c.words[k] == "of" and not c.sketch.covering("abundance", k) and not c.sketch.covering("amount", k)
        for k in range(last.clause.start, last.end - 1)
    )


def _none_at(c: Context, i: int) -> bool:
    """ "none", "not one", "not a single one", "don't see a one"."""
    if c.words[i] == "none":
        return c.word(i + 1) in _NOBODY_THERE or i + 1 >= c.clause.end
    if c.words[i : i + 2] in (["not", "one"], ["no", "trace"], ["no", "sign"]):
        return True
    denied = c.words[i] in ("not", "n't", "nary") and c.word(i + 1) != "all"
    return denied and "one" in c.words[i + 1 : i + 5] and "a" in c.words[i : i + 4]


def how_many_of_them(c: Context) -> None:
    """ "gnats!! | lots", "| just a cloud of em": says how many there are of those just seen."""
    if c.items or c.index == 0 or set(verb_values(c)) - {"see"}:
        return
    m = next((m for m in c.here("abundance") if (m.value or 0) >= 3), None)
    last = c.drafts[-1] if c.drafts else None
    floor = c.sketch.clauses[max(0, c.index - 2)].start
    if m is None or last is None or last.kind != "sighting" or last.clause.start < floor:
        return
    alone = m.start - c.clause.start <= 1 and c.clause.end - m.end <= 1
    if (alone or c.word(m.end) in _THEM) and last.level == _SOME and last.amount is None:
        last.level = m.value
