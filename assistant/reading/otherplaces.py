"""Places told from where one stands: "the other bin", "the others", "down one", "next level down"."""

from __future__ import annotations

from assistant.reading.numbers import cardinal, ordinal
from assistant.reading.placewords import PlaceWords
from assistant.reading.sketch import Place

_LEADS = frozenset(("the", "and", "then", "in", "for", "to", "my", "our"))
_SHIFTING = frozenset("slide slides shift shifts drop drops move moves slid shifted moved".split())
_ONES = frozenset(("one", "ones"))
_DIRECTIONS = {"down": 1, "lower": 1, "up": -1, "higher": -1}
_RIGHT = 3.0
_MATERIAL = frozenset(("layer", "layers", "bed", "section", "pile", "ones"))
_ONE_STEP = frozenset(("one", "1", "a", "another"))
_SHIFTS = frozenset(("shifts", "moves", "goes", "shift", "drops", "slides", "shifted", "moved"))
_STOPS = frozenset(("", ".", ",", ";", ":", "\n", "–", "-", "!"))


STATES = ("moisture", "smell", "progress")
"""What may be told of a tier or bin so that it is known by it afterwards."""


def state_told(layer: str, value: float | str | None) -> str:
    """What a place is known by: its smell, how far it is, or whether it is wet or dry at all."""
    if layer == "moisture" and isinstance(value, float):
        value = "wet" if value > _RIGHT else "dry" if value < _RIGHT else "right"
    return f"told {layer} {value}"


class OtherPlaces:
    """Finds places in one note that another place gives."""

    def __init__(self, words: PlaceWords) -> None:
        self.n, self.words = words, words.words

    def other(self, i: int) -> Place | None:
        """ "the other one", "other tub", "the other two bins", "the others"; not "the other day"."""
        n = self.n
        word = self.words[i]
        if word == "rest" and n.word(i - 1) == "the" and n.v.role(n.word(i - 2), "prep"):
            several = n.several > 2 or n.most > 2
            return Place(i, i + 1, word="others") if several and n.word(i + 1) in _STOPS else None
        if word not in ("other", "others") or not (n.word(i - 1) in _LEADS or n.opens(i)):
            return None
        if n.several == n.most == 1 or n.word(i - 1) in ("each", "any"):
            return None
        if self.n.word(i + 1) in _SHIFTING:
            return None  # "the others slide down": they only make room
        if word == "others":
            return Place(i, i + 1, word="others") if n.several > 2 or n.most > 2 else None
        count = cardinal(n.word(i + 1)) or 0
        counted = count > 1
        end = i + 1 + counted
        if n.names_kind(end):
            plural = counted or self.words[end].endswith("s")
            return Place(i, end + 1, word="others" if plural else self._kind(end))
        return Place(i, end, word="others") if counted and end - 1 not in n.measured else None

    def told_of(self, i: int) -> Place | None:
        """ "that wet one", "the sour tray": the one of which that was told before; not "it's a wet one"."""
        n = self.n
        if (
            n.several == n.most == 1
            or self.words[i] not in ("the", "that")
            or n.v.role(n.word(i - 1), "copula")
        ):
            return None
        for layer in STATES:
            m = n.s.starting(layer, i + 1)
            if m is not None and n.names_kind(m.end) and n.word(m.end) not in _MATERIAL:
                return Place(i + 1, m.end + 1, word=state_told(layer, m.value))
        return None

    def counted(self, i: int) -> Place | None:
        """ "two down from the top", "one up from the bottom", "second from the top"."""
        n, word = self.n, self.words[i]
        way = n.word(i + 1) if n.word(i + 1) in ("down", "up") else ""
        j = i + 1 + bool(way)
        if n.most == 1 or n.word(j) != "from":
            return None
        end = j + 1 + (n.word(j + 1) == "the")
        count = (cardinal(word) or 0) + 1 if way else ordinal(word) or 0
        if not 1 < count <= n.most:
            return None
        if n.word(end) == "top" and way != "up":
            return Place(i, end + 1, None, (count,))
        return Place(i, end + 1, None, (-count,)) if n.word(end) == "bottom" and way != "down" else None

    def _kind(self, i: int) -> str:
        """Whether "the other ..." at word `i` is a tier, a bin, or either."""
        n = self.n
        if self.words[i] in _ONES or (i in n.nouns and i in n.binnouns):
            return "other"
        return "other bin" if i in n.binnouns else "other tier"

    def step(self, i: int) -> Place | None:
        """ "down one", "one more down", "next level up", "down a tray": where the walk goes from here."""
        n, word = self.n, self.words[i]
        shifted = n.word(i - 1) in _SHIFTS
        if n.most == 1 or i in n.measured or shifted:  # "everybody shifts down one"
            return None
        if word in _DIRECTIONS and n.word(i + 1) in _ONE_STEP:
            end = i + 2
            while n.word(end) == "more" or end in n.nouns:
                end += 1
            alone = n.word(i + 1) in ("one", "1") or end > i + 2
            return Place(i, end, step=_DIRECTIONS[word]) if alone and self._stands(end) else None
        if word in _ONE_STEP or i in n.rank:
            j = i + 1
            while n.word(j) == "more" or (j in n.nouns and self.words[j] not in _ONES):
                j += 1
            way = _DIRECTIONS.get(n.word(j), 0)
            below = i in n.rank and n.rank[i].value == "below"
            if way and (below or word not in ("a",) or j > i + 1) and (below or i not in n.rank):
                end = j + 1
                if n.word(end) == "from" and n.word(end + 1) in ("that", "there", "it", "this"):
                    end += 2
                return Place(i, end, step=way) if self._stands(end) else None
        return None

    def _stands(self, end: int) -> bool:
        """Whether a step stands for itself: no thing follows that "one" would count, and no "the stairs"."""
        n, after = self.n, self.n.word(end)
        if after in _STOPS or n.v.role(after, "opener", "filler", "subject", "and", "conj", "pronoun"):
            return True
        return n.v.role(after, "copula", "aux") or n.s.starting("moisture", end) is not None
