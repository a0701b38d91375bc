"""The words of a correction: what stands between the words taken back and those that replace them.

    two handfuls of kale | no , sorry , make that | three

Which words do so is lexicon/words/repairs.csv.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from lexicon import Row

FAINT, WEAK, STRONG = 1, 2, 3
"""How sure the words are to correct: "uh", "no", "make that"."""

_STRENGTH = {"faint": FAINT, "weak": WEAK, "strong": STRONG}
_PAUSES = frozenset((",", ".", "...", "…", "-", "–", "—", "("))
_JOINED = re.compile(r"(n't|'(?:s|m|re|ve|ll|d))\b")


@dataclass(slots=True)
class Between:
    """A run of such words, `words[start:end]`."""

    start: int
    end: int
    strength: int
    paused: bool = False
    """A comma or full stop stands after the word that corrects."""
    led: bool = False
    """A verb of its own leads to what is meant: "that was", "those are"."""
    denied: list[int] = field(default_factory=list)
    """Where what is taken back is said once more: "no, not grits, grit"."""


class Betweens:
    """Finds the words of a correction in a note."""

    def __init__(self, rows: Iterable[Row]) -> None:
        self._by_first: dict[str, list[tuple[tuple[str, ...], str]]] = {}
        for row in rows:
            for form in row["form"].split(";"):
                words = tuple(_JOINED.sub(r" \1", form).split())
                self._by_first.setdefault(words[0], []).append((words, row["sense"]))
        for known in self._by_first.values():
            known.sort(key=lambda entry: -len(entry[0]))

    def at(self, words: Sequence[str], i: int, *senses: str) -> tuple[int, str] | None:
        """The longest form of one of `senses` that starts at `i`: where it ends, and its sense."""
        for form, sense in self._by_first.get(words[i], ()) if i < len(words) else ():
            if sense in senses and tuple(words[i : i + len(form)]) == form:
                return i + len(form), sense
        return None

    def run(self, words: Sequence[str], i: int, spans: dict[int, int]) -> Between | None:
        """The run whose first correcting word stands at `i`; `spans`: where mentions start and end."""
        first = self.at(words, i, "strong", "weak", "faint") or self._denying(words, i, spans)
        if first is None or (words[i] == "wait" and i and self.at(words, i - 1, "before")):
            return None
        found = Between(i, first[0], _STRENGTH[first[1]])
        while (end := self._next(words, found, spans)) is not None:
            found.end = end
        if found.led:
            found.strength = max(found.strength, WEAK)
        return found

    def _denying(self, words: Sequence[str], i: int, spans: dict[int, int]) -> tuple[int, str] | None:
        """ "not melon I mean mango": what is denied first, and then corrected."""
        denial = self.at(words, i, "denial")
        if denial is None or denial[0] not in spans:
            return None
        after = spans[denial[0]]
        after += words[after : after + 1] == [","]
        return (i, "strong") if self.at(words, after, "strong") else None

    def _next(self, words: Sequence[str], found: Between, spans: dict[int, int]) -> int | None:
        """One more piece of the run from its end on."""
        i = found.end
        denial = self.at(words, i, "denial")
        if denial:
            k = denial[0] + (words[denial[0] : denial[0] + 1] in (["the"], ["a"], ["that"]))
            if k in spans and found.strength > FAINT:
                found.denied.append(k)
                return spans[k]
            return None
        piece = self.at(words, i, "strong", "weak", "lead", "filler")
        if piece is None or piece[0] in found.denied:
            return None
        if i in spans and piece[1] in ("filler", "weak"):
            return None
        if words[i] in _PAUSES:
            found.paused = True
        found.led |= piece[1] == "lead"
        found.strength = max(found.strength, _STRENGTH.get(piece[1], 0))
        return piece[0]

    def added(self, words: Sequence[str]) -> bool:
        """Whether a word says that what follows comes on top."""
        return any(self.at(words, i, "added") for i in range(len(words)))
