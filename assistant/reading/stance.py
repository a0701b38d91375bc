"""Whether a clause tells of something done, planned, expected, or is talk that records nothing (contract 5.3, 5.5)."""

from __future__ import annotations

from datetime import date

from assistant.reading.clauses import SUBORDINATE
from assistant.reading.days import DaySpan
from assistant.reading.sketch import Clause, Mention, Sketch, inside
from assistant.reading.vocabulary import Vocabulary

_ASKING = frozenset(
    "why how what where who does do did can could should is are has have will would am".split()
)
_SENSING = frozenset(("see", "smell", "tell", "hear", "notice"))
_LINKING = frozenset(("and", "or", "then", "&", "+", ","))
_SOFTENING = frozenset("say guess think call reckon expect bet give like love estimate".split())


class Stances:
    """Gives every clause of one note its stance, in order; what went before may carry on."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.s, self.words = vocabulary, sketch, sketch.words
        self.before: Clause | None = None
        self.other = 0
        """Clauses for which somebody else, just named, may still be the subject of "he" and "they"."""

    def settle(self) -> None:
        """Set `stance` (done, planned, expected, talk) and `because` of all clauses."""
        before: Clause | None = None
        for clause in self.s.clauses:
            clause.days = inside(self.s.days, clause.start, clause.end)
            clause.beside = frozenset(d.start for d in clause.days if self._describes(d))
            self.before = before
            clause.stance, clause.because = self._of(clause, before)
            self.other = 4 if clause.because in ("other", "teaching") else self.other - 1
            before = clause

    def _describes(self, day: DaySpan) -> bool:
        """ "Thursday's eggplant", "the tops of last week", "from Monday": a day that only describes a thing."""
        before = self.words[day.start - 1] if day.start else ""
        after = self.words[day.end] if day.end < len(self.words) else ""
        first = self.words[day.start]
        return (
            after == "'s"
            or before in ("of", "from", "since")
            or first in ("of", "from", "since")
            or day.since
        )

    def _of(self, clause: Clause, before: Clause | None) -> tuple[str, str]:
        words = self.words[clause.start : clause.end]
        marks = self.s.within("mark", clause.start, clause.end)
        first = self._first(clause)
        talk = self._talk(clause, words, marks, first)
        if talk:
            return "talk", talk
        if any(m.value == "expected" for m in marks) and not self._wants(marks):
            return "expected", "expected"
        if any(m.value == "planned" for m in marks) or self._needs(clause):
            return "planned", "planned"
        carried = self._carried(clause, before, first)
        if carried:
            return carried
        if self._later(clause, marks):
            return "planned", "later"
        return "done", ""

    def _needs(self, clause: Clause) -> bool:
        """ "need 2 bricks coir"."""
        i = self._first(clause)
        i += self.v.role(self.words[i], "subject") and i + 1 < clause.end
        return self.words[i] == "need" and self.s.starting("amount", i + 1) is not None

    def _wants(self, marks: list[Mention]) -> bool:
        return any(m.value == "planned" for m in marks) and not any(m.value == "expected" for m in marks[:1])

    def _first(self, clause: Clause) -> int:
        """The first word that is not an opener, a filler or a conjunction."""
        i = clause.start
        while i < clause.end - 1 and (
            self.v.role(self.words[i], "opener", "filler") or self.words[i] in ("and", "but", "so", ",")
        ):
            i += 1
        return i

    def _talk(self, clause: Clause, words: list[str], marks: list[Mention], first: int) -> str:
        word, after = self.words[first], self.words[first + 1] if first + 1 < clause.end else ""
        if clause.start and self.words[clause.start - 1] == "where":
            return "subordinate"
        if word in SUBORDINATE and not (
            word in ("before", "after", "till", "until") and after in ("", "that")
        ):
            return "subordinate"
        if word in _ASKING and (
            self.v.role(after, "subject", "you")
            or after in ("it", "they", "that", "this", "there", "anyone", "anybody")
        ):
            return "question"
        if self._asked(clause) or any(m.value == "question" for m in marks):
            return "question"
        if (
            any(m.value == "hypothetical" for m in marks)
            or self._would(clause)
            or self._conditional(clause, marks)
        ):
            return "hypothetical"
        if any(m.value == "other" and m.start - first <= 1 for m in marks):
            return "" if self._helper(clause, marks) else "other"
        if self.v.role(word, "you") or word in ("your", "yours", "you're"):
            return "" if _SENSING & set(words[:5]) else "teaching"
        if any(
            m.value == "teaching"
            and self.words[m.start] not in ("you", "your", "yours", "you're")
            and self._rules(clause, m)
            for m in marks
        ):
            return "teaching"
        if any(m.value == "people" and m.start == first for m in marks) and not self._did(clause):
            return "teaching"
        if word in ("he", "she") and self.other > 1:
            return "other"
        if word == "they" and self.other > 2:
            return "teaching"
        return ""

    def _conditional(self, clause: Clause, marks: list[Mention]) -> bool:
        """ "If it's still wet | I'll give it the leaves": what hangs on a condition is not yet decided."""
        before = self.before
        on_condition = (
            before is not None
            and before.because in ("subordinate", "hypothetical")
            and self.words[before.start] in ("if", "unless")
        )
        return on_condition and any(m.value == "future" for m in marks)

    def _would(self, clause: Clause) -> bool:
        """ "I'd add coir": would, not had; "I'd say" and the like only soften what is said."""
        for i in range(clause.start, clause.end - 1):
            if self.words[i] != "'d":
                continue
            j = i + 1
            while j < clause.end - 1 and self.v.role(self.words[j], "adverb"):
                j += 1
            if self.words[j] in _SOFTENING:
                return False
            return (self.base(j) or self.words[j] == "be") and self.words[j] not in _PASTS
        return False

    def _asked(self, clause: Clause) -> bool:
        return clause.end < len(self.words) and self.words[clause.end] == "?" and not self._reading(clause)

    def _reading(self, clause: Clause) -> bool:
        return clause.end - clause.start <= 4 and bool(self.s.within("moisture", clause.start, clause.end))

    def _rules(self, clause: Clause, mark: Mention) -> bool:
        """Whether a word like "always" or "they like" governs the clause: it stands early, and nothing is told with a figure."""
        amounts = bool(inside(self.s.amounts, clause.start, clause.end))
        return mark.start - clause.start <= 4 or not amounts

    def _did(self, clause: Clause) -> bool:
        """ "Everyone had one squirt": people who did something here, once."""
        return any(
            w in ("had", "did", "got", "gave", "fed", "put") for w in self.words[clause.start : clause.end]
        )

    def _helper(self, clause: Clause, marks: list[Mention]) -> bool:
        """ "My neighbour fed them Tuesday": somebody else did it, to our bin."""
        verbs = self.s.within("verb", clause.start, clause.end)
        fed = any(
            m.value in ("feed", "water", "add") and not self.words[m.start].endswith(("s", "ing"))
            for m in verbs
        )
        ours = bool({"them", "it", "mine", "ours"} & set(self.words[clause.start : clause.end]))
        return fed and ours

    def _carried(self, clause: Clause, before: Clause | None, first: int) -> tuple[str, str] | None:
        """What "and add grit" takes over from "I need to harvest"."""
        if before is None or before.stance == "done":
            return None
        joined = self.words[clause.start] in _LINKING and before.end >= clause.start - 1
        subject = self.v.role(self.words[first], "subject", "you") or self.words[first] in (
            "it",
            "there",
            "that",
            "this",
            "no",
            "not",
        )
        verb = (
            self.s.starting("verb", first) is not None
            or (before.stance == "talk"
            and self.words[first] in self.bases)
        )
        if not joined or subject or not verb or self.s.covering("place", first) is not None:
            return None
        if before.because in ("subordinate", "question"):
            return None
        if before.stance == "planned" and self.past(first):
            return None
        return before.stance, before.because

    def _later(self, clause: Clause, marks: list[Mention]) -> bool:
        """Whether the clause looks to a later time: a future with a day to come, or a bare form with one."""
        future = any(m.value == "future" for m in marks)
        today = self.s.now.date()
        evening = self.s.now.hour >= 17
        if any(m.value == "tonight" for m in marks) and not evening:
            return future or not any(
                self.past(m.start) for m in self.s.within("verb", clause.start, clause.end)
            )
        coming = [d for d in clause.days if d.coming and d.coming[0] > today]
        if future:
            return bool(coming) or any(m.value == "later" for m in marks)
        only = [d for d in coming if d.past is None or d.past[0] >= today]
        verbs = self.s.within("verb", clause.start, clause.end)
        if only or any(
            m.value == "later" and self.words[m.start] not in ("next", "soon", "later") for m in marks
        ):
            return not any(self.past(m.start) and not self.base(m.start) for m in verbs)
        bare = [m for m in verbs if self.base(m.start) or self.words[m.start].endswith("ing")]
        return (
            bool(coming)
            and bool(verbs)
            and len(bare) == len(verbs)
            and all(not self.v.role(self.words[m.start - 1] if m.start else "", "subject") for m in verbs)
        )

    def past(self, i: int) -> bool:
        """Whether a verb's form is (or may be) the past."""
        word = self.words[i]
        return (
            (word.endswith(("ed", "t", "w", "ve", "ew", "ook", "ought", "un", "ung", "ut", "ip"))
            and not self.base(i))
            or word in _PASTS
        )

    def base(self, i: int) -> bool:
        """Whether a verb's form is the bare one, as in an order or after "to"."""
        return self.words[i] in self.bases

    @property
    def bases(self) -> frozenset[str]:
        """First forms of all verbs of the lexicon."""
        return self.v.bases


_PASTS = frozenset(
    "fed put did set had was were gave got took let froze tore bought sold found saw threw dug fell ran spread split cut".split()
)


_UNTIL = frozenset(("until", "till", "til", "before", "by", "over"))


def _own_weekday(words: list[str], span: DaySpan, said: date) -> bool:
    """ "Slow Monday so I sorted the tower", said on a Monday: the note's own day, unless "last" stands there."""
    if span.past is None or span.past[0] != span.past[1] or (said - span.past[0]).days != 7:
        return False
    told = words[max(0, span.start - 1) : span.end]
    return not {"last", "ago", "week", "previous", "past"} & set(told)


def day_for(clause: Clause, state: str, said: date, words: list[str]) -> tuple[str | None, tuple[str, ...]]:
    """The ISO day of a record in a clause: what is past for what was done, what is to come for the rest.

    `said` is the note's own day. None where a plan names no day.
    """
    for span in clause.days:
        if span.recurring or (span.period and state == "ruled_out") or span.start in clause.beside:
            continue
        if state in ("planned", "expected"):
            pick = span.coming or (span.past if span.past and span.past[0] >= said else None)
            if pick:
                return pick[1 if state == "expected" and not span.period else 0].isoformat(), span.unsure
            continue
        if _own_weekday(words, span, said):
            return said.isoformat(), span.unsure
        if state == "ruled_out" and (
            {words[span.start], words[span.start - 1] if span.start else ""} & _UNTIL
        ):
            continue
        pick = span.past or (span.coming if span.coming and span.coming[0] <= said else None)
        if state == "ruled_out" and (pick is None or pick[0] > said or "until" in clause.because):
            continue
        if pick and pick[0] <= said:
            return pick[0].isoformat(), span.unsure
        if span.past is None and span.coming is None:
            return said.isoformat(), span.unsure
        if state == "done" and span.coming and span.past is None:
            return said.isoformat(), ("a day to come, said of something done: taken as the note's own day",)
    if state in ("planned", "expected"):
        doubts = tuple(w for d in clause.days for w in d.unsure)
        return None, doubts
    return said.isoformat(), ()
