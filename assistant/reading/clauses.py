"""Cutting a note into clauses. Dictated talk has no full stops, so words decide where a clause begins."""

from __future__ import annotations

from assistant.reading.clausewords import CONNECTORS, JOINS, NO, SUBORDINATE, ClauseWords
from assistant.reading.joining import joined
from assistant.reading.nounopenings import NounOpenings
from assistant.reading.openings import Openings, told_of_measure
from assistant.reading.sketch import Clause, Sketch
from assistant.reading.vocabulary import Vocabulary

_HARD = frozenset(
    [".", "!", "?", ";", "\n", "->", "=>", "-->", "→", "—", "...", "…", "•", "*", "!!", "??", "?!"]
)
_DASHES = frozenset(["–", "--"])
_SOFT = frozenset((",", ":"))
_HEDGES = frozenset(
    "just also only still then really already finally even actually probably not never n't always both "
    "all to ta na".split()
)
_HOLDING = (JOINS - {"but"}) | SUBORDINATE
_FREE = CONNECTORS | NO | JOINS
_OPENING_MARKS = _HARD | _SOFT
_CLOSING_MARKS = _HARD | _DASHES | _SOFT
_AHEAD = frozenset(("planned", "expected", "future", "skip"))
_WHO = frozenset("i we he she they you".split())
_HANGING = ("prep", "det", "copula", "aux", "subject", "negation", "conj", "you")
_FOLLOWING = frozenset("each apiece ago later".split())
_SO = frozenset("much many dry wet far good bad soggy".split())


class Cutter:
    """Decides for every word of one note whether a clause begins there."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.n = ClauseWords(vocabulary, sketch)
        self.words = sketch.words
        self.openings, self.nouns = Openings(self.n), NounOpenings(self.n)

    def cut(self) -> list[Clause]:
        """The clauses of the note, in order, without the punctuation that ends them."""
        clauses: list[Clause] = []
        begin = 0
        for i in range(1, len(self.words)):
            if self._begins(i, begin):
                self._close(clauses, begin, i)
                begin = i
        self._close(clauses, begin, len(self.words))
        return joined(self.n, clauses, self.openings.starts)

    def _close(self, clauses: list[Clause], start: int, end: int) -> None:
        while start < end and self.words[start] in _OPENING_MARKS:
            start += 1
        while end > start and self.words[end - 1] in _CLOSING_MARKS:
            end -= 1
        if end > start:
            clauses.append(Clause(start, end))

    def _begins(self, i: int, begin: int) -> bool:
        if i in self.n.inner:
            return False
        word, before = self.words[i], self.words[i - 1]
        if before in _HARD or word in _HARD or (before in _DASHES and i - 2 not in self.n.amounts):
            return True
        if self.n.line(i) and self._apart(i):
            return True
        if before == ",":
            opened = self._opens(self._head(i), begin) or i in self.n.places or self._ahead(i)
            end = self.n.amounts[i].end if i in self.n.amounts else 0
            measured = end in self.n.verbs and told_of_measure(self.n, end)
            return opened or measured or self._another_time(i) or self._how_many_there(i)
        if (before in CONNECTORS and i not in self.n.day_ends) or self._linked(i):
            return False
        return self._opens(self._head(i), begin)

    def _apart(self, i: int) -> bool:
        """Whether a line of a transcript is no mere half of a sentence: "into the | top tray"."""
        word, before = self.words[i], self.words[i - 1]
        place = self.n.places.get(i)
        if place is not None and self.n.role(place.end, "copula"):
            return True  # "... dump it all in | bottom tray is done"
        hanging = self.n.role(i - 1, *_HANGING) or before in _HOLDING or before in _HEDGES
        return not (
            hanging
            or i - 1 in self.n.in_verb
            or before in CONNECTORS
            or self.n.role(i, "prep")
            or word in _FOLLOWING
        )

    def _opens(self, i: int, begin: int) -> bool:
        return self.openings.opens(i, begin) or self.nouns.opens(i, begin)

    def _ahead(self, i: int) -> bool:
        """After a comma: "will empty that", "plan: harvest", "need more bags"."""
        mark = self.n.marks.get(i)
        return self.n.role(i, "aux") or (mark is not None and mark.value in _AHEAD)

    def _another_time(self, i: int) -> bool:
        """ "at 48, | was 52 on Monday", "26 C, | the day before yesterday it was 34": another reading."""
        day = self.n.days.get(i)
        if day is not None:
            return self.openings.starts(day.end)
        return self.words[i] in ("was", "were") and i + 1 in self.n.amounts

    def _how_many_there(self, i: int) -> bool:
        """ "a few in the tub, | a ton in the stack"."""
        told = self.n.s.starting("abundance", i)
        return (
            told is not None
            and self.n.role(told.end, "prep")
            and any(k in self.n.places for k in (told.end + 1, told.end + 2))
        )

    def _head(self, i: int) -> int:
        """Past "and", "so", "then", "um": where the clause's own first word would be."""
        j = i
        while j < i + 3 and self.n.word(j) in CONNECTORS:
            if self.words[j] == "so" and self.n.word(j + 1) in _SO:
                break
            if self.openings.onwards(j):
                break
            j += 1
        if j > i and j in self.n.days and self.openings.starts(self.n.days[j].end):
            return self.n.days[j].end
        return j

    def _relative(self, i: int) -> bool:
        """ "the peels that | I gave them": what a thing is, not a clause of its own."""
        noun = self.n.s.ending("thing", i - 1) if self.words[i - 1] == "that" else None
        return noun is not None and self.words[i] in _WHO

    def _linked(self, i: int) -> bool:
        """Whether the word before holds `i` fast: "I just |", "to |"."""
        word, before = self.words[i], self.words[i - 1]
        if before in _HOLDING or self._relative(i):
            return True
        free = word in _FREE or self.n.v.role(word, "subject")
        return before in _HEDGES and not free
