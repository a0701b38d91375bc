"""Ordinary English words, which a slip of the recogniser's that no list holds must not be suspected of."""

from __future__ import annotations

from collections.abc import Iterable

from assistant.reading.numbers import cardinal
from lexicon import Lexicon

_ENDINGS = tuple(
    ending.split(">")
    for ending in "ies>y ied>y es> s> ed> d> ing> ing>e er> r> est> ly> y> ier>y ily>y 's>".split()
)
"""Endings and what the stem has in their place."""


class PlainWords:
    """The words of plain.csv and of every table of sayings, with their regular endings."""

    def __init__(self, lexicon: Lexicon) -> None:
        roles = [row for row in lexicon.table("function") if row["role"] != "verb"]
        self._grammar = frozenset(form for row in roles for form in row["form"].split(";"))
        tables = [t for t in lexicon.tables if "form" in (lexicon.tables[t][:1] or ({},))[0]]
        self._words = frozenset().union(*(_of(lexicon, table) for table in tables))

    def __contains__(self, word: str) -> bool:
        if word in self._words or cardinal(word) is not None:
            return True
        stems = (word[: -len(end)] + put for end, put in _ENDINGS if word.endswith(end))
        return any(s in self._words or (s[:-1] in self._words and s[-1:] == s[-2:-1]) for s in stems)

    def grammar(self, words: Iterable[str]) -> bool:
        """Whether all words are small ones, which stand everywhere."""
        return all(word in self._grammar for word in words)


def _of(lexicon: Lexicon, table: str) -> frozenset[str]:
    forms = (form for row in lexicon.table(table) for form in row["form"].split(";"))
    return frozenset(word.lower() for form in forms for word in form.split())
