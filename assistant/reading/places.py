"""Where: the bins and tiers that a note names, found word by word (contract 5.2, 5.23)."""

from __future__ import annotations

from assistant.reading.aliases import Alias
from assistant.reading.binlists import BinLists
from assistant.reading.binnames import BinNames
from assistant.reading.numbers import cardinal
from assistant.reading.otherplaces import OtherPlaces
from assistant.reading.passing import passing
from assistant.reading.placewords import PlaceWords
from assistant.reading.ranks import iter_bins, position
from assistant.reading.sketch import Place, Sketch
from assistant.reading.spreads import Spreads
from assistant.reading.tiernames import TierNames
from assistant.reading.vocabulary import Vocabulary

__all__ = ["PlaceFinder", "iter_bins", "position"]

_AND = (["&"], ["and"], ["and", "the"], ["/"])
_WITHIN = tuple([prep, *the] for prep in ("of", "in") for the in ([], ["the"], ["my"], ["our"]))
_ITS: tuple[list[str], ...] = ([], ["'s"], [":"], [","])
_EXCEPT = frozenset(("except", "excepting", "bar"))
_EXCEPT_FIRST, _EXCEPT_LAST = frozenset(("except", "apart", "other")), frozenset(("for", "from", "than"))
_PASSED_OVER = frozenset("back very old whole just up down only".split())
_PARTICLES = frozenset("on off out down up back over".split())
_FRONTING = frozenset(("i", "we", "there"))
_OBJECTS = frozenset("it that them those these this".split())
"""What is taken "out", so that a place behind is the next one: "pulled that out | second tray"."""


class PlaceFinder:
    """Finds the places of one note; `aliases` and `stems` come from its set-up."""

    def __init__(
        self,
        vocabulary: Vocabulary,
        aliases: dict[str, list[Alias]],
        stems: dict[str, tuple[str, ...]],
        sketch: Sketch,
    ) -> None:
        self.v, self.s, self.words = vocabulary, sketch, sketch.words
        self.n = PlaceWords(vocabulary, sketch)
        bins = BinNames(self.n, aliases, stems)
        tiers, spreads, others = TierNames(self.n, bins), Spreads(self.n, bins), OtherPlaces(self.n)
        self.looks = (
            bins.named,
            bins.listed,
            others.other,
            others.told_of,
            others.counted,
            others.step,
            tiers.numbered,
            tiers.ranked,
            tiers.relative,
            tiers.bare,
            spreads.pair,
            spreads.every,
        )

    def find(self) -> list[Place]:
        """All places in order, none overlapping."""
        places: list[Place] = []
        i = 0
        while i < len(self.words):
            place = self._at(i)
            if place is None:
                i += 1
                continue
            i = place.end
            last = places[-1] if places else None
            place.after = passing(self.n, place, last) or self._before(place)
            if last and self._listed(last, place):
                last.tiers, last.end = (*last.tiers, *place.tiers), place.end
                continue
            if last and self._both_of(last, place):
                last.end = place.end
                continue
            if last and self._tier_of(last, place):
                last.bin, last.end = place.bin, place.end
                continue
            if last and self._in_bin(last, place):
                place.bin, place.start, place.after = last.bin, last.start, last.after
                places.pop()
            places.append(place)
            self.n.walked = self.n.walked or bool(place.tiers or place.step)
        return list(BinLists(self.n).together(places))

    def _at(self, i: int) -> Place | None:
        for look in self.looks:
            place = look(i)
            if place is not None:
                return place
        return None

    def _listed(self, last: Place, place: Place) -> bool:
        """ "tray two and the bottom": two tiers that are told together."""
        plain = not (last.spread or place.spread or place.bin or place.step or last.step)
        return plain and bool(last.tiers and place.tiers) and self._between(last, place) in _AND

    def _both_of(self, last: Place, place: Place) -> bool:
        """ "four and five, both finished": the two just named."""
        pointing = place.spread and not (place.bin or place.tiers) and place.word == "both"
        return len(last.tiers) > 1 and pointing and self._between(last, place) in ([], [","])

    def _in_bin(self, last: Place, place: Place) -> bool:
        """ "the tower's top tray": a bin, then a tier of it."""
        bin_alone = bool(last.bin) and not last.tiers and not last.spread
        return bin_alone and place.bin is None and self._between(last, place) in _ITS

    def _tier_of(self, last: Place, place: Place) -> bool:
        """ "tray three of the tower", "the bottom one in the tower": a tier, then its bin."""
        tier = bool(last.tiers) and not (last.bin or last.spread or last.step)
        return tier and self._whole_bin(place) and self._between(last, place) in _WITHIN

    def _whole_bin(self, place: Place) -> bool:
        return bool(place.bin) and not (place.tiers or place.step or place.spread)

    def _between(self, last: Place, place: Place) -> list[str]:
        return self.words[last.end : place.start]

    def _before(self, place: Place) -> str:
        """The preposition or giving verb that a place hangs on, "" where it stands in front."""
        j = self._hangs_on(place.start)
        word, follows = self.n.word(j), self.n.word(place.end)
        if place.spread and word in _OBJECTS:
            return "object"  # "sprayed them both"
        phrase = self.s.ending("verb", j + 1)
        if phrase is not None and phrase.end - phrase.start > 1 and self.v.role(follows, "copula"):
            return ""  # "a pound of lettuce goes in | tray two's fine"
        if word in _EXCEPT or (word in _EXCEPT_LAST and self.n.word(j - 1) in _EXCEPT_FIRST):
            return "except"
        if self.v.role(word, "prep"):
            if place.step and word in ("up", "down"):
                return ""
            fronted = word in _PARTICLES and follows in _FRONTING
            return "" if fronted or (word == "out" and self.n.word(j - 1) in _OBJECTS) else word
        if self.v.role(follows, "copula") and follows not in ("'s", "is"):
            return ""
        return "object" if self.s.ending("verb", j + 1) is not None else ""

    def _hangs_on(self, i: int) -> int:
        """The last word before `i` that is no article or filling: "to | the very top"; -1: none."""
        numbered = self.n.word(i) in self.v.roles["det"] or any(
            w.isdigit() or cardinal(w) is not None for w in self.words[i : i + 3]
        )
        j = i - 1
        while j >= 0:
            word = self.words[j]
            article = self.v.role(word, "det") and not (numbered and word == "that")
            phrasal = word in ("up", "down") and j > 0 and self.v.role(self.words[j - 1], "verb")
            if phrasal or not (article or word in _PASSED_OVER):
                break
            j -= 1
        return j
