"""Bins by their names: "the tub", "B", "totes one through four", and one that the set-up has not got."""

from __future__ import annotations

from assistant.reading.aliases import Alias
from assistant.reading.numbers import cardinal
from assistant.reading.placewords import LIST_JOINS, PlaceWords, spread
from assistant.reading.sketch import Place

_POINTING = frozenset(("the", "that", "this", "my", "our"))
_OF_A_KIND = frozenset(("that", "this", "which", "a", "of"))
_WALKING = frozenset(
    "over on back now up down upstairs downstairs out outside run running move moving go going head heading "
    "along through".split()
)
_ANOTHER = frozenset(("a", "an", "new"))
_STOPS = frozenset(("", ".", ",", ";", "\n", "-", "/"))
_LEADING = frozenset("the to from into in for of".split())
_AFTER_A_NAME = frozenset(("", ",", ".", ":", "-")) | frozenset(
    "again first top bottom next ph moisture temp bed same still".split()
)
_TOWARDS = frozenset(("to", "into"))
_AFTER_A_NUMBER = frozenset((",", ":", "-"))
_THROUGH = frozenset(("through", "to", "thru", "-"))
_CARE = frozenset("feed water refresh check turn harvest skip sieve cover".split())
_CUT = frozenset(("prepare", "break"))
_HANGING = LIST_JOINS | {"to", "through"}


class BinNames:
    """Finds bins in one note; `aliases` and `stems` come from its set-up."""

    def __init__(
        self, words: PlaceWords, aliases: dict[str, list[Alias]], stems: dict[str, tuple[str, ...]]
    ) -> None:
        self.n, self.aliases, self.stems = words, aliases, stems
        self.words = words.words

    def named(self, i: int) -> Place | None:
        """A name of the set-up that begins at word `i`."""
        n = self.n
        for alias in self.aliases.get(n.word(i), ()):
            end = i + len(alias.words)
            if tuple(self.words[i:end]) != alias.words or not self._holds(alias, i, end):
                continue
            if alias.strength == "loose" and (end in n.binnouns or n.word(end) == "one"):
                end += 1
            return Place(i, end, alias.bin, (alias.tier,) if alias.tier else (), word=alias.words[-1])
        return None

    def _holds(self, alias: Alias, start: int, end: int) -> bool:
        """Whether a name stands for its bin here, by how strong a name it is."""
        before = self.n.word(start - 1)
        if alias.words[-1] == "a" and self._an_article(end - 1):  # "the top tray | a handful"
            return False
        if start in self.n.measured and self.n.word(end) == "of" and before not in _POINTING:
            return False  # "half a bucket of grounds" where a bin is called the bucket
        if alias.strength == "full":
            return not (alias.tier and len(alias.words) == 1 and before == "at")
        if alias.strength == "head":
            return before in _POINTING or self._terse(start, end)
        if alias.strength == "letter":
            degrees = before.replace(".", "").isdecimal()  # "31 C"
            return self.n.s.raw(start, end)[0].isupper() and end - start == 1 and not degrees
        if self._of_a_room(start, end) or start in self.n.measured:
            return False
        out_of = before == "of" and self.n.word(start - 2) == "out"  # "out of blue", "gray's castings"
        if before in _OF_A_KIND and not out_of and self.n.word(end) != "'s":
            return False
        return start - 1 not in self.n.rank and self._alone(alias, start, end)

    def _an_article(self, i: int) -> bool:
        """Whether an "a" belongs to the amount behind it: "a handful"; in "Bed A 31 C" it does not."""
        capital = self.n.s.raw(i, i + 1)[0] == "A"
        return i in self.n.amount_starts and not capital and not self.n.word(i + 1)[:1].isdigit()

    def _terse(self, start: int, end: int) -> bool:
        """ "trough 61 F, crate's finished": a short name in front of a figure or of what it is."""
        n = self.n
        if n.word(start - 1) not in _STOPS and start not in n.amount_ends:
            return False
        if n.word(end) == ":" or self.words[start] == "bed":
            return n.word(end) == ":"
        if start in n.amount_ends and end not in n.amount_starts:
            return False
        said = n.v.role(n.word(end), "copula") or n.s.starting("verb", end) is not None
        return end in n.amount_starts or said or n.word(end) in ("first", "next")

    def _of_a_room(self, start: int, end: int) -> bool:
        """ "garage is 54", "out in the garage": the room, not the bin called after it."""
        n = self.n
        if start not in n.rooms:
            return False
        told = n.v.role(n.word(end), "copula") and end + 1 in n.amount_starts
        if self._walked_to(start):
            return False
        return told or (n.word(start - 1) == "the" and n.v.role(n.word(start - 2), "prep"))

    def _walked_to(self, start: int) -> bool:
        """ "now over to the garage", "back to the garage": the walk goes on to the bin there."""
        led = [self.n.word(start - k) for k in (2, 1)]
        if led == ["to", "the"]:
            return self.n.word(start - 3) in _WALKING
        gone = self.n.word(start - 3) in _WALKING and self.n.word(start - 4) in _WALKING
        return led in (["on", "the"], ["in", "the"]) and gone  # "let's go out on the balcony"

    def _alone(self, alias: Alias, start: int, end: int) -> bool:
        """ "garage bin", "garage needs food": a short name as a subject, or with a word for a bin."""
        n = self.n
        before, after, opens = n.word(start - 1), n.word(end), n.opens(start)
        if self._walked_to(start):
            return True
        if len(alias.words) == 1 and cardinal(alias.words[0]) is not None:
            told = opens and (n.verbal(after) or after in _AFTER_A_NUMBER)
            return told or self._by_number(alias, start, end)
        if (before not in _ANOTHER and (end in n.binnouns or after == "one")) or (
            end in n.amount_starts and opens
        ):
            return True
        told = n.verbal(after) or after in _AFTER_A_NAME or self._paired(end)
        if before == "from" and after in _TOWARDS:
            return True
        return (opens and (told or n.v.role(after, "adverb"))) or (before in _LEADING and told)

    def _by_number(self, alias: Alias, start: int, end: int) -> bool:
        """ "peat in one and two", "watered three": a number that goes with nothing but its bin."""
        n = self.n
        j = start - 1
        while j > 0 and n.word(j) in LIST_JOINS and self._numbers_a_bin(alias, j - 1):
            j -= 2
        verb = n.s.ending("verb", j + 1)
        led = n.word(j) in _LEADING - {"the", "of"} or getattr(verb, "value", "") in _CARE
        if (
            not led
            or n.s.covering("day", start) is not None
            or getattr(n.s.ending("verb", j), "value", "") in _CUT
        ):
            return False
        k = end
        while n.word(k) in LIST_JOINS and self._numbers_a_bin(alias, k + 1):
            k += 2
        after = n.word(k)
        ended = after in _STOPS | {"!", "?", ":", ")"} or n.v.role(after, "conj", "adverb", "and")
        return ended or k in n.day_starts

    def _numbers_a_bin(self, alias: Alias, i: int) -> bool:
        """Whether a number at `i` is the short name of another bin."""
        return cardinal(self.n.word(i)) is not None and any(
            other.strength == alias.strength and other.words == (self.n.word(i),)
            for other in self.aliases.get(self.n.word(i), ())
        )

    def _paired(self, end: int) -> bool:
        """ "north and south got a pound each": another short name follows."""
        n = self.n
        return n.word(end) in ("and", "&") and self.named(end + 1 + (n.word(end + 1) == "the")) is not None

    def listed(self, i: int) -> Place | None:
        """ "totes one through four", "windrows A and B"; "tote five", which the set-up has not got."""
        names = self.stems.get(self.words[i])
        if not names:
            return self._one_more(i)
        picked, j = self._picked(i + 1, [name.lower().split()[-1] for name in names])
        if not picked:
            return None
        while self.words[j - 1] in _HANGING:
            j -= 1
        return spread(i, j, "|".join(names[k] for k in picked))

    def _picked(self, j: int, ends: list[str]) -> tuple[list[int], int]:
        """Which of the names that end in `ends` a list from word `j` on picks, and where it stops."""
        picked: list[int] = []
        through = False
        while j < len(self.words):
            word = self.words[j]
            hit = next((k for k, end in enumerate(ends) if _same(word, end)), None)
            if hit is not None:
                picked += range(picked[-1] + 1, hit + 1) if through and picked else [hit]
                through = False
            elif word in _THROUGH and picked:
                through = True
            elif word not in LIST_JOINS:
                break
            j += 1
        return picked, j

    def _one_more(self, i: int) -> Place | None:
        """ "tote five" where the set-up has totes, but no fifth."""
        n = self.n
        number = cardinal(n.word(i + 1))
        if number is None or number > 99 or i + 1 in n.measured or not self.stems.get(self.words[i] + "s"):
            return None
        return Place(i, i + 2, f"{self.words[i]} {self.words[i + 1]}", word=self.words[i + 1])


def _same(word: str, end: str) -> bool:
    value = cardinal(word)
    return word == end or (value is not None and cardinal(end) == value)
