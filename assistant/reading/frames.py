"""What the words around a place call for: "two ... of peelings" a measure, "the top ..." a tier.

For mending: a word that was heard wrongly is known by standing where it makes no sense and another would.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from assistant.reading.numbers import cardinal
from lexicon import Lexicon

_PARTS = frozenset("a an another half quarter full big small good heaping double single each".split())
_TABLES = {
    "verbs": "verb",
    "tiernouns": "tier",
    "moisture": "state",
    "smells": "state",
    "tiers": "rank",
    "abundance": "count",
}
_NO_UNITS = frozenset(("in", "as", "no"))
"""Words that are short for a unit, and far more often something else."""
_VERB = frozenset(("verb",))
_NAMING = 3
"""Letters of the shortest word that belongs to a name of two."""
_DEGREES = frozenset("too very pretty really quite bit little kinda slightly so all".split())
_BEING = frozenset(("be", "been", "being"))
_COLOURS = frozenset("tiny little baby dead white red brown more fewer any".split())
_COUNTED = frozenset("lots loads plenty bunch ton tons couple ball cluster heaps cloud swarm clouds".split())


class Frames:
    """The classes of the lexicon's words, and which of them fits where."""

    def __init__(self, lexicon: Lexicon) -> None:
        roles = {row["role"]: row["form"].split(";") for row in lexicon.table("function")}
        grammar = {form for forms in roles.values() for form in forms}
        self.leading = frozenset((*roles["subject"], *roles["and"], "so", "then", "just"))
        self.linking = frozenset(roles["copula"]) - _BEING | _DEGREES
        self.classes: dict[str, set[str]] = {}
        self._after: dict[str, set[str]] = {}
        self._before: dict[str, set[str]] = {}
        for topic, things in lexicon.things.items():
            kind = "creature" if topic == "organism" else "thing"
            for form in (f for thing in things.values() for f in thing.forms):
                words = form.split()
                if len(words) == 1:
                    self._add(form, kind)
                for first, second in pairwise(
                    w if len(w) >= _NAMING and w not in grammar else "" for w in words
                ):
                    if not (first and second):
                        continue
                    self._after.setdefault(first, set()).add(second)
                    self._before.setdefault(second, set()).add(first)
        for row in lexicon.table("measures"):
            for form in (row["name"], *row["forms"].split(";")):
                self._add(form, "measure")
        for table, kind in _TABLES.items():
            for row in lexicon.table(table):
                for form in row["form"].split(";"):
                    self._add(form, kind)

    def _add(self, form: str, kind: str) -> None:
        word = form.strip().lower()
        if word.isalpha():
            self.classes.setdefault(word, set()).add(kind)

    def are(self, word: str, kind: str) -> bool:
        """Whether a word is of a class."""
        return kind in self.classes.get(word, ())

    def called_for(self, words: Sequence[str], start: int, end: int) -> Iterator[str]:
        """The classes that may stand at `words[start:end]`."""
        far, before = _at(words, start - 2), _at(words, start - 1)
        after = _at(words, end)
        named = self.are(after, "thing") or self.are(after, "creature")
        if ((_numeric(before) or before in _PARTS) and after == "of") or (_numeric(before) and named):
            yield "measure"
        if self.are(before, "rank"):
            yield "tier"
        if self.are(after, "tier") and not _numeric(before):
            yield "rank"
        if before in self.leading:
            yield "verb"
        if (before in self.linking or before.endswith("'s")) and after != "of":
            yield "state"
        measured = before if before != "of" else far
        if self.are(measured, "measure") and len(measured) > 1 and measured not in _NO_UNITS and not named:
            yield from ("thing", "creature")
        if self.are(before, "count") or before in _COLOURS or (before == "of" and far in _COUNTED):
            yield "creature"

    def countable(self, words: Sequence[str], start: int) -> Iterator[str]:
        """The classes that a figure before word `start` may count, for a word that is none of English."""
        before = _at(words, start - 1)
        if _numeric(before) or before in _PARTS:
            yield from ("measure", "thing", "creature")

    def tied(self, words: Sequence[str], start: int, end: int, word: str) -> bool:
        """Whether a word makes one name with the word before or after: "banana | peel"."""
        before, after = self._after.get(_at(words, start - 1), ()), self._before.get(_at(words, end), ())
        return word in before or word in after

    def partners(self, words: Sequence[str], i: int) -> set[str]:
        """The words that make one name with the word before or after `i`."""
        before, after = _at(words, i - 1), _at(words, i + 1)
        return {*self._after.get(before, ()), *self._before.get(after, ())}

    def sensible(self, word: str) -> bool:
        """Whether a word names something of the trade by itself; verbs are everybody's."""
        return not self.classes.get(word, _VERB) <= _VERB


def _at(words: Sequence[str], i: int) -> str:
    return words[i] if 0 <= i < len(words) else ""


def _numeric(word: str) -> bool:
    return word.isdigit() or cardinal(word) is not None
