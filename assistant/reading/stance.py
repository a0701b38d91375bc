"""Whether a clause tells of something done, planned or expected, or is talk (contract 5.3, 5.5)."""

from __future__ import annotations

from assistant.reading.days import DaySpan
from assistant.reading.sameday import same_day
from assistant.reading.sketch import Clause, Mention, Sketch, inside
from assistant.reading.subject import Subject
from assistant.reading.talk import Talk
from assistant.reading.verbforms import past
from assistant.reading.vocabulary import Vocabulary

_LINKING = frozenset(("and", "or", "then", "&", "+", ","))
_OPENING = frozenset(("and", "but", "so", ","))
_SUBJECT_TOO = frozenset("it there that this no not".split())
_DESCRIBING = frozenset(("of", "from", "since", "as", "than"))
_NOT_LATER_ALONE = frozenset(("next", "soon", "later"))
_ON = frozenset(("on", "after", "before", "by", "of"))
_US = frozenset(("i", "we"))
_NO_ACTS = frozenset(("eat", "have", "get", "see"))
_TO_BE = frozenset(("get", "gets", "be"))
_LETTING = frozenset(("let", "let's", "lemme"))
_WE = frozenset(("i", "we"))
_BEING = (["be"], ["look"], ["smell"], ["need"])
_NEAR = 6  # words from a verb to its day
_PRESENT = frozenset("gets get goes go comes come".split())
_NEEDED = ("amount", "thing", "light")
_OTHERS_HOLD = 4
_EVENING = 17
"""The hour from which "tonight" may tell of what is done already."""


class Stances:
    """Gives every clause of one note its stance, in order; what went before may carry on."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.s, self.words = vocabulary, sketch, sketch.words
        self.talk, self.subject = Talk(vocabulary, sketch), Subject(vocabulary, sketch)
        self.others = 0
        """Clauses for which somebody else, just named, may still be the subject of "he" and "they"."""

    def settle(self) -> None:
        """Set `stance` (done, planned, expected, talk) and `because` of all clauses."""
        before: Clause | None = None
        for clause in self.s.clauses:
            clause.days = inside(self.s.days, clause.start, clause.end)
            clause.beside = frozenset(d.start for d in clause.days if self._describes(d))
            clause.stance, clause.because = self._of(clause, before)
            if clause.stance == "done" and not clause.days:
                clause.days = same_day(self.s, self.v, clause, before)
            self.others = _OTHERS_HOLD if clause.because in ("other", "teaching") else self.others - 1
            before = clause

    def _describes(self, day: DaySpan) -> bool:
        """ "Thursday's eggplant", "the tops we gave them last week": a day that only describes a thing."""
        lead = {self.words[day.start], self.words[day.start - 1] if day.start else ""}
        if self.s.covering("relative", day.start) is not None:
            return True
        return day.since or self.words[day.end : day.end + 1] == ["'s"] or bool(lead & _DESCRIBING)

    def _of(self, clause: Clause, before: Clause | None) -> tuple[str, str]:
        marks = self.s.within("mark", clause.start, clause.end)
        values = [m.value for m in marks]
        first = self._first(clause)
        why = self.talk.why(clause, before, first, self.others) or self._elsewhere(clause)
        if why:
            return "talk", why
        wanted = "planned" in values and values[0] != "expected"
        if not wanted and self._foreseen(marks):
            return "expected", "foreseen"
        if "expected" in values and not wanted:
            return "expected", "expected"
        if self._by_then(clause) or self._to_be_seen(clause, marks):
            return "expected", "by then"
        if "planned" in values or self._needs(clause, first):
            return "planned", "planned"
        if self._in_that_time(clause, before, marks):
            return "planned", "later"
        carried = self._carried(clause, before, first)
        if carried:
            return carried
        later = self._later(clause, marks) and not self._is_so(clause, marks)
        return ("planned", "later") if later else ("done", "")

    def _elsewhere(self, clause: Clause) -> str:
        """Why a clause is talk where nothing around it is of a worm bin; what mends a note always is."""
        mending = self.s.mending is not None and clause.start >= self.s.mending
        return "" if mending or self.subject.about_a_bin(clause) else "elsewhere"

    def _to_be_seen(self, clause: Clause, marks: list[Mention]) -> bool:
        """ "I reckon | they'll have finished the squash by Thursday": a future of what is seen, not done."""
        future = next((m for m in marks if m.value == "future"), None)
        if future is None or self.words[future.start - 1] in _US or future.start < clause.start:
            return False
        acts = {v.value for v in self.s.within("verb", future.end, clause.end)}
        seen = any(self.s.within(layer, future.end, clause.end) for layer in ("leftover", "progress"))
        return seen and acts <= _NO_ACTS

    def _in_that_time(self, clause: Clause, before: Clause | None, marks: list[Mention]) -> bool:
        """ "almost there, two more weeks | and I'll pull it": the time just named is when that is due."""
        if before is None or clause.days or not before.days or self.words[clause.start] not in _LINKING:
            return False
        due = before.days[-1]
        if due.past is not None or not due.coming or clause.start - due.end > 1:
            return False
        if any(m.value == "future" for m in marks):
            clause.days = [due]
            return True
        return False

    def _is_so(self, clause: Clause, marks: list[Mention]) -> bool:
        """ "that's almost there, maybe two more weeks": what is so now, however long it takes yet."""
        if any(m.value in ("future", "later") for m in marks) or not clause.days:
            return False
        readings = (m for x in ("progress", "moisture") for m in self.s.within(x, clause.start, clause.end))
        return any(
            self.v.role(self.words[m.start - 1], "copula") and m.end <= clause.days[0].start
            for m in readings
            if m.start > clause.start
        )

    def _by_then(self, clause: Clause) -> bool:
        """ "peas gone by Sunday I reckon", "ready by xmas": what is seen is said of a day to come."""
        today = self.s.now.date()
        for day in clause.days:
            by = "by" in (self.words[day.start], self.words[day.start - 1] if day.start else "")
            if by and day.coming and day.coming[0] > today:
                told = (self.s.within(layer, clause.start, day.start) for layer in ("leftover", "progress"))
                return any(told) and not self.s.within("verb", clause.start, day.start)
        return False

    def _needs(self, clause: Clause, first: int) -> bool:
        """ "need 2 bricks coir", "all three need a drink", "the tub needs leaves"."""
        i = first
        while i < clause.end - 1 and (self._leads(i) or self.s.covering("place", i) is not None):
            i += 1
        named = (self.s.starting(layer, k) for layer in _NEEDED for k in (i + 1, i + 2))
        return self.words[i] in ("need", "needs") and any(named)

    def _leads(self, i: int) -> bool:
        return self.v.role(self.words[i], "subject", "adverb", "det", "pronoun")

    def _foreseen(self, marks: list[Mention]) -> bool:
        """ "it's going to be ready", "there will be gnats": what will be so, and not what I will do."""
        for m in marks:
            if m.value != "future" or self.words[m.start] in _LETTING:
                continue
            subject = {self.words[i] for i in (m.start - 1, m.start - 2) if i >= 0}
            after = m.end + (self.v.role(self.words[min(m.end, len(self.words) - 1)], "adverb"))
            if not subject & _WE and self.words[after : after + 1] in _BEING:
                return True
        return False

    def _first(self, clause: Clause) -> int:
        """The first word that is not an opener, a filler or a conjunction."""
        i = clause.start
        while i < clause.end - 1 and self._opener(self.words[i]):
            i += 1
        return i

    def _opener(self, word: str) -> bool:
        return word in _OPENING or self.v.role(word, "opener", "filler")

    def _carried(self, clause: Clause, before: Clause | None, first: int) -> tuple[str, str] | None:
        """What "and add grit" takes over from "I need to harvest"."""
        if before is None or before.stance == "done" or before.because in ("subordinate", "question"):
            return None
        if self.words[clause.start] not in _LINKING or before.end < clause.start - 1:
            return None
        word = self.words[first]
        subject = self.v.role(word, "subject", "you") or word in _SUBJECT_TOO
        if subject or not self._verb(before, first) or self.s.covering("place", first) is not None:
            return None
        if before.stance == "planned" and past(self.v, word):
            return None
        return before.stance, before.because

    def _verb(self, before: Clause, i: int) -> bool:
        """Whether a verb stands at `i` that may carry on what went before."""
        bare = before.stance == "talk" and self.words[i] in self.v.bases
        return bare or self.s.starting("verb", i) is not None

    def _later(self, clause: Clause, marks: list[Mention]) -> bool:
        """Whether the clause looks to a later time: a future with a day to come, or a bare form with one."""
        verbs = self.s.within("verb", clause.start, clause.end)
        future = any(m.value == "future" for m in marks)
        if any(m.value == "tonight" for m in marks) and self.s.now.hour < _EVENING:
            return future or not any(self._past(m) for m in verbs)
        today = self.s.now.date()
        dated = [d for d in clause.days if self.s.covering("relative", d.start) is None]
        coming = [d for d in dated if d.coming and d.coming[0] > today]
        later = [m for m in marks if m.value == "later"]
        if future:
            return bool(coming or later)
        only = any(d.past is None or d.past[0] >= today for d in coming)
        if only or any(self.words[m.start] not in _NOT_LATER_ALONE for m in later):
            return not any(self._past(m) and not self._bare(m) for m in verbs)
        return bool(coming and verbs) and (all(self._ordered(m) for m in verbs) or self._scheduled(verbs))

    def _scheduled(self, verbs: list[Mention]) -> bool:
        """ "the bottom tray gets harvested on the 20th": a present form, with a day to come."""
        rest = all(past(self.v, self.words[m.start]) and m.start == verbs[0].end for m in verbs[1:])
        first = self.words[verbs[0].start]
        told = first in self.v.bases and not past(self.v, first) and self.words[verbs[0].start - 1] in _WE
        return rest and (first in _PRESENT or (told and self._day_behind(verbs[-1])))

    def _day_behind(self, verb: Mention) -> bool:
        """ "I take it out on Sunday": the day stands behind the verb."""
        return any(verb.end <= d.start <= verb.end + _NEAR for d in self.s.days)

    def _ordered(self, verb: Mention) -> bool:
        """ "feed them Friday", "feeding Friday": a verb with no subject that is no past."""
        form = self._bare(verb) or self.words[verb.start].endswith("ing")
        i = verb.start - 1
        while i > 0 and self.v.role(self.words[i], "adverb"):
            i -= 1
        before = self.words[i] if verb.start else ""
        return form and before not in _ON and not self.v.role(before, "subject")

    def _past(self, verb: Mention) -> bool:
        """Whether a verb tells what happened; "get checked again" is still to happen."""
        passive = verb.start > 0 and self.words[verb.start - 1] in _TO_BE
        return past(self.v, self.words[verb.start]) and not passive

    def _bare(self, verb: Mention) -> bool:
        """Whether a verb's form is the bare one, as in an order or after "to"."""
        return self.words[verb.start] in self.v.bases
