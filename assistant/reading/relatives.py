"""Relative clauses that tell which food is meant: "the rinds (that) we dug in on the 4th have gone".

Nothing is put in there today: the verbs, things and amounts in them are mentioned no more, and their
days do not date what is seen. Only taken where the sentence then says what is seen of the food.
"""

from __future__ import annotations

from bisect import bisect_right
from operator import attrgetter

from assistant.reading.sketch import Mention, Sketch
from assistant.reading.vocabulary import Vocabulary

_LED = frozenset(("that", "which"))
_HAVE = frozenset(("have", "has", "'ve"))
_ENDS = frozenset((".", ";", "!", "?", "\n", "and", "but", "so", "then", "because"))
_SEEN = ("leftover", "progress")
_LENGTH = 14
"""Words that a relative clause has at the most."""
_TELLING = 6
"""How many words behind "is" or "have" what is seen of the food must begin."""
_FOODS = frozenset(("food", "bedding"))


class Relatives:
    """Finds such clauses in one note whose things, verbs, days and places are known."""

    def __init__(self, vocabulary: Vocabulary, sketch: Sketch) -> None:
        self.v, self.s, self.words = vocabulary, sketch, sketch.words

    def pass_over(self) -> None:
        """Note them as the layer "relative", with the act of their verb; nothing in them is mentioned."""
        found = list(filter(None, map(self._behind, self.s.layers.get("thing", ()))))
        self.s.layers["relative"] = found
        if not found:
            return
        for layer in ("verb", "thing", "leftover", "mark", "progress"):
            self.s.layers[layer] = [m for m in self.s.layers.get(layer, ()) if not _within(found, m.start)]
        self.s.amounts = [a for a in self.s.amounts if not _within(found, a.start)]

    def _behind(self, noun: Mention) -> Mention | None:
        """The relative clause behind a noun, None where none is told of it."""
        if not any(thing.topic in _FOODS for thing in noun.value):
            return None
        begin = i = self._past_place(noun.end)
        led = self._word(i) in _LED
        if i > noun.end and not led:
            return None
        i += led
        if self.v.role(self._word(i), "subject"):
            i += 1
        elif not led:
            return None
        while self._word(i) and self.v.role(self._word(i), "aux", "adverb"):
            i += 1
        verb = self.s.starting("verb", i)
        if verb is None and not (led and self.v.role(self._word(i), "copula")):
            return None
        end = self._end(verb.end if verb is not None else i + 1)
        return Mention(begin, end, "relative", verb.value if verb else "be") if end is not None else None

    def _past_place(self, i: int) -> int:
        """ "the apples in the top tray | which went in"."""
        if not self.v.role(self._word(i), "prep"):
            return i
        place = self.s.starting("place", i + 1) or self.s.starting("place", i + 2)
        return int(place.end) if place is not None else i

    def _end(self, i: int) -> int | None:
        """Where the sentence goes on to what is seen of the noun, from the relative's verb on."""
        for k in range(i, min(i + _LENGTH, len(self.words))):
            if self._told(k):
                return k
            word = self.words[k]
            said = self.v.role(word, "copula") or word in _HAVE
            if said and self.s.covering("day", k) is None and self._tells(k + 1):
                return k
            if word in _ENDS or self.v.role(word, "subject") or self._object(k, i):
                return None
        return None

    def _object(self, k: int, verb_end: int) -> bool:
        """Whether what stands at `k` is the verb's own object, or the subject of what follows."""
        place = self.s.starting("place", k)
        if place is not None:
            return bool(place.after == "")
        if self.s.starting("amount", k) is not None:
            return True
        thing = self.s.starting("thing", k)
        lead = self.words[max(verb_end, k - 3) : k]
        return thing is not None and not any(self.v.role(w, "prep") for w in lead)

    def _told(self, k: int) -> bool:
        return any(self.s.starting(layer, k) is not None for layer in _SEEN)

    def _tells(self, k: int) -> bool:
        """Whether what is seen of a food begins soon: a share of it, or a creature in it."""
        for i in range(k, min(k + _TELLING, len(self.words))):
            if self.words[i] in _ENDS and self.words[i - 1 : i + 1] != ["all", "but"]:
                return False
            amount = self.s.starting("amount", i)
            share = amount is not None and amount.unit is None and 0 < amount.best < 1
            if self._told(i) or share or self._alive(i):
                return True
        return False

    def _alive(self, i: int) -> bool:
        thing = self.s.starting("thing", i)
        return thing is not None and any(t.topic == "organism" for t in thing.value)

    def _word(self, i: int) -> str:
        return self.words[i] if i < len(self.words) else ""


def _within(relatives: list[Mention], i: int) -> bool:
    """Whether word `i` stands in one of the relatives, which are in order."""
    k = bisect_right(relatives, i, key=_start)
    return k > 0 and i < relatives[k - 1].end


_start = attrgetter("start")
