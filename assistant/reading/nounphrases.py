"""Which words of a note may be part of a noun phrase, and which belong to an amount."""

from __future__ import annotations

from assistant.reading.sketch import Sketch
from assistant.reading.vocabulary import Vocabulary

_FUNCTION_ROLES = (
    "det",
    "prep",
    "copula",
    "aux",
    "conj",
    "subject",
    "object",
    "pronoun",
    "adverb",
    "filler",
    "opener",
    "negation",
    "verb",
    "and",
    "you",
)


class NounPhrases:
    """One note's words, as far as names of things go."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.s, self.words = vocabulary, sketch, sketch.words
        self.verbs = {i for m in sketch.layers.get("verb", ()) for i in range(m.start, m.end)}
        self.marks = {i for m in sketch.layers.get("mark", ()) for i in range(m.start, m.end)}
        self.place_words = {i for p in sketch.places for i in range(p.start, p.end)}

    def plain(self, i: int) -> bool:
        """Whether a word may be part of a noun phrase: no verb, mark, place or function word."""
        if i >= len(self.words) or not self.words[i][0].isalpha():
            return False
        if i in self.verbs or i in self.marks or i in self.place_words:
            return False
        return not self.v.role(self.words[i], *_FUNCTION_ROLES)

    def participle(self, i: int) -> bool:
        """Whether a verb at `i` stands as an adjective: "torn", "blended"."""
        return i in self.verbs and self.words[i].endswith(("ed", "en", "n", "t"))

    def said(self, start: int, end: int) -> str:
        """The words as they are said."""
        return " ".join(self.words[start:end])

    def in_amount(self, i: int) -> bool:
        """Whether a word belongs to an amount."""
        return self.s.covering("amount", i) is not None

    def measured(self, i: int) -> bool:
        """Whether a word is part of an amount's measure: "one leaf of romaine"."""
        amount = self.s.covering("amount", i)
        return amount is not None and amount.unit is not None and amount.start <= i

    def modifiers(self, start: int, floor: int) -> int:
        """How far back plain words reach that may name the thing more closely ("sprout | trimmings")."""
        i = start
        while i > floor and self._modifies(i - 1):
            i -= 1
        return i

    def past_condition(self, start: int, end: int) -> int:
        """Past the words for how a thing is, which are no part of its name: "stale | bara brith"."""
        while start < end and self.words[start] in self.v.conditions:
            start += 1
        return start

    def _modifies(self, i: int) -> bool:
        inside = any(self.s.covering(layer, i) is not None for layer in ("thing", "day"))
        return self.plain(i) and not self.in_amount(i) and not inside
