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
    """A measure read before atom `end`; `word` is its last word as said, `plural` whether that was a plural."""

    measure: Measure
    end: int
    word: str
    plural: bool


class Measures:
    """Looks a measure up by its words. Build it once from the rows of measures.csv (LEXICON format)."""

    def __init__(self, rows: Iterable[Mapping[str, str]]) -> None:
        self._by_first: dict[str, list[tuple[tuple[str, ...], Measure, bool]]] = {}
        self.by_name: dict[str, Measure] = {}
        for row in rows:
            base = row.get("base", "").strip()
            measure = Measure(row["name"], row["dimension"], Fraction(base) if base else None)
            self.by_name.setdefault(measure.name, measure)
            for form in dict.fromkeys((row["name"], *row["forms"].split(";"))):
                self._add(form.strip().lstrip("=").lower(), measure)
        for known in self._by_first.values():
            known.sort(key=lambda entry: -len(entry[0]))
        self.starts = frozenset(self._by_first)

    def _add(self, form: str, measure: Measure) -> None:
        """Take a form and its other number; a form given twice keeps its first measure.

        A form that names what is measured ("sprays of water") is left out: the thing is no part of an amount.
        """
        for said in () if " of " in form else (form, *inflect(form)) if form else ():
            words = tuple(split(said.replace("_", " ").split())[0])
            known = self._by_first.setdefault(words[0], [])
            if all(words != other for other, _, _ in known):
                known.append((words, measure, _is_plural(words[-1], measure)))

    def at(self, atoms: Sequence[str], i: int) -> Found | None:
        """The longest measure whose words start at atom `i`, else None."""
        for words, measure, plural in self._by_first.get(atoms[i] if i < len(atoms) else "", ()):
            end = i + len(words)
            if tuple(atoms[i:end]) == words:
                return Found(measure, end, words[-1], plural)
        return None


def _is_plural(word: str, measure: Measure) -> bool:
    return len(word) > 2 and word.endswith("s") and not word.endswith("ss") and word != measure.name
