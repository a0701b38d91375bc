"""Amounts that words of the thing's own phrase say: "a cabbage", "a case of bad strawberries"."""

from __future__ import annotations

from assistant.reading.amounts import AmountSpan
from assistant.reading.nounphrases import NounPhrases
from lexicon import Thing, inflect

CONTAINERS = frozenset(
    "tub tubs cup cups pot pots jar jars can cans container containers carton cartons bag bags bottle "
    "bottles box boxes bucket buckets".split()
)
_COUNTED = frozenset(("food", "treatment", "organism"))
_NOT_COUNTED = frozenset(
    "mixed coffee tea grain drink legume manure pulp meal fungus fly mite helper worm garden prepared".split()
)
JOINING = frozenset(("-", "up", "old", "well", "used", "whole"))
"""Words inside a noun phrase that are no nouns: "well | rotted", "cut | up"."""
_DESCRIBED = 5  # words from a thing back to its article
_SOME = frozenset(("little", "bit", "few", "lot"))


class Pieces:
    """Finds the amounts that stand in one note's noun phrases with no measure or figure of the lexicon."""

    def __init__(self, phrases: NounPhrases) -> None:
        self.p, self.v, self.s, self.words = phrases, phrases.v, phrases.s, phrases.words

    def measure_as_said(self, start: int, floor: int) -> AmountSpan | None:
        """A measure that the lexicon has not got: "a case of bad strawberries" (contract, section 2)."""
        i = start - 1
        while i > floor and self.words[i] != "of" and self.p.plain(i) and start - i < 4:
            i -= 1
        j = i - 1
        if j <= floor or self.words[i] != "of" or not self._may_measure(j):
            return None
        while self.words[j] in CONTAINERS and j - 1 > floor and self._named_container(j - 1):
            j -= 1
        if self.words[j - 1] in ("a", "an", "another") and not self._likened(j - 2, floor):
            return AmountSpan(j - 1, i, 1, 1, 1, self._measure(i - 1))
        number = self.s.ending("amount", j)
        if number is None or number.unit is not None or number.currency:
            return None
        return AmountSpan(number.start, i, number.low, number.best, number.high, self._measure(i - 1))

    def _may_measure(self, i: int) -> bool:
        plain = self.p.plain(i) and not self.p.in_amount(i)
        return plain and self.words[i] not in self.v.vague and (self.words[i],) not in self.v.portions

    def _likened(self, i: int, floor: int) -> bool:
        """ "such a", "like a"."""
        return i >= floor and self.words[i] in ("such", "like")

    def _named_container(self, i: int) -> bool:
        """ "two ice cream | tubs"."""
        return self.p.plain(i) and self.s.covering("thing", i) is not None

    def _measure(self, i: int) -> str:
        """The singular of the measure that stands at `i`."""
        word = self.words[i]
        return inflect(word)[0] if word.endswith("s") and inflect(word) else word

    def single(self, start: int, end: int, things: tuple[Thing, ...]) -> AmountSpan | None:
        """ "a cabbage": one piece (contract, section 2)."""
        i = start - 1
        while i > 0 and start - i < _DESCRIBED and self._describes(i):
            i -= 1
        only = self.words[i] == "one" and self.words[i - 1] in ("the", "just")  # "just the one | potato"
        if i < 0 or not (only or self.words[i] in ("a", "an")) or self.p.in_amount(i):
            return None
        if not self._countable(end, things[0]) or _SOME & set(self.words[i:start]):
            return None
        if i and self.words[i - 1] in ("half", "1/2", "½"):
            return AmountSpan(i - 1, start, 0.5, 0.5, 0.5, None)
        return AmountSpan(i, start, 1, 1, 1, None)

    def _describes(self, i: int) -> bool:
        """ "a mashed - up | plantain", "a whole sliced | cucumber"."""
        if self.words[i] == "one":
            return False
        return self.p.plain(i) or self.p.participle(i) or self.words[i] in JOINING

    def _countable(self, end: int, thing: Thing) -> bool:
        """Whether a thing comes in pieces, and the word for it that ends at `end` is no plural."""
        plural = self.words[end - 1].endswith("s")
        return not plural and thing.topic in _COUNTED and thing.klass not in _NOT_COUNTED
