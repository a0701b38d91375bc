"""The words of a question, and the phrases of the lexicon's question tables in them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Generic, NamedTuple, TypeVar

from assistant.reading.sketch import Sketch
from lexicon import Lexicon, Row


class Phrase(NamedTuple):
    """A phrase in `words[start:end]` of a `Heard`, and the row of the table that has it."""

    start: int
    end: int
    row: Row


class Phrases:
    """The phrases of one table, looked up word by word; apostrophes do not count."""

    def __init__(self, rows: Iterable[Row]) -> None:
        self._by_first: dict[str, list[tuple[tuple[str, ...], Row]]] = {}
        for row in rows:
            for form in row["form"].split(";"):
                words = tuple(plain(word) for word in form.split())
                if words:
                    self._by_first.setdefault(words[0], []).append((words, row))
        for held in self._by_first.values():
            held.sort(key=lambda one: -len(one[0]))

    def all(self, words: Sequence[str]) -> list[Phrase]:
        """Every phrase, overlapping ones too, in the order in which they begin."""
        return [
            Phrase(i, i + len(phrase), row)
            for i, word in enumerate(words)
            for phrase, row in self._by_first.get(word, ())
            if tuple(words[i : i + len(phrase)]) == phrase
        ]

    def longest(self, words: Sequence[str]) -> list[Phrase]:
        """The phrases in order, the longest first where two overlap."""
        taken: set[int] = set()
        kept = []
        for phrase in sorted(self.all(words), key=lambda one: (one.start - one.end, one.start)):
            if taken.isdisjoint(range(phrase.start, phrase.end)):
                taken.update(range(phrase.start, phrase.end))
                kept.append(phrase)
        return sorted(kept)

    def whole(self, words: Sequence[str]) -> Row | None:
        """The row of the phrase that is all of `words`."""
        found = [one for one in self.all(words) if one.start == 0 and one.end == len(words)]
        return found[0].row if found else None


T = TypeVar("T")


class Once(Generic[T]):
    """Makes something of a lexicon the first time it is asked for, and keeps it for that lexicon."""

    def __init__(self, make: Callable[[Lexicon], T]) -> None:
        self._make = make
        self._made: list[tuple[Lexicon, T]] = []

    def __call__(self, lexicon: Lexicon) -> T:
        """What was made of `lexicon`."""
        for known, made in self._made:
            if known is lexicon:
                return made
        self._made = [(lexicon, self._make(lexicon)), *self._made[:3]]
        return self._made[0][1]


class _Tables:
    """The phrases of each table of a lexicon, made ready when first asked for."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._lexicon = lexicon
        self._ready: dict[str, Phrases] = {}

    def __getitem__(self, name: str) -> Phrases:
        """The phrases of the table `name`."""
        if name not in self._ready:
            self._ready[name] = Phrases(self._lexicon.table(name))
        return self._ready[name]


_tables_of = Once(_Tables)


def phrases(lexicon: Lexicon, name: str) -> Phrases:
    """The phrases of the lexicon's table `name`."""
    return _tables_of(lexicon)[name]


class Heard:
    """The words of a sketch put together again ("what" + "'s" is "whats"), each with its place in the sketch.

    `at[i]` is the first word of the sketch that word `i` comes from.
    """

    def __init__(self, sketch: Sketch) -> None:
        self.sketch = sketch
        self.words: list[str] = []
        self.at: list[int] = []
        end = -1
        for i, word in enumerate(sketch.words):
            start = sketch.spans[i][0]
            if not any(c.isalnum() for c in word):
                end = -1
                continue
            if start == end and self.words and _joins(word):
                self.words[-1] += plain(word)
            else:
                self.words.append(plain(word))
                self.at.append(i)
            end = sketch.spans[i][1]
        self.asked = sketch.text.rstrip().endswith("?")

    def __len__(self) -> int:
        return len(self.words)

    def covered(self, spans: Iterable[tuple[int, int]]) -> set[int]:
        """The words that lie in spans of the sketch's words."""
        held = {i for start, end in spans for i in range(start, end)}
        return {k for k, i in enumerate(self.at) if i in held}

    def inside(self, start: int, end: int) -> tuple[int, int]:
        """The span of the sketch's words that `words[start:end]` comes from."""
        stop = self.at[end] if end < len(self.at) else len(self.sketch.words)
        return self.at[start], stop


def _joins(word: str) -> bool:
    return word[0] in "'’" or word in ("n't", "nt", "s", "m", "ll", "re", "ve", "d", "n’t")


def plain(word: str) -> str:
    """A word without apostrophes, lower case."""
    return word.lower().replace("'", "").replace("’", "")
