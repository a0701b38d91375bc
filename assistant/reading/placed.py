"""The records of a draft: one for each place, with its day and what is unsure about it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from assistant.reading.draft import Draft, Target
from assistant.reading.recordday import Found, day_for
from assistant.reading.sketch import Place, Sketch, inside
from assistant.reading.where import whole as of_the_whole
from assistant.records import Amount, Record

UNPLACED = frozenset(("buy", "sell", "give", "prepare"))
"""Kinds that belong to a bin only where one is named."""

UNTIERED = UNPLACED | {"drain"}
"""Kinds that belong to a tier only where one is named."""

_SEEN = ("moisture", "smell", "progress", "ph")
_IS = frozenset("is are 's feels feel looks smells seems".split())
_WAS = frozenset("was were had felt smelled looked seemed smelt".split())
_TOLD = 3
"""Words before a reading in which its verb stands."""
_LOST = "which bin is not said"
_BEYOND = "the figure is too large to be an amount: left out"
_BELOW = "an amount below nothing: left out"


def placed(sketch: Sketch, draft: Draft) -> Iterator[Record]:
    """The records of a draft, one for each of its places."""
    when, day_doubts = _day(sketch, draft)
    amount, figure_doubts = _amount(sketch, draft)
    text, start, end = sketch.raw(draft.start, draft.end)
    heard = tuple(h for i, h in sketch.mends.items() if draft.start <= i < draft.end)
    doubts = (*draft.doubts, *draft.clause.doubts, *day_doubts, *heard, *figure_doubts)
    several = len(sketch.setup) > 1 and draft.kind not in UNPLACED and draft.item != "air"
    for bin_, tier in dict.fromkeys(_targets(sketch, draft)):
        lost = (_LOST,) if bin_ is None and several else ()
        yield Record(
            draft.kind,
            draft.state,
            bin_,
            tier,
            draft.to_tier,
            draft.spot,
            draft.item,
            amount,
            draft.level,
            draft.price,
            when,
            text,
            start,
            end,
            tuple(dict.fromkeys((*doubts, *lost))),
        )


def _targets(sketch: Sketch, draft: Draft) -> tuple[Target, ...]:
    """The bins and tiers that a draft speaks of."""
    clause = draft.clause
    targets: tuple[Target, ...] = draft.where or _beside(sketch, draft) or clause.where
    named = bool(clause.places) or draft.where is not None
    several = len(sketch.setup) > 1
    air = draft.kind == "temperature" and draft.item == "air"
    if draft.kind in UNPLACED or air:
        nowhere = several and (draft.kind == "temperature" or not any(p.bin for p in clause.places))
        return ((None, None),) if nowhere else ((targets[0][0], None),)
    tierless = (draft.kind in UNTIERED or draft.whole) and not named
    entire = draft.kind != "harvest" and of_the_whole(sketch.words, clause)
    return ((targets[0][0], None),) if tierless or entire else targets


_FIGURED = frozenset(("temperature", "ph", "moisture"))


def _beside(sketch: Sketch, draft: Draft) -> tuple[Target, ...] | None:
    """Of several places in a clause, the one beside what is told: "84 in the top, 78 in the third"."""
    places = [
        p for p in draft.clause.places if not p.spread and p.after not in ("from", "off", "out", "except")
    ]
    if len(places) < 2 or draft.whole:
        return None
    behind = next(
        (p for p in places if 0 <= p.start - draft.end <= 3 and p.after not in ("", "object")), None
    )
    behind = behind or _figure_first(draft, places)
    within = [p for p in places if draft.start <= p.start and p.end <= draft.end]
    if behind is None and len(within) == 1:
        return sketch.walk.within(within[0], draft.clause)  # type: ignore[no-any-return]
    before = [p for p in places if p.end <= draft.start]
    chosen = behind or (before[-1] if before else None)
    if chosen is None or (
        chosen.bin and not chosen.tiers and len({p.bin for p in places}) > 1 and behind is None
    ):
        return None
    found: tuple[Target, ...] = sketch.walk.within(chosen, draft.clause)
    named = {p.bin for p in places if p.bin}
    return found if chosen.bin or not named or found[0][0] in named else None


def _figure_first(draft: Draft, places: list[Place]) -> Place | None:
    """ "stack 86 top 83 bottom": where the row ends with a tier, each tier stands behind its figure."""
    ended = places[-1].tiers and places[-1].end == draft.clause.end
    if draft.kind not in _FIGURED or not ended:
        return None
    return next((p for p in places if p.start == draft.end and p.tiers), None)


def _day(sketch: Sketch, draft: Draft) -> Found:
    """The day of a draft, and what is unsure about it."""
    clause, today = draft.clause, sketch.now.date()
    found: Found = (draft.day, ()) if draft.dated else day_for(clause, draft.state, today, sketch.words)
    opens = bool(clause.days) and clause.days[0].start <= clause.start + 1
    if draft.state == "done" and not draft.dated and not opens and _of_now(sketch, draft):
        return today.isoformat(), found[1]
    return found


def _of_now(sketch: Sketch, draft: Draft) -> bool:
    """ "the melon from Friday is gone", "I moved it Sunday and it's damp": what is seen is seen today."""
    if draft.kind == "leftover":
        return True
    told = sketch.words[max(draft.clause.start, draft.start - _TOLD) : draft.end]
    return draft.kind in _SEEN and bool(_IS & set(told)) and not _WAS & set(told)


def _amount(sketch: Sketch, draft: Draft) -> tuple[Amount | None, tuple[str, ...]]:
    """The amount of a draft and what is unsure about it; none where nothing can have it."""
    amount = draft.amount
    if amount is not None and math.isinf(amount.best):
        return None, (_BEYOND,)
    if amount is not None and amount.low < 0 and draft.kind != "temperature":
        return None, (_BELOW,)
    spans = inside(sketch.amounts, draft.start, draft.end) if amount is not None else ()
    return amount, tuple(doubt for span in spans for doubt in span.unsure)
