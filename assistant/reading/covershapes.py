"""Covers named by shape and material: "a lid of cardboard", "a newspaper blanket"."""

from __future__ import annotations

from dataclasses import replace

from assistant.reading.nounphrases import NounPhrases
from assistant.reading.sketch import Item

_LAID = frozenset(("cover", "bedding"))


class CoverShapes:
    """Makes one thing of a cover's shape and what it is made of, in one note."""

    def __init__(self, phrases: NounPhrases) -> None:
        self.p, self.v, self.words = phrases, phrases.v, phrases.words

    def joined(self, first: Item, second: Item) -> bool:
        """Whether two things that follow each other are a shape and its material, in either order."""
        if _LAID.isdisjoint(first.topics) or _LAID.isdisjoint(second.topics):
            return False
        if first.end == second.start:
            return second.topic == "cover" and first.name != second.name
        return first.topic == "cover" and self._of(first.end, second.start)

    def _of(self, i: int, end: int) -> bool:
        """ "lid | of wet | newspaper"."""
        if end - i > 4 or self.words[i] != "of":
            return False
        return all(self.p.plain(k) or self.p.participle(k) for k in range(i + 1, end))

    def cover(self, first: Item, second: Item) -> Item:
        """The cover that the two make; a shape of what is loose ("a blanket of leaf mold") is no cover."""
        shape, stuff = (second, first) if first.end == second.start else (first, second)
        sheets = [t for t in stuff.things if t.topic == "cover"]
        if sheets:
            return replace(
                stuff,
                start=first.start,
                end=second.end,
                name=sheets[0].name,
                topics=("cover",),
                amount=None,
                things=(sheets[0],),
            )
        if shape is second:
            name = self.p.said(first.start, second.end)
            return replace(shape, start=first.start, name=name, amount=first.amount)
        return stuff
