"""Tiers by number or rank: "tray two", "T1", "second one down", "the one below", "top's dry"."""

from __future__ import annotations

from assistant.reading.binnames import BinNames
from assistant.reading.numbers import cardinal, ordinal
from assistant.reading.placewords import LIST_JOINS, PlaceWords
from assistant.reading.ranks import ranks_of
from assistant.reading.sketch import Mention, Place

_NUMBER_SIGNS = frozenset(("#", "number", "no.", "no", "lvl"))
_SIGN_AFTER_NOUN = frozenset((".", "number", "#", "no."))
_HIGHEST = 20
_ENDS = {
    **dict.fromkeys(("top", "upper", "uppermost", "topmost", "upstairs"), "top"),
    **dict.fromkeys(("middle", "mid"), "middle"),
    **dict.fromkeys(("bottom", "lower", "bottommost", "btm", "bot", "downstairs"), "bottom"),
}
_FLOORS = frozenset(("upstairs", "downstairs"))
_SIZES = frozenset(("full", "two", "little", "big"))
_NOT_ALONE = frozenset(("top", "bottom", "below"))
_RANKED_ONES = frozenset("last feed active base center central".split())
_AFTER_AN_ORDINAL = frozenset(("", ".", ",", ";", "and", "i", "we"))
_GOT = frozenset(("got", "gets", "has"))
_LOWER = frozenset("down below underneath beneath under lower".split())
_STANDS_ALONE = frozenset(("below", "above", "underneath"))
_STACKS = frozenset(("stack", "tower", "pile"))
_NO_TIER_BEFORE = frozenset(("on", "over", "from", "a", "and", "of"))
_NO_TIER_AFTER = frozenset(
    "of off up it them with half inch couple few corner edge edges side inches right left dressed "
    "dressing".split()
)
_ACROSS = frozenset(("over", "near", "across", "toward", "towards"))
_BIN_WORDS = frozenset(("bin", "bins", "ones", "box", "bucket"))


class TierNames:
    """Finds tiers in one note."""

    def __init__(self, words: PlaceWords, bins: BinNames) -> None:
        self.n, self.bins = words, bins
        self.words = words.words

    def numbered(self, i: int) -> Place | None:
        """ "tray two", "T1", "#3", "number four", "trays two and three"."""
        n, word = self.n, self.words[i]
        if len(word) >= 2 and word[0] == "t" and word[1:].isdigit() and n.most > 1:
            return _tiers(i, i + 1, (int(word[1:]),))
        label = i in n.nouns and not word.startswith("one")
        if not (label or word in _NUMBER_SIGNS) or (word == "no" and n.word(i + 1) != "."):
            return None
        first = i + 2 if n.word(i + 1) in _SIGN_AFTER_NOUN else i + 1
        numbers, end = self._numbers(first, plural=word.endswith("s"))
        if not numbers or n.most == 1:
            return None
        if (n.word(end) == "of" and not self._of_a_bin(end + 1)) if label else end - 1 in n.measured:
            return None
        n.counted = True
        return _tiers(i, end, numbers)

    def _of_a_bin(self, i: int) -> bool:
        """ "tray three of | the tower"."""
        return bool(self.bins.named(i) or self.bins.named(i + 1))

    def _numbers(self, j: int, plural: bool) -> tuple[tuple[int, ...], int]:
        value = _tier_number(self.n.word(j))
        if value is None:
            return (), j
        numbers, end = [value], j + 1
        while plural and self.n.word(end) in LIST_JOINS:
            more = _tier_number(self.n.word(end + 1))
            if more is None:
                break
            numbers.append(more)
            end += 2
        return tuple(numbers), end

    def ranked(self, i: int) -> Place | None:
        """ "top tray", "second one down", "the third box", "top and middle trays"."""
        n, mention = self.n, self.n.rank.get(i)
        if mention is None:
            return None
        if self._ordinal_alone(i, mention.end):
            return _tiers(i, mention.end, (mention.value,))
        if n.most == 1 or i in n.lengths or i in n.taken:
            return None
        ranks, j = self._rank_list(mention)
        noun = j + (n.word(j) in _SIZES)
        if noun not in n.nouns or (self.words[noun] == "ones" and ranks[0] in ("bottom", "below")):
            ends_of = n.word(j) == "of" and any(r in _NOT_ALONE for r in ranks)
            return None if len(ranks) < 2 or ends_of or not self._plain(i, j) else _tiers(i, j, ranks)
        if mention.value == "below":
            return self._next(i, noun + 1)
        if (
            self.words[i] in _RANKED_ONES
            and self.words[noun] in ("one", "ones")
            and not self._last_in_line(i)
        ):
            return None
        return self._counted_off(i, noun + 1, ranks)

    def _plain(self, start: int, end: int) -> bool:
        """Whether a list of ranks means tiers: "top and middle", not "skipped feeding, last lot"."""
        said = (w for w in self.words[start:end] if w not in LIST_JOINS)
        return all(w in _ENDS or ordinal(w) is not None for w in said)

    def _rank_list(self, mention: Mention) -> tuple[tuple[int | str, ...], int]:
        """The ranks of "top and middle", and where they end."""
        ranks, j = [mention.value], mention.end
        while self.n.word(j) in LIST_JOINS and j + 1 in self.n.rank:
            more = self.n.rank[j + 1]
            ranks.append(more.value)
            j = more.end
        return tuple(ranks), j

    def _last_in_line(self, i: int) -> bool:
        """ "and the last one is ready", where the note goes from tier to tier."""
        n = self.n
        if self.words[i] != "last" or not n.walked:
            return False
        if n.word(i - 1) not in ("the", "and"):
            return n.word(i + 2) in ("this", "that", "it") and n.v.role(n.word(i + 3), "copula")
        return n.opens(i - 1) and not n.v.role(n.word(i - 2), "copula", "prep") and n.word(i + 2) != "of"

    def _counted_off(self, i: int, end: int, ranks: tuple[int | str, ...]) -> Place:
        """ "third one down", "second tray from the bottom", "second one up"; `end` is just after the noun."""
        tail = self.words[end : end + 3]
        if tail[:1] == ["up"] or tail == ["from", "the", "bottom"]:
            end += 1 if tail[0] == "up" else 3
            return Place(i, end, None, tuple(-rank for rank in ranks_of(ranks)), word="up")
        if tail[:1] == ["down"] or tail == ["from", "the", "top"]:
            end += 1 if tail[0] == "down" else 3
        return _tiers(i, end, ranks)

    def _ordinal_alone(self, i: int, end: int) -> bool:
        """ "the fourth I found sodden", "empty the second": no day, and no other noun."""
        n, after = self.n, self.n.word(end)
        rank = ordinal(self.words[i])
        if rank is None or not rank <= n.most > 1:
            return False
        if after == ":" and n.opens(i):
            return True
        walking = n.walked and n.v.role(after, "copula")  # "the third's fine | fourth is sopping"
        if (after in _GOT or walking) and n.opens(i) and not n.v.role(n.word(i - 1), "subject"):
            return True
        if n.word(i - 1) != "the" or n.s.covering("day", i) is not None:
            return False
        on_a_day = after == "on" and any(d.start in (end, end + 1) for d in n.s.days)
        return after in _AFTER_AN_ORDINAL or n.v.role(after, "copula", "aux", "conj") or on_a_day

    def _next(self, i: int, end: int) -> Place | None:
        """ "next tray", "next one down"; not "next door" nor "next time"."""
        if self.n.word(end) in ("down", "up"):
            return Place(i, end + 1, step=-1 if self.words[end] == "up" else 1)
        if self.words[end - 1] in _BIN_WORDS and self.n.most == 1:
            return None
        return Place(i, end, step=1)

    def relative(self, i: int) -> Place | None:
        """ "the one below", "the tray above that"."""
        n, after = self.n, self.n.word(i + 1)
        if n.most == 1 or i not in n.nouns or n.word(i - 1) not in ("the", "that", "next"):
            return None
        if after != "above" and after not in _LOWER:
            return None
        if n.word(i + 2) in ("the", "a") and after not in _STANDS_ALONE:
            return None
        end = i + 2 + (n.word(i + 2) in ("that", "it", "this"))
        return Place(i, end, step=-1 if after == "above" else 1)

    def bare(self, i: int) -> Place | None:
        """A rank with no noun: "top's dry", "mid dry", "in the bottom"."""
        n, word = self.n, self.words[i]
        if (
            word == "up"
            and n.word(i + 1) == "top"
            and n.most > 1
            and n.word(i + 2) not in ("of", "off", "with")
        ):
            return _tiers(i, i + 2, ("top",))
        if word not in _ENDS or n.most == 1 or i in n.taken or i in n.lengths:
            return None
        stack = self._of_a_stack(i)
        if stack:
            return _tiers(i, stack, (_ENDS[word],))
        if word in _FLOORS and not (n.verbal(n.word(i + 1)) or n.v.role(n.word(i + 1), "filler", "opener")):
            return None
        told = any(n.s.starting(layer, i + 1) is not None for layer in ("progress", "moisture"))
        if (n.word(i - 1) in _NO_TIER_BEFORE and not self._after_a_name(i)) or i + 1 in n.lengths:
            return None
        if n.word(i + 1) in _NO_TIER_AFTER and not told:
            return None
        if n.word(i - 1) == "the" and n.word(i - 2) in _ACROSS:
            return None
        return _tiers(i, i + 1, (_ENDS[word],))

    def _after_a_name(self, i: int) -> bool:
        """ "twin A upper": the word before belongs to the name of a bin."""
        found = (self.bins.named(k) for k in range(max(0, i - 3), i))
        return any(place is not None and place.end == i for place in found)

    def _of_a_stack(self, i: int) -> int:
        """ "bottom of the tower", "top of Wormville": where it ends, 0 where a tier is of no stack."""
        n = self.n
        if n.word(i + 1) != "of":
            return 0
        j = i + 2 + (n.word(i + 2) in ("the", "that", "my"))
        named = self.bins.named(j) or self.bins.named(i + 2)
        if named is not None:
            return named.end
        return j + 1 if j > i + 2 and n.word(j) in _STACKS else 0


def _tiers(start: int, end: int, ranks: tuple[int | str, ...]) -> Place:
    return Place(start, end, None, ranks_of(ranks))


def _tier_number(word: str) -> int | None:
    value = cardinal(word)
    return value if value is not None and 1 <= value <= _HIGHEST else None
