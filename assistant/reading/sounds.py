"""Words that sound alike: a key of the consonants heard, and the word of a list that is nearest."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from itertools import groupby

from assistant.reading.spelling import within

_SPELT = tuple(pair.split(">") for pair in "tch>j ch>j sh>j ph>f th>f gh> ck>k ce>s ci>s cy>s x>ks".split())
"""Spellings and the sound they stand for."""
_SILENT = {"wr": "r", "rh": "r", "kn": "n", "gn": "n"}
_ALIKE = str.maketrans("cqgzbdvn", "kkksptfm", "aeiouyhw")
"""Voiced and voiceless consonants are taken together; what is no consonant says little."""


def sound(word: str) -> str:
    """The consonants of a word as they are heard: "kale" and "cale" alike, "peel" and "beal"."""
    word = _SILENT.get(word[:2], word[:2]) + word[2:]
    for spelt, heard in _SPELT:
        word = word.replace(spelt, heard)
    first = "a" if word[:1] in "aeiou" else word[:1].translate(_ALIKE)
    return "".join(letter for letter, _ in groupby(first + word[1:].translate(_ALIKE)))


class Nearest:
    """A list of words, to be asked for the one that another was meant to be."""

    def __init__(self, words: Iterable[str]) -> None:
        self._words = sorted(set(words))
        self._by_sound: dict[str, list[str]] = {}
        for word in self._words:
            self._by_sound.setdefault(sound(word), []).append(word)

    @cached_property
    def _by_rest(self) -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        for word in self._words:
            for rest in _rests(word):
                found.setdefault(rest, []).append(word)
        return found

    def of(self, word: str) -> str | None:
        """The only word of the list that sounds like `word` or is one slip away; None for several."""
        alike = {w for w in self._by_sound.get(sound(word), ()) if within(word, w, 2)}
        closer = (
            {w for w in alike if within(word, w, 1)} or {w for w in alike if len(w) == len(word)} or alike
        )
        if len(word) > _LONG and not closer:
            closer = {w for r in _rests(word) for w in self._by_rest.get(r, ()) if within(word, w, 1)}
        return closer.pop() if len(closer) == 1 else None

    def alike(self, word: str) -> str:
        """The only word of the list that sounds the same and differs in one letter; "" for none."""
        found = [w for w in self._by_sound.get(sound(word), ()) if within(word, w, 1)]
        return found[0] if len(found) == 1 else ""


_LONG = 4
"""Letters up to which a slip of one changes too much of a word."""


def _rests(word: str) -> set[str]:
    """A word and what is left of it without one of its letters: words one slip apart share one of these."""
    return {word} | {word[:i] + word[i + 1 :] for i in range(len(word))}
