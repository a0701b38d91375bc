"""A plan dropped: "I was going to mist it but it's fine, so no" is a watering that was not done."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.drafting import DONE_WITH
from assistant.reading.kinds.governing import kind_of
from assistant.reading.sketch import Clause, Mention

_BACK = 3
"""How many clauses back the plan may stand."""
_SO_NO = (["so", "no"], ["so", "nope"])
_PLANNED = ("hypothetical", "planned")


def plan_dropped(c: Context) -> Iterator[Draft]:
    """What was meant to be done, ruled out by a clause like "so I didn't"."""
    if not c.marked("dropped") and c.words[c.clause.start : c.clause.end] not in _SO_NO:
        return
    for k in range(c.index, max(-1, c.index - _BACK - 1), -1):
        clause = c.sketch.clauses[k]
        for verb in reversed(c.sketch.within("verb", clause.start, clause.end)):
            if _meant(c, clause, verb) and (draft := _not_done(c, clause, verb)) is not None:
                yield draft
                return


def _meant(c: Context, clause: Clause, verb: Mention) -> bool:
    """ "was going to water": a mark of a plan leads straight to the verb."""
    marks = c.sketch.within("mark", clause.start, verb.start)
    return any(m.value in _PLANNED and verb.start - m.end <= 1 for m in marks)


def _not_done(c: Context, clause: Clause, verb: Mention) -> Draft | None:
    item = next((i for i in c.finder.of(clause, [], False) if i.start >= verb.end), None)
    kind = kind_of(c, verb.value, item)[0] if item else c.vocabulary.kind(verb.value, "nothing")
    if kind is None:
        return None
    where = c.sketch.walk.within(clause.places[0], c.clause) if clause.places else None
    name = item.name if item and kind != "water" else DONE_WITH.get(kind)
    return Draft(kind, verb.start, item.end if item else verb.end, clause, "ruled_out", name, where=where)
