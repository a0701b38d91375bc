"""Signs that a record may be misread, found once all records of a note are there; each goes into `unsure`.

Of the records of sets a to e (1,835, of which 0.76 are wholly right) those that such a sign marks are right
0.48 of the time, the rest 0.80.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from assistant.reading.draft import Draft
from assistant.reading.placed import UNTIERED
from assistant.reading.sketch import Sketch
from assistant.records import Record

NO_TIER = "which tier is not said"
TWICE = "the note tells much the same once more"
AFTER_TALK = "talk of others, or of what is always so, stands just before it"
MANY_VERBS = "several things are done in one breath"
MANY_DAYS = "two days are named with it"

_TALK = frozenset(("other", "teaching"))
_VERBS = 3


class Doubts:
    """Looks at every record of one note beside the others."""

    def __init__(self, sketch: Sketch, told: Sequence[tuple[Draft, Record]]) -> None:
        self.s, self.told = sketch, told
        self.stacks = {b.name for b in sketch.setup if b.tiers > 1}
        self.tiers_named = any(p.tiers or p.step for p in sketch.places)
        self.said = Counter(_said(record) for _, record in told)
        self.before = {id(clause): last for last, clause in pairwise(sketch.clauses)}

    def records(self) -> Iterator[Record]:
        """The records, each with what is doubtful about it."""
        for draft, record in self.told:
            doubts = tuple(dict.fromkeys((*record.unsure, *self._about(draft, record))))
            yield replace(record, unsure=doubts) if doubts != record.unsure else record

    def _about(self, draft: Draft, record: Record) -> Iterator[str]:
        if self._tier_missing(record):
            yield NO_TIER
        if self.said[_said(record)] > 1:
            yield TWICE
        clause = draft.clause
        before = self.before.get(id(clause))
        if before is not None and before.because in _TALK:
            yield AFTER_TALK
        if len(self.s.within("verb", clause.start, clause.end)) >= _VERBS:
            yield MANY_VERBS
        if len(clause.days) > 1:
            yield MANY_DAYS

    def _tier_missing(self, record: Record) -> bool:
        """Whether the note tells of tiers, and this record of a stack is of none."""
        if not self.tiers_named or record.bin not in self.stacks or record.tier is not None:
            return False
        return record.kind not in UNTIERED and record.item != "air"


def _said(record: Record) -> tuple[object, ...]:
    return record.kind, record.state, record.item, record.bin, record.tier, record.when
