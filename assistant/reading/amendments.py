"""A correction said after the note: "no, three handfuls", "that was the middle tray", "kale, not lettuce".

It is read as the end of the note it mends, and may reach back to any of its records.
"""

from __future__ import annotations

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft, Target, quantity
from assistant.reading.sketch import Item
from assistant.reading.where import Walk
from assistant.records import Amount

_DENIALS = frozenset(("not", "n't", "nope"))


def amended(c: Context, walk: Walk) -> list[Draft]:
    """The note's drafts as the correcting clause leaves them."""
    if any(m.value == "drop" for m in c.here("mark")) and not (c.clause.places or c.amounts or c.items):
        return []
    denied, meant = _sides(c)
    if denied and meant:
        _rename(c, denied[0], meant[0])
    elif c.amounts:
        _measure(c)
    elif c.clause.places and c.drafts:
        _move(c.drafts, walk.targets(c.clause.places[0]))
    return c.drafts


def _move(drafts: list[Draft], meant: tuple[Target, ...]) -> None:
    """Put the last drafts of one place where they were meant to be; what stands there already stays."""
    places = [draft.where or draft.clause.where for draft in drafts]
    wrong = next((place for place in reversed(places) if place != meant), None)
    for draft, place in zip(drafts, places, strict=True):
        if place == wrong:
            draft.where, draft.whole = meant, False


def _sides(c: Context) -> tuple[list[Item], list[Item]]:
    """The things that are taken back ("not lettuce") and those that are meant."""
    denied = [i for i in c.items if c.word(i.start - 1) in _DENIALS or c.word(i.start - 2) in _DENIALS]
    return denied, [i for i in c.items if i not in denied]


def _rename(c: Context, old: Item, new: Item) -> None:
    for draft in c.drafts:
        if draft.item == old.name:
            draft.item = new.name
            if new.amount is not None:
                draft.amount = quantity(new.amount)


def _measure(c: Context) -> None:
    """Give the amount to the record it is of: by thing, by the figure taken back, else last of its unit."""
    wrong = [a for a in c.amounts if c.word(a.start - 1) in _DENIALS]
    right = next((a for a in c.amounts if a not in wrong), None)
    if right is None:
        return
    named = {i.name for i in c.items}
    fits = [d for d in c.drafts if d.amount is not None and _fits(d.amount, right)]
    chosen = (
        [d for d in fits if d.item in named]
        or [d for d in fits if wrong and d.amount and d.amount.best == wrong[0].best]
        or [d for d in fits if d.amount and d.amount.unit == right.unit]
        or fits
    )
    if not chosen:
        return
    draft = chosen[-1]
    unit = right.unit or (draft.amount.unit if draft.amount else "piece")
    draft.amount = Amount(right.low, right.best, right.high, unit)


def _fits(amount: Amount, span: AmountSpan) -> bool:
    degrees = ("degF", "degC", "degree")
    if span.unit is None or span.unit == amount.unit:
        return True
    return (amount.unit in degrees) == (span.unit in degrees) and amount.unit not in ("percent", "pH")
