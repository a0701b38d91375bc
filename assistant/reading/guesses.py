"""A word that makes no sense where it stands, read as one that would: by known confusions, or by sound.

The rows of mishearings.csv are whole phrases; the words in which they differ ("tree" for "tray") are looked
for wherever the neighbours call for what was meant (`frames.py`). A word of the trade is never touched, and
by sound alone only what is no English word (`plainwords.py`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property

from assistant.reading.frames import Frames
from assistant.reading.plainwords import PlainWords
from assistant.reading.sounds import Nearest, sound
from assistant.reading.spelling import within
from lexicon import Lexicon

Pair = tuple[tuple[str, ...], str]
_SHORT = 4
"""Letters below which a word's sound tells too little."""
_TELLING = 6
"""Letters from which a word is plainly no English one, so that it needs no neighbour to be mended."""
_LONG = 7
"""Letters from which a name may differ in two."""


class Guesses:
    """Asked for every word of a note that no row of mishearings.csv repairs as it stands."""

    def __init__(self, lexicon: Lexicon, pairs: Iterable[Pair]) -> None:
        """`pairs` are the heard words and what was meant, as the rows say."""
        self.frames = Frames(lexicon)
        self._plain = PlainWords(lexicon)
        self._heard: dict[str, list[Pair]] = {}
        for heard, meant in pairs:
            for words, word in _differing(heard, tuple(meant.lower().split())):
                said = "'" in words[0] and len(words) == 1  # "core's ninety": a word with its verb
                if said or not self.frames.sensible(word) or self._plain.grammar(words):
                    continue
                if (words, word) not in self._heard.get(words[0], ()):
                    self._heard.setdefault(words[0], []).append((words, word))

    def known(self, word: str) -> bool:
        """Whether a word is plain English or of the trade; an empty one was mended with the one before."""
        return not word or word in self._plain or self.frames.sensible(word)

    def at(self, words: Sequence[str], i: int, name: bool) -> tuple[int, str]:
        """How many words from `i` on were heard wrongly, and what was meant; `(0, "")` for none.

        `name`: whether a capital says that the word may be somebody's name.
        """
        for heard, meant in self._heard.get(words[i], ()):
            end = i + len(heard)
            if tuple(words[i:end]) == heard and self._fits(words, i, end, meant):
                return end - i, meant
        meant = "" if name else self._by_sound(words, i)
        return (1, meant) if meant else (0, "")

    def _fits(self, words: Sequence[str], i: int, end: int, meant: str) -> bool:
        """Whether the neighbours call for `meant` and what was heard makes no sense between them."""
        if end == i + 1 and self._sensible(words, i):
            return False
        called = self.frames.called_for(words, i, end)
        return any(self.frames.are(meant, kind) for kind in called) or self.frames.tied(words, i, end, meant)

    def _sensible(self, words: Sequence[str], i: int) -> bool:
        return self.frames.sensible(words[i]) or self.frames.tied(words, i, i + 1, words[i])

    def _by_sound(self, words: Sequence[str], i: int) -> str:
        word = words[i]
        if len(word) < _SHORT or not word.isalpha() or word in self._plain or self._sensible(words, i):
            return ""
        for kind in filter(self._nearest.get, self.frames.called_for(words, i, i + 1)):
            near = self._nearest[kind].of(word)
            if near is not None and len(near) >= _SHORT:
                return near
        for kind in self.frames.countable(words, i):
            if near := self._nearest[kind].alike(word):
                return near
        return self._name(words, i) or (self._anywhere.alike(word) if len(word) >= _TELLING else "")

    def _name(self, words: Sequence[str], i: int) -> str:
        """The word that makes one name with a neighbour and sounds like word `i`."""
        word = words[i]
        slips = 1 if len(word) < _LONG else 2
        partners = (w for w in self.frames.partners(words, i) if len(w) >= _SHORT)
        near = {w for w in partners if sound(w) == sound(word) and within(word, w, slips)}
        return near.pop() if len(near) == 1 else ""

    @cached_property
    def _anywhere(self) -> Nearest:
        return Nearest(w for w in self.frames.classes if len(w) >= _TELLING)

    @cached_property
    def _nearest(self) -> dict[str, Nearest]:
        kinds = ("measure", "thing", "creature", "state", "tier", "rank", "verb")
        classes = self.frames.classes.items()
        return {kind: Nearest(w for w, of in classes if kind in of) for kind in kinds}


def _differing(heard: tuple[str, ...], meant: tuple[str, ...]) -> Iterable[Pair]:
    """The one word of a confusion that was taken for others, without those that were heard right."""
    while heard and meant and heard[0] == meant[0]:
        heard, meant = heard[1:], meant[1:]
    while heard and meant and heard[-1] == meant[-1]:
        heard, meant = heard[:-1], meant[:-1]
    return [(heard, meant[0])] if heard and len(meant) == 1 else []
