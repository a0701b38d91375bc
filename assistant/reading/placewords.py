"""What the words of a note are as far as places go: ranks, words for tiers and bins, figures, rooms."""

from __future__ import annotations

from collections.abc import Iterable

from assistant.reading.sketch import Mention, Place, Sketch
from assistant.reading.vocabulary import Vocabulary

LIST_JOINS = frozenset(("and", "&", "+", ",", "or"))
_LENGTHS = frozenset(("inch", "cm"))
_OPENING = frozenset(("", ".", ",", ";", ":", "-", "\n", *"and then but oh okay ok so now".split()))
_VERBAL = frozenset(("got", "needs", "gets"))


class PlaceWords:
    """One note's words with the tables that the finders of places ask."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.s, self.words = vocabulary, sketch, sketch.words
        self.most = max((b.tiers for b in sketch.setup), default=1)
        self.several = len(sketch.setup)
        self.nouns = _words(sketch.layers.get("tiernoun", ()))
        self.binnouns = _words(sketch.layers.get("binnoun", ()))
        self.rank = {m.start: m for m in sketch.layers.get("tier", ())}
        if self.most == 2:  # "the bottom half" of a bin of two tiers
            self.nouns |= {i + 1 for i in self.rank if self.word(i + 1) == "half"}
        self.rooms = {m.start for m in sketch.layers.get("room", ())}
        self.lengths = {a.start for a in sketch.amounts if a.unit in _LENGTHS}
        self.amount_ends = {a.end for a in sketch.amounts}
        self.amount_starts = {a.start for a in sketch.amounts}
        self.day_starts = {d.start for d in sketch.days}
        self.measured = {i for a in sketch.amounts if a.unit for i in range(a.start, a.end)}
        self.taken = _words(m for m in sketch.layers.get("thing", ()) if m.end - m.start > 1)
        self.walked = False
        """Whether the note has named a tier so far."""
        self.counted = False
        """Whether the note numbers its tiers: then "five and six" may be tiers."""

    def word(self, i: int) -> str:
        """The word at `i`, "" outside the note."""
        return self.words[i] if 0 <= i < len(self.words) else ""

    def opens(self, i: int) -> bool:
        """Whether a new thought may begin at word `i`."""
        before = self.word(i - 1)
        return before in _OPENING or not self.v.role(before, "det", "prep", "copula", "aux")

    def verbal(self, word: str) -> bool:
        """Whether a word may follow the place that it is said of: "tub two | is"."""
        return self.v.role(word, "copula", "aux", "verb", "subject", "pronoun") or word in _VERBAL

    def names_kind(self, i: int) -> bool:
        """Whether a word for a bin or a tier stands at `i`."""
        return i in self.nouns or i in self.binnouns


def spread(start: int, end: int, word: str, tiers: tuple[int, ...] = ()) -> Place:
    """A place that is several: "both trays", "every bin"."""
    return Place(start, end, None, tiers, spread=True, word=word)


def _words(mentions: Iterable[Mention]) -> set[int]:
    return {i for m in mentions for i in range(m.start, m.end)}
