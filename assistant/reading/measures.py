"""Measures by the words that name them: the table of lexicon/measures.csv."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from assistant.reading.tokens import split
from lexicon import inflect


class Measure(NamedTuple):
    """A row of measures.csv: `base` is its exact value in g, ml or cm, None for one of the keeper's own."""

    name: str
    dimension: str
    base: Fraction | None


class Found(NamedTuple):
    """A measure read before atom `end`; `word` is its last word as said, `plural` whether it is one."""

    measure: Measure
    end: int
    word: str
    plural: bool


class Measures:
    """Looks a measure up by its words. Build it once from the rows of measures.csv (LEXICON format)."""

    def __init__(self, rows: Iterable[Mapping[str, str]]) -> None:
        self._known: dict[tuple[str, ...], tuple[Measure, bool]] = {}
        self.by_name: dict[str, Measure] = {}
        for row in rows:
            base = row.get("base", "").strip()
            measure = Measure(row["name"], row["dimension"], Fraction(base) if base else None)
            self.by_name.setdefault(measure.name, measure)
            for form in dict.fromkeys((row["name"], *row["forms"].split(";"))):
                self._add(form.strip().lstrip("=").lower(), measure)
        lengths: dict[str, set[int]] = {}
        for words in self._known:
            lengths.setdefault(words[0], set()).add(len(words))
        self._lengths = {word: sorted(sizes, reverse=True) for word, sizes in lengths.items()}
        self.starts = frozenset(lengths)

    def _add(self, form: str, measure: Measure) -> None:
        """Take a form and its other number; a form given twice keeps its first measure.

        A form that names what is measured ("sprays of water") is left out: the thing is no part of an amount.
        """
        if not form or " of " in form:
            return
        for said in (form, *inflect(form)):
            words = tuple(split(said.replace("_", " ").split())[0])
            self._known.setdefault(words, (measure, _is_plural(words[-1], measure)))

    def at(self, atoms: Sequence[str], i: int) -> Found | None:
        """The longest measure whose words start at atom `i`, else None."""
        for size in self._lengths.get(atoms[i], ()) if i < len(atoms) else ():
            words = tuple(atoms[i : i + size])
            known = self._known.get(words)
            if known:
                return Found(known[0], i + len(words), words[-1], known[1])
        return None


def _is_plural(word: str, measure: Measure) -> bool:
    return len(word) > 2 and word.endswith("s") and not word.endswith("ss") and word != measure.name
