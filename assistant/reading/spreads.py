"""Places that are several: "five and six", "both trays", "each tub", "all three"."""

from __future__ import annotations

from assistant.reading.binnames import BinNames
from assistant.reading.numbers import cardinal
from assistant.reading.placewords import LIST_JOINS, PlaceWords, spread
from assistant.reading.ranks import ranks_of
from assistant.reading.sketch import Mention, Place

_BEGINNING = frozenset(("", ".", ";", "\n"))
_TOLD = frozenset((",", ":", "has", "got", "needs", "had"))
_GETS = frozenset(("got", "gets", "needs", "had", "went"))
_IS = frozenset(("is", "'s", "looks", "was"))


class Spreads:
    """Finds words for several tiers or bins in one note."""

    def __init__(self, words: PlaceWords, bins: BinNames) -> None:
        self.n, self.words, self.bins = words, words.words, bins

    def pair(self, i: int) -> Place | None:
        """ "five and six are both ready" where the note numbers its tiers; "swap two and three"."""
        n, first = self.n, cardinal(self.words[i])
        swapping = getattr(n.s.ending("verb", i), "value", "") == "swap"
        if first is None or n.most == 1 or not (n.counted or swapping) or i in n.measured:
            return None
        if first <= n.most and not swapping and self._single(i):
            return Place(i, i + 1, None, (first,))
        second = cardinal(n.word(i + 2))
        if n.word(i + 1) not in LIST_JOINS or second is None:
            return None
        k = i + 3 + (n.word(i + 3) == ",")
        told = n.verbal(n.word(i + 3)) or n.word(k) in ("both", "are")
        if (swapping and max(first, second) <= n.most) or (told and first < second <= n.most):
            return Place(i, i + 3, None, (first, second))
        return None

    def _single(self, i: int) -> bool:
        """ "five's done"."""
        n = self.n
        first = n.word(i - 1) in _BEGINNING and (n.word(i + 1) in _TOLD or n.v.role(n.word(i + 1), "subject"))
        return first or (n.word(i + 1) in _IS and n.opens(i) and n.word(i + 2) not in ("of", "more"))

    def every(self, i: int) -> Place | None:
        """ "both trays", "each tray", "all three", "every box": a word for all, with or without its noun."""
        n = self.n
        if self.words[i] in ("either", "neither") and self._kind_at(i + 1):
            return spread(i, i + 2, "both")
        mark = n.s.starting("mark", i)
        if mark is None:
            return None
        if self._each(mark):
            return spread(i, mark.end, "every")
        if mark.value not in ("both", "every") or n.v.role(n.word(i - 1), "copula", "aux"):
            return None
        end = mark.end
        if n.word(end) in ("of", "the") and n.names_kind(end + 1):
            end += 1
        if end in n.rank and n.most > 1:
            tiers = ranks_of([n.rank[end].value])
            return spread(i, end + 1 + (end + 1 in n.nouns), "both", tiers)
        if mark.value == "every" and self._every_piece(mark):
            return None
        if mark.value == "both" and end == mark.end and self._another_noun(end):
            return None
        end += self._kind_at(end)
        owner = self._owner(end)
        if owner is not None:
            return Place(i, owner.end, owner.bin, spread=True, word=str(mark.value))
        return spread(i, end, str(mark.value))

    def _another_noun(self, i: int) -> bool:
        """ "both | hands", "both ends": two of something else."""
        n, word = self.n, self.n.word(i)
        if not word.isalpha() or not word.endswith("s") or n.names_kind(i) or n.verbal(word):
            return False
        known = any(word in role for role in n.v.roles.values())
        return not known and n.s.starting("verb", i) is None and n.s.starting("mark", i) is None

    def _kind_at(self, i: int) -> bool:
        """Whether a word for a bin or tier stands at `i`, or one that several bins of the set-up share."""
        return self.n.names_kind(i) or not self.bins.stems.keys().isdisjoint(
            (self.n.word(i), self.n.word(i) + "s")
        )

    def _owner(self, end: int) -> Place | None:
        """ "both floors | of the tower", "all the trays | in the left stack"."""
        n = self.n
        if n.word(end) not in ("of", "in") or n.word(end + 1) not in ("the", "my", "our"):
            return None
        named = self.bins.named(end + 2)
        return named if named and named.bin and not named.tiers else None

    def _every_piece(self, mark: Mention) -> bool:
        """ "those are all still there, every one": every piece of what was just told of, and no place."""
        n = self.n
        if self.words[mark.end - 1] != "one" or n.v.role(n.word(mark.start - 1), "prep"):
            return False
        told = n.v.role(n.word(mark.end), "copula", "aux") or n.word(mark.end) in _GETS
        return not told and n.s.ending("verb", mark.start) is None

    def _each(self, mark: Mention) -> bool:
        """ "two cups to each"."""
        n = self.n
        led = n.word(mark.start - 1) in ("to", "in", "into", "for")
        return mark.value == "each" and led and n.word(mark.end) in ("", ".", ",", "and")
