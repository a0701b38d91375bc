"""What speech-to-text plainly got wrong, repaired where the neighbourhood supports it (contract 5.10).

`mend` works on the text before it is cut into words, keeps what was heard, and gives a map back to the
raw characters. A heard form is repaired only where a word of its neighbourhood stands within reach.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass

from assistant.reading.guesses import Guesses
from lexicon import Lexicon

WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
_REACH = 12
"""How many words to each side count as the neighbourhood."""
_AROUND, _ALONE, _SIGNS = 40, 16, 0.085
"""Within how many words to each side signs of a worm bin are counted before a word is guessed, how many words
need none, and how many points (signs.csv) each further word asks for."""


@dataclass(frozen=True, slots=True)
class Mended:
    """The repaired text, the repairs `(start, end, heard, meant)` in it, and the way back to the raw text."""

    text: str
    repairs: tuple[tuple[int, int, str, str], ...]
    starts: tuple[int, ...] = (0,)
    shifts: tuple[tuple[int, int], ...] = ((0, 0),)

    def raw(self, position: int, end: bool = False) -> int:
        """Where a character of the repaired text stood in the raw text; inside a repair, its start or end."""
        k = bisect_right(self.starts, position - 1 if end else position) - 1
        base, frozen = self.shifts[max(k, 0)]
        if frozen >= 0:
            return frozen if end else base
        return base + position - self.starts[max(k, 0)]


@dataclass(frozen=True, slots=True)
class Confusion:
    """One heard form (as words), what was meant, and the words that support the repair."""

    heard: tuple[str, ...]
    meant: str
    near: frozenset[str]


class Mender:
    """The lexicon's mishearings, ready to be looked for."""

    def __init__(self, lexicon: Lexicon, classes: dict[str, frozenset[str]]) -> None:
        """`classes` names groups of words ("food", "worm") that a row's `near` may call for."""
        self._by_first: dict[str, list[Confusion]] = {}
        support: dict[str, frozenset[str]] = {}  # the same few neighbourhoods stand in most rows
        for row in lexicon.table("mishearings"):
            named, heard = row["near"], tuple(m.group().lower() for m in WORD.finditer(row["heard"]))
            if named not in support:
                support[named] = _near(named, classes)
            self._by_first.setdefault(heard[0], []).append(Confusion(heard, row["meant"], support[named]))
        for group in self._by_first.values():
            group.sort(key=lambda c: -len(c.heard))
        self._signs = {
            f: int(row["points"]) for row in lexicon.table("signs") for f in row["form"].split(";")
        }
        self._guesses = Guesses(lexicon, ((c.heard, c.meant) for g in self._by_first.values() for c in g))

    def mend(self, text: str, names: frozenset[str] = frozenset()) -> Mended:
        """Repair what the neighbourhood supports; the same text where nothing is to be repaired.

        `names`: the words of the set-up's names, which are heard as they are.
        """
        found = list(WORD.finditer(text))
        words = [m.group().lower().replace("’", "'") for m in found]
        repairs: list[tuple[int, int, str]] = []
        i = 0
        while i < len(words):
            hit = self._at(words, i) if words[i] in self._by_first else None
            n, meant = (len(hit.heard), hit.meant) if hit else self._guesses.at(words, i, _named(found[i]))
            if not names.isdisjoint(words[i : i + n]) or (n and not hit and not self._about_a_bin(words, i)):
                n = 0
            if n:
                repairs.append((found[i].start(), found[i + n - 1].end(), meant))
                words[i : i + n] = [*meant.lower().split(), *[""] * n][:n]
            i += max(n, 1)
        return rewritten(text, repairs) if repairs else Mended(text, (), (0,), ((0, -1),))

    def _about_a_bin(self, words: list[str], i: int) -> bool:
        """Whether a word may be guessed: English around it, and signs of a bin where it is much."""
        around = words[max(0, i - _AROUND) : i + _AROUND]
        if 3 * sum(map(self._guesses.known, around)) < len(around) - 1:
            return False
        return sum(self._signs.get(w, 0) for w in around) >= (len(around) - _ALONE) * _SIGNS

    def _at(self, words: list[str], i: int) -> Confusion | None:
        for confusion in self._by_first[words[i]]:
            n = len(confusion.heard)
            if tuple(words[i : i + n]) != confusion.heard:
                continue
            around = {*words[max(0, i - _REACH) : i], *words[i + n : i + n + _REACH]}
            if not confusion.near or not confusion.near.isdisjoint(around.difference(confusion.heard)):
                return confusion
        return None


def _named(word: re.Match[str]) -> bool:
    """Whether a word has a capital inside a sentence, as a name has."""
    before = word.string[max(0, word.start() - 3) : word.start()].rstrip(" ")
    return word.group().istitle() and before[-1:] not in ("", ".", "!", "?", "\n", ":")


def _near(named: str, classes: dict[str, frozenset[str]]) -> frozenset[str]:
    """The words that a row's `near` names, one by one or by their class."""
    words = filter(None, (w.strip() for w in named.split(";")))
    return frozenset[str]().union(*(classes.get(word, (word,)) for word in words))


def rewritten(text: str, repairs: Iterable[tuple[int, int, str]]) -> Mended:
    """The text with each `(start, end, meant)` put in, and the way back."""
    out: list[str] = []
    starts: list[int] = []
    shifts: list[tuple[int, int]] = []
    kept: list[tuple[int, int, str, str]] = []
    at = length = 0
    for start, end, meant in repairs:
        starts.append(length)
        shifts.append((at, -1))
        out.append(text[at:start])
        length += start - at
        starts.append(length)
        shifts.append((start, end))
        out.append(meant)
        kept.append((length, length + len(meant), text[start:end], meant))
        length += len(meant)
        at = end
    starts.append(length)
    shifts.append((at, -1))
    out.append(text[at:])
    return Mended("".join(out), tuple(kept), tuple(starts), tuple(shifts))
