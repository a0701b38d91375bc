"""Food told of by the day it went in: "the comfrey I put in on Monday has vanished" (contract 5.6)."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.figures import amount_for
from assistant.reading.kinds.governing import kind_of
from assistant.reading.sketch import inside


def put_in_earlier(c: Context) -> Iterator[Draft]:
    """What a relative clause with a day says was put in; without one it only tells which food is meant."""
    for relative in c.here("relative"):
        days = inside(c.clause.days, relative.start, relative.end)
        item = next((i for i in reversed(c.items) if i.end <= relative.start), None)
        past = next((d.past[0] for d in days if d.past and not d.recurring), None)
        if item is None or past is None:
            continue
        kind, _ = kind_of(c, relative.value, item)
        if kind in ("feed", "bed"):
            amount = amount_for(kind, item.amount, item.share)
            yield Draft(
                kind,
                item.start,
                relative.end,
                c.clause,
                item=item.name,
                amount=amount,
                day=past.isoformat(),
                dated=True,
                doubts=item.doubts,
            )
            item.amount = None  # what is left of it is told without
