"""Habits, rates and totals: what is so again and again, or sums up what was told, is no act of one day."""

from __future__ import annotations

from assistant.reading.sketch import Clause, Sketch, inside
from assistant.reading.verbforms import past
from assistant.reading.vocabulary import Vocabulary

_A = frozenset(("a", "an", "per", "each", "every"))
_GRAINS = frozenset("day night week weekend fortnight month year feeding".split())
_SPANS = frozenset("in within for after about over than take takes took give another half last".split())
_AGO = frozenset("ago later old back from before after early late or and apart since".split())
_NEVER = frozenset(("never", "always"))
_POINTERS = frozenset(("that", "it", "this", "they", "which"))
_USED = ("used", "to")


class Habits:
    """Tells for the clauses of one note whether they speak of no day of their own."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.s, self.words = vocabulary, sketch, sketch.words

    def told(self, clause: Clause, first: int) -> bool:
        """Whether a clause tells a habit, a rate or a total; `first`: its first word that says something."""
        return (
            self._total(clause)
            or self._used_to(clause, first)
            or self._never(clause)
            or self._recurs(clause)
            or self._rate(clause)
        )

    def _total(self, clause: Clause) -> bool:
        """ "that makes five pounds this month", "nine pounds all told"."""
        marks = {m.value for m in self.s.within("mark", clause.start, clause.end)}
        if "summing" in marks:
            return True
        verbs = self.s.within("verb", clause.start, clause.end)
        return "total" in marks and self._pointed(clause) and all(m.value == "have" for m in verbs)

    def _pointed(self, clause: Clause) -> bool:
        """ "that's five pounds", "it has had nine": of what was told before."""
        return not _POINTERS.isdisjoint(self.words[clause.start : clause.start + 3])

    def _used_to(self, clause: Clause, first: int) -> bool:
        """ "I used to put newspaper on top"."""
        return self.v.role(self.words[first], "subject") and self._words(first + 1, clause) == _USED

    def _words(self, i: int, clause: Clause) -> tuple[str, ...]:
        return tuple(self.words[i : min(i + 2, clause.end)])

    def _never(self, clause: Clause) -> bool:
        """ "I never put onions in": never, and a verb that is not plainly past."""
        for i in range(clause.start, clause.end - 1):
            verb = self.s.starting("verb", i + 1) if self.words[i] in _NEVER else None
            if verb is not None and self.words[i + 1] in self.v.bases:
                return True
        return False

    def _recurs(self, clause: Clause) -> bool:
        """ "they get a jug every Tuesday", "we water Mondays": no verb tells that it was done."""
        if not any(d.recurring for d in clause.days) or not all(d.recurring for d in clause.days):
            return False
        verbs = self.s.within("verb", clause.start, clause.end)
        planned = any(m.value == "planned" for m in self.s.within("mark", clause.start, clause.end))
        return bool(verbs) and not planned and not any(past(self.v, self.words[m.start]) for m in verbs)

    def _rate(self, clause: Clause) -> bool:
        """ "about two pounds a week", "a cup per feeding"; "a week ago" and "in a week" are days."""
        for i in range(clause.start + 1, clause.end - 1):
            if self.words[i] in _A and self.words[i + 1] in _GRAINS and self._of_an_amount(clause, i):
                return True
        return False

    def _of_an_amount(self, clause: Clause, i: int) -> bool:
        after = self.words[i + 2] if i + 2 < clause.end else ""
        told = bool(inside(self.s.amounts, max(clause.start, i - 6), i))
        return told and self.words[i - 1] not in _SPANS and after not in _AGO
