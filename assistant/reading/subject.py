"""Whether a stretch of a note is about a worm bin at all: a recipe, a novel, a shopping list is not."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import accumulate

from assistant.reading.ranks import iter_bins
from assistant.reading.sketch import Clause, Mention, Place, Sketch, inside
from assistant.reading.vocabulary import Vocabulary

_REACH = 100
"""How many words to each side of a clause may show what it is about."""
_ALONE, _SHORT = 16, 40
"""How many words need no sign ("kale, two cups" is told to a program for worm bins), and how many one."""
_WANTED = 0.1
"""Points for each further word."""
_NAMED, _COMMON, _SIGN = 6, 3, 1
_AGAIN = 60
_BESIDE = 6
_SAYING = 3
"""Words from which on a saying about moisture or castings is of a bin: "on the wet side"."""
_UNITS = frozenset(("handful", "spray", "degF", "degC", "degree", "pH", "percent"))


class Subject:
    """Counts the signs of a worm bin (signs.csv, the bins and tiers named, readings) around each clause."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.s = vocabulary, sketch
        self.points = [0, *accumulate(self._points())]
        self.counts = [0, *accumulate(word[0].isalnum() for word in sketch.words)]

    def about_a_bin(self, clause: Clause) -> bool:
        """Whether it names a bin, or enough signs stand within reach; a few words by themselves need none."""
        if any(self._named(place) for place in inside(self.s.places, clause.start, clause.end)):
            return True
        last = len(self.s.words)
        near = self._enough(max(0, clause.start - _REACH), min(last, clause.end + _REACH))
        return near or self._enough(0, last)  # a long walk may chat for a minute

    def _enough(self, start: int, end: int) -> bool:
        words = self.counts[end] - self.counts[start]
        wanted = max(words > _ALONE, (words - _SHORT) * _WANTED)
        return self.points[end] - self.points[start] >= wanted

    def _points(self) -> list[int]:
        """The points of every word."""
        points = list(self._of_words())
        for start in self._readings():
            points[start] = max(points[start], _SIGN)
        for place in self.s.places:
            inner = points[place.start : place.end]
            points[place.start : place.end] = [self._of_place(place, max(inner)), *[0] * (len(inner) - 1)]
        return points

    def _of_words(self) -> Iterator[int]:
        """The points of every word by itself (signs.csv); said again soon after, it tells nothing more."""
        last: dict[str, int] = {}
        for i, word in enumerate(self.s.words):
            told = self.v.signs.get(word, 0)
            yield told if told > _SIGN or i - last.get(word, -_AGAIN) >= _AGAIN else 0
            if told:
                last[word] = i

    def _readings(self) -> Iterator[int]:
        """Where something starts that few but keepers write down: handfuls, degrees, food left."""
        yield from (a.start for a in self.s.amounts if a.unit in _UNITS)
        layers = self.s.layers
        yield from (m.start for m in layers.get("mark", ()) if m.value == "nofood")
        for layer in ("leftover", "touched"):
            yield from (m.start for m in layers.get(layer, ()) if self._of_food(m))
        for layer in ("progress", "moisture"):
            yield from (m.start for m in layers.get(layer, ()) if m.end - m.start >= _SAYING)

    def _of_food(self, m: Mention) -> bool:
        """ "the corn's not been touched", "peas all gone"."""
        near = range(max(0, m.start - _BESIDE), m.start)
        things = (self.s.starting("thing", i) for i in near)
        return any(t is not None and any(x.topic == "food" for x in t.value) for t in things)

    def _named(self, place: Place) -> bool:
        named = {place.bin, *(iter_bins(place.word) if place.spread else ())}
        return any(b.name in named for b in self.s.setup)

    def _of_place(self, place: Place, said: int) -> int:
        """A bin of the set-up, by a name of its own or by a common word ("the tub"), or a tier.

        `said` are the points of its words: "the top tray" tells more than "the top".
        """
        if self._named(place):
            return _NAMED if place.end - place.start > 1 else _COMMON
        return _SIGN + said if place.tiers or place.step else said
