"""Where: the bins and tiers that a note names, found word by word (contract 5.2, 5.23)."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.aliases import Alias
from assistant.reading.numbers import cardinal, ordinal
from assistant.reading.sketch import Place, Sketch
from assistant.reading.vocabulary import Vocabulary

_DOWN = frozenset("down below underneath beneath under lower".split())
_UP = frozenset("above up over".split())
_LENGTHS = frozenset(("inch", "cm"))
_BARE = frozenset("btm bot top bottom middle upper lower mid uppermost topmost bottommost".split())
_LIST_JOINS = frozenset(("and", "&", "+", ",", "or"))


class PlaceFinder:
    """Finds the places of one note; `aliases` and `stems` come from its set-up."""

    def __init__(
        self,
        vocabulary: Vocabulary,
        aliases: dict[str, list[Alias]],
        stems: dict[str, tuple[str, ...]],
        sketch: Sketch,
    ) -> None:
        self.v, self.aliases, self.stems, self.s = vocabulary, aliases, stems, sketch
        self.words = sketch.words
        self.most = max((b.tiers for b in sketch.setup), default=1)
        self.nouns = {i for m in sketch.layers.get("tiernoun", ()) for i in range(m.start, m.end)}
        self.rank = {m.start: m for m in sketch.layers.get("tier", ())}
        self.binnouns = {i for m in sketch.layers.get("binnoun", ()) for i in range(m.start, m.end)}
        self.lengths = {a.start for a in sketch.amounts if a.unit in _LENGTHS}
        self.rooms = {m.start for m in sketch.layers.get("room", ())}
        self.amount_starts = {a.start for a in sketch.amounts}
        self.measured = {i for a in sketch.amounts if a.unit for i in range(a.start, a.end)}
        self.taken = {
            i for m in sketch.layers.get("thing", ()) if m.end - m.start > 1 for i in range(m.start, m.end)
        }
        self._here: Place | None = None
        self.counted = False
        """Whether the note numbers its tiers: then "five and six" may be tiers."""

    def find(self) -> list[Place]:
        """All places in order, none overlapping."""
        places: list[Place] = []
        i = 0
        while i < len(self.words):
            place = self._at(i)
            if place is None:
                i += 1
                continue
            self._here = place
            place.after = self._before(place.start)
            last = places[-1] if places else None
            if (
                last
                and last.tiers
                and place.tiers
                and not (last.spread or place.spread or place.bin or place.step or last.step)
                and self.words[last.end : place.start] in (["&"], ["and"], ["and", "the"], ["/"])
            ):
                last.tiers, last.end = (*last.tiers, *place.tiers), place.end
                i = place.end
                continue
            if (
                last
                and last.bin
                and not last.tiers
                and not last.spread
                and place.bin is None
                and self.words[last.end : place.start] in ([], ["'s"], [":"], [","])
            ):
                place.bin, place.start, place.after = last.bin, last.start, last.after
                places.pop()
            places.append(place)
            i = place.end
        return places

    def _at(self, i: int) -> Place | None:
        for look in (
            self._alias,
            self._stem,
            self._numbered,
            self._ranked,
            self._relative,
            self._bare,
            self._pair,
            self._every,
        ):
            place = look(i)
            if place is not None:
                return place
        return None

    def _word(self, i: int) -> str:
        return self.words[i] if 0 <= i < len(self.words) else ""

    # bins

    def _alias(self, i: int) -> Place | None:
        for alias in self.aliases.get(self.words[i], ()):
            n = len(alias.words)
            if tuple(self.words[i : i + n]) != alias.words or not self._holds(alias, i, i + n):
                continue
            end = i + n
            if alias.strength == "loose" and end in self.binnouns:
                end += 1
            tiers = (alias.tier,) if alias.tier else ()
            return Place(i, end, alias.bin, tiers, word=alias.words[-1])
        return None

    def _holds(self, alias: Alias, start: int, end: int) -> bool:
        after, before = self._word(end), self._word(start - 1)
        if alias.strength == "full":
            return not (alias.tier and len(alias.words) == 1 and before == "at")
        if alias.strength == "head":
            return before in ("the", "that", "this", "my", "our")
        if alias.strength == "letter":
            return self.s.raw(start, end)[0].isupper() and end - start == 1
        if start in self.rooms and self.v.role(after, "copula") and end + 1 in self.amount_starts:
            return False
        if start in self.rooms and before == "the" and self.v.role(self._word(start - 2), "prep"):
            return False
        if start in self.measured or before in ("that", "this", "which", "a", "of") or start - 1 in self.rank:
            return False
        if _is_number(alias):
            return self._opens(start) and (self._verbal(after) or after in (",", ":", "-"))
        if end in self.binnouns and before not in ("a", "an", "new"):
            return True
        if end in self.amount_starts and self._opens(start):
            return True
        opens = self._opens(start) or before in ("the", "to", "from", "into", "in", "for", "of")
        return opens and (
            self._verbal(after)
            or after
            in (
                "",
                ",",
                ".",
                ":",
                "-",
                "again",
                "first",
                "top",
                "bottom",
                "next",
                "ph",
                "moisture",
                "temp",
                "bed",
                "same",
                "still",
            )
        )

    def _opens(self, i: int) -> bool:
        before = self._word(i - 1)
        return before in (
            "",
            ".",
            ",",
            ";",
            ":",
            "-",
            "\n",
            "and",
            "then",
            "but",
            "oh",
            "okay",
            "ok",
            "so",
            "now",
        ) or not (self.v.role(before, "det", "prep", "copula", "aux"))

    def _verbal(self, word: str) -> bool:
        return self.v.role(word, "copula", "aux", "verb", "subject", "pronoun") or word in (
            "got",
            "needs",
            "gets",
        )

    def _stem(self, i: int) -> Place | None:
        """ "totes one through four", "windrows A and B"; "tote five", a bin that the set-up has not got yet."""
        names = self.stems.get(self.words[i])
        if not names:
            family = self.stems.get(self.words[i] + "s")
            number = cardinal(self._word(i + 1))
            if (
                not family
                or number is None
                or number > 99
                or self._word(i + 2) in self.nouns
                or i + 1 in self.measured
            ):
                return None
            return Place(i, i + 2, f"{self.words[i]} {self.words[i + 1]}", (), word=self.words[i + 1])
        ends = [name.lower().split()[-1] for name in names]
        j, picked = i + 1, []
        through = False
        while j < len(self.words):
            word = self.words[j]
            value = cardinal(word)
            hit = next(
                (k for k, e in enumerate(ends) if word == e or (value is not None and cardinal(e) == value)),
                None,
            )
            if hit is not None:
                picked += range(picked[-1] + 1, hit + 1) if through and picked else [hit]
                through = False
            elif word in ("through", "to", "thru", "-") and picked:
                through = True
            elif word not in _LIST_JOINS:
                break
            j += 1
        if not picked:
            return None
        while self.words[j - 1] in _LIST_JOINS or self.words[j - 1] in ("to", "through"):
            j -= 1
        return Place(i, j, None, (), spread=True, word="|".join(names[k] for k in picked))

    # tiers

    def _numbered(self, i: int) -> Place | None:
        """ "tray two", "T1", "#3", "number four", "trays two and three"."""
        word = self.words[i]
        if len(word) >= 2 and word[0] == "t" and word[1:].isdigit() and self.most > 1:
            return self._tiers(i, i + 1, (int(word[1:]),))
        label = i in self.nouns and not word.startswith("one")
        if not (label or word in ("#", "number", "no.", "no", "lvl")):
            return None
        if word == "no" and self._word(i + 1) != ".":
            return None
        j = i + 2 if self._word(i + 1) in (".", "number", "#", "no.") else i + 1
        numbers, end = self._numbers(j, plural=word.endswith("s"))
        if not numbers or (end - 1 in self.measured and not label):
            return None
        if self.most == 1 or (label and self._word(end) in ("of",)):
            return None
        self.counted = True
        return self._tiers(i, end, numbers)

    def _numbers(self, j: int, plural: bool) -> tuple[tuple[int, ...], int]:
        value = cardinal(self._word(j)) if j < len(self.words) else None
        if value is None or not 1 <= value <= 20:
            return (), j
        numbers, end = [value], j + 1
        while plural and self._word(end) in _LIST_JOINS:
            more = cardinal(self._word(end + 1))
            if more is None or not 1 <= more <= 20:
                break
            numbers.append(more)
            end += 2
        return tuple(numbers), end

    def _ranked(self, i: int) -> Place | None:
        """ "top tray", "second one down", "the third box", "top and middle trays"."""
        mention = self.rank.get(i)
        if mention is not None and self._ordinal_alone(i, mention.end):
            return self._tiers(i, mention.end, (mention.value,))
        if mention is None or self.most == 1 or i in self.lengths or i in self.taken:
            return None
        ranks, j = [mention.value], mention.end
        while self._word(j) in _LIST_JOINS and j + 1 in self.rank:
            ranks.append(self.rank[j + 1].value)
            j = self.rank[j + 1].end
        noun = j
        if self._word(noun) in ("full", "two", "little", "big"):
            noun += 1
        if noun not in self.nouns or (self.words[noun] == "ones" and ranks[0] in ("bottom", "below")):
            if (
                len(ranks) < 2
                or (any(r in ("top", "bottom", "below") for r in ranks)
                and self._word(j) == "of")
            ):
                return None
            return self._tiers(i, j, tuple(ranks))
        end = noun + 1
        if mention.value == "below":
            return self._next(i, end)
        if self.words[i] in ("last", "feed", "active", "base", "center", "central") and self.words[noun] in (
            "one",
            "ones",
        ):
            return None
        if self._word(end) in ("down", "up") or self.words[end : end + 3] in (
            ["from", "the", "top"],
            ["from", "the", "bottom"],
        ):
            from_bottom = self.words[end : end + 3] == ["from", "the", "bottom"] or self._word(end) == "up"
            end += 1 if self._word(end) in ("down", "up") else 3
            if from_bottom:
                return Place(i, end, None, tuple(-n for n in _positions(ranks)), word="up")
        return self._tiers(i, end, tuple(ranks))

    def _ordinal_alone(self, i: int, end: int) -> bool:
        """ "the fourth I found sodden", "empty the second": an ordinal after "the" that is no day and names no other noun."""
        if self._word(end) == ":" and self._opens(i) and ordinal(self.words[i]) is not None and self.most > 1:
            return True
        if (
            self.most < 2
            or ordinal(self.words[i]) is None
            or self._word(i - 1) != "the"
            or self.s.covering("day", i) is not None
        ):
            return False
        after = self._word(end)
        return (
            after in ("", ".", ",", ";", "and", "i", "we")
            or self.v.role(after, "copula", "aux", "conj")
            or (after == "on"
            and any(d.start in (end, end + 1) for d in self.s.days))
        )

    def _next(self, i: int, end: int) -> Place | None:
        """ "next tray", "next one down"; not "next door" nor "next time"."""
        if self._word(end) in ("down", "up"):
            return Place(i, end + 1, None, (), step=-1 if self.words[end] == "up" else 1)
        if self.words[end - 1] in ("bin", "bins", "ones", "box", "bucket") and self.most == 1:
            return None
        return Place(i, end, None, (), step=1)

    def _relative(self, i: int) -> Place | None:
        """ "the one below", "the tray above that"."""
        if self.most == 1 or i not in self.nouns:
            return None
        after = self._word(i + 1)
        if self._word(i - 1) not in ("the", "that", "next") or after not in _DOWN | {"above"}:
            return None
        if self._word(i + 2) in ("the", "a") and after not in ("below", "above", "underneath"):
            return None
        end = i + 2 + (self._word(i + 2) in ("that", "it", "this"))
        return Place(i, end, None, (), step=-1 if after in _UP else 1)

    def _bare(self, i: int) -> Place | None:
        """A rank with no noun: "top's dry", "mid dry", "in the bottom"."""
        if self.words[i] not in _BARE or self.most == 1 or i in self.taken or i in self.lengths:
            return None
        before, after = self._word(i - 1), self._word(i + 1)
        if (
            after == "of"
            and self._word(i + 2) in ("the", "that", "my")
            and (self._word(i + 3) in ("stack", "tower", "pile") or self._alias(i + 3) or self._alias(i + 2))
        ):
            return self._tiers(i, i + 4, (_ENDS[self.words[i]],))
        if before in ("on", "over", "from", "a", "and", "of") or after in (
            "of",
            "off",
            "up",
            "it",
            "them",
            "with",
            "half",
            "inch",
            "couple",
            "few",
            "corner",
            "edge",
            "edges",
            "side",
            "inches",
            "right",
            "left",
            "dressed",
            "dressing",
        ):
            return None
        if before == "the" and self._word(i - 2) in ("over", "near", "across", "toward", "towards"):
            return None
        if i + 1 in self.lengths:
            return None
        return self._tiers(i, i + 1, (_ENDS[self.words[i]],))

    def _pair(self, i: int) -> Place | None:
        """ "five and six are both ready" where the note numbers its tiers; "third and fourth"."""
        first = cardinal(self.words[i])
        swapping = getattr(self.s.ending("verb", i), "value", "") == "swap"
        if first is None or self.most == 1 or not (self.counted or swapping) or i in self.measured:
            return None
        if (
            self._word(i + 1) in ("is", "'s", "looks", "was")
            and self._opens(i)
            and first <= self.most
            and not swapping
            and self._word(i + 2) not in ("of", "more")
        ):
            return self._tiers(i, i + 1, (first,))
        if self._word(i + 1) not in _LIST_JOINS:
            return None
        second = cardinal(self._word(i + 2))
        if second is not None and swapping and max(first, second) <= self.most:
            return self._tiers(i, i + 3, (first, second))
        if (
            second is None
            or not first < second <= self.most
            or (not self._verbal(self._word(i + 3))
            and self._word(i + 3) != "both")
        ):
            return None
        return self._tiers(i, i + 3, (first, second))

    def _every(self, i: int) -> Place | None:
        """ "both trays", "each tray", "all three", "every box": a word for all, with or without its noun."""
        if self.words[i] in ("either", "neither") and (i + 1 in self.nouns or i + 1 in self.binnouns):
            return Place(i, i + 2, None, (), spread=True, word="both")
        for m in filter(None, [self.s.starting("mark", i)]):
            alone = (
                m.value == "each"
                and self._word(i - 1) in ("to", "in", "into", "for")
                and self._word(m.end) in ("", ".", ",", "and")
            )
            if alone and m.start == i:
                return Place(i, m.end, None, (), spread=True, word="every")
            if (
                m.start != i
                or m.value not in ("both", "every")
                or self.v.role(self._word(i - 1), "copula", "aux")
            ):
                continue
            end = m.end
            if self._word(end) in ("of", "the") and (end + 1 in self.nouns or end + 1 in self.binnouns):
                end += 1
            if end in self.rank and self.most > 1:
                return Place(
                    i,
                    end + 1 + (end + 1 in self.nouns),
                    None,
                    (self._position(self.rank[end].value),),
                    spread=True,
                    word="both",
                )
            if end in self.nouns or end in self.binnouns:
                end += 1
            return Place(i, end, None, (), spread=True, word=str(m.value))
        return None

    def _position(self, rank: str) -> int:
        return _positions([rank])[0]

    def _tiers(self, start: int, end: int, ranks: tuple[int | str, ...]) -> Place:
        return Place(start, end, None, tuple(_positions(ranks)))

    def _before(self, i: int) -> str:
        """The preposition or giving verb that a place hangs on, "" where it stands in front."""
        j = i - 1
        numbered = self._word(i) in self.v.roles["det"] or any(
            w.isdigit() or cardinal(w) is not None for w in self.words[i : i + 3]
        )
        while j >= 0 and (
            (self.v.role(self.words[j], "det")
            and not (numbered and self.words[j] == "that"))
            or self.words[j] in ("back", "very", "old", "whole", "just", "up", "down", "only")
        ):
            if self.words[j] in ("up", "down") and j and self.v.role(self.words[j - 1], "verb"):
                break
            j -= 1
        word = self._word(j)
        place = next((p for p in (self._here,) if p is not None and p.start == i), None)
        follows = self._word(place.end) if place else ""
        if self.v.role(word, "prep"):
            particle = word in ("on", "off", "out", "down", "up", "back", "over")
            return "" if particle and follows in ("i", "we", "there") else word
        if place and self.v.role(follows, "copula") and follows not in ("'s", "is"):
            return ""
        if self.s.ending("verb", j + 1) is not None:
            return "object"
        return ""


_ENDS = {
    "top": "top",
    "upper": "top",
    "uppermost": "top",
    "topmost": "top",
    "middle": "middle",
    "mid": "middle",
}
_ENDS |= dict.fromkeys(("bottom", "lower", "bottommost", "btm", "bot"), "bottom")
TOP, BOTTOM, MIDDLE = 0, 1000, 500
"""Ranks whose position needs the number of tiers, which the bin that holds then gives."""


def _positions(ranks: tuple[int | str, ...] | list[str]) -> list[int]:
    named = {"top": 1, "bottom": BOTTOM, "middle": MIDDLE, "below": 0}
    return [r if isinstance(r, int) else named.get(r) or (int(r) if r.isdigit() else 1) for r in ranks]


def _is_number(alias: Alias) -> bool:
    return len(alias.words) == 1 and cardinal(alias.words[0]) is not None


def position(rank: int, tiers: int) -> int | None:
    """The position from the top that a rank means in a bin of `tiers`; None where the bin has no such tier."""
    if rank == BOTTOM:
        return tiers
    if rank == MIDDLE:
        return (tiers + 1) // 2 if tiers % 2 else None
    if rank < 0:
        rank = tiers + 1 + rank
    return rank if 1 <= rank <= tiers else None


def iter_bins(word: str) -> Iterator[str]:
    """The bins that a spread place names."""
    yield from (w for w in word.split("|") if w not in ("both", "every"))
