"""The place inside a tier, as it was said: "in the back left corner", "along the south wall", "plug end"."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from typing import Any

from assistant.reading.sketch import Clause, Sketch
from assistant.reading.vocabulary import Vocabulary

_LEADS = frozenset("in into on onto at along near by against under down across over around".split())
_KEPT = frozenset(("along", "around", "across"))
_ARTICLES = frozenset(("the", "one", "each", "that", "this", "a", "its", "his", "her"))
_ALONE = frozenset(("end", "side", "corner", "wall", "edge", "ends", "edges", "corners"))
_LONGEST = 3
"""Words before the head: "back left", "worst wet"."""


def spots(sketch: Sketch, vocabulary: Vocabulary, clause: Clause) -> Iterator[tuple[int, int]]:
    """Word spans of the clause's spots, without their article; a bin, a tier or a thing is none."""
    words = sketch.words
    layers = (sketch.within(layer, clause.start, clause.end) for layer in ("thing", "moisture", "verb"))
    claims: list[Any] = [*clause.places, *clause.days, *chain.from_iterable(layers)]
    claimed = {i for claim in claims for i in range(claim.start, claim.end)}
    heads = [m.start for m in sketch.within("spot", clause.start, clause.end) if m.start not in claimed]
    for head in heads:
        if head + 1 in heads:
            continue
        first = head
        while first > clause.start and head - first < _LONGEST and first - 1 not in claimed:
            if not _describes(words[first - 1], vocabulary):
                break
            first -= 1
        article = first > clause.start and words[first - 1] in _ARTICLES
        lead = words[first - 1 - article] if first - 1 - article >= clause.start else ""
        if lead in _LEADS and (article or first < head):
            yield (first - 1 - article if lead in _KEPT else first), head + 1
        elif words[head] in _ALONE and first < head and first - article == clause.start:
            yield first, head + 1


def _describes(word: str, vocabulary: Vocabulary) -> bool:
    return word.isalpha() and word not in _LEADS and not vocabulary.role(word, *vocabulary.roles)


def spot(sketch: Sketch, vocabulary: Vocabulary, clause: Clause, start: int, end: int) -> str | None:
    """The spot nearest to words `start` to `end` of the clause, in the keeper's own words."""
    found = list(spots(sketch, vocabulary, clause))
    if not found:
        return None
    a, b = min(found, key=lambda s: max(s[0] - end, start - s[1], 0))
    return sketch.raw(a, b)[0]
