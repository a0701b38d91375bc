"""What was done in one place, done again in another: "same in the other one"."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.before import lately

_SAME = (
    ["the", "same"],
    ["same", "again"],
    ["same", "for"],
    ["same", "in"],
    ["same", "thing"],
    ["same", "with"],
)
_AGAIN = frozenset("feed bed amend water treat turn".split())
_NOT_AGAIN = frozenset("day time way as".split())
_REACH = 8  # clauses


def same_again(c: Context) -> Iterator[Draft]:
    """The drafts of the last place where something was put in, once more in the place named here."""
    at = next((i for i in range(c.clause.start, c.clause.end) if c.words[i : i + 2] in _SAME), None)
    if at is None or not c.clause.places or c.free() or _NOT_AGAIN & set(c.words[at + 1 : at + 4]):
        return
    put = [d for d in c.drafts if d.kind in _AGAIN and d.state == "done" and lately(c, d, _REACH)]
    there = (put[-1].where or put[-1].clause.where) if put else None
    if there is None or there == c.clause.where:
        return
    for draft in put:
        if (draft.where or draft.clause.where) == there:
            yield replace(
                draft, start=at, end=at + 2, clause=c.clause, where=None, state="done", doubts=draft.doubts
            )
