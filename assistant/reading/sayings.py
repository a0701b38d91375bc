"""Sayings that carry no weight, gone before a note is read: "let me see", "go ahead and", "there we go".

They may stand in the middle of a sentence ("that was, let me see, four pounds") and would part what belongs
together. The words are data: `lexicon/words/sayings.csv` tells what is read in their place.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from assistant.reading.mend import WORD, Mended, rewritten
from lexicon import Lexicon

_BLANKS = re.compile(r"[^\S\n]{2,}")


class Sayings:
    """The sayings of the lexicon, ready to be taken out of a text."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._by_first: dict[str, list[tuple[list[str], str]]] = {}
        for row in lexicon.table("sayings"):
            for form in row["form"].split(";"):
                words = WORD.findall(form)
                self._by_first.setdefault(words[0], []).append((words, row["put"]))
        for known in self._by_first.values():
            known.sort(key=lambda saying: -len(saying[0]))

    def without(self, text: str) -> Mended:
        """The text with no saying in it and one blank between two words, and the way back."""
        blanks = [(m.start(), m.end(), " ") for m in _BLANKS.finditer(text)]
        said = list(self._found(text))
        apart = (b for b in blanks if not any(start < b[1] and b[0] < end for start, end, _ in said))
        return rewritten(text, sorted((*said, *apart)))

    def _found(self, text: str) -> Iterator[tuple[int, int, str]]:
        """Where sayings stand, a comma and a blank behind them included, and what is read in their place."""
        spans = [m.span() for m in WORD.finditer(text)]
        words = [text[start:end].lower().replace("’", "'") for start, end in spans]
        free = 0
        for i, word in enumerate(words):
            for form, put in self._by_first.get(word, ()) if i >= free else ():
                k = i + len(form)
                if words[i:k] != form or not all(
                    text[a:b].isspace() for (_, a), (b, _) in pairwise(spans[i:k])
                ):
                    continue
                end = spans[k - 1][1]
                end += text[end : end + 1] == ","
                blank = text[end : end + 1].isspace()
                yield spans[i][0], end + blank, put + " " * bool(blank and put)
                free = k
                break
