"""Whether what is told of went away for good: "in the trash", "to the hens", "out to the hot heap"."""

from __future__ import annotations

from assistant.reading.draft import Context
from assistant.reading.sketch import Item

_TOWARDS = frozenset("in into to on onto for over under out".split())
_REACH = 7  # words from what is thrown to the preposition
_LONGEST = 3  # words between the preposition and the place


def thrown_away(c: Context, start: int) -> bool:
    """Whether, from `start` on, the clause leads to a place or an animal that nothing comes back from."""
    for i in range(start, min(start + _REACH, c.clause.end - 1, c.next_thing(start))):
        if c.words[i] in _TOWARDS and any(_away(c, k) for k in range(i + 1, i + 1 + _LONGEST)):
            return True
    return False


def is_away(c: Context, item: Item) -> bool:
    """ "thrown on the roses": a thing that is only where others go."""
    led = any(w in _TOWARDS for w in c.words[max(c.clause.start, item.start - 2) : item.start])
    return led and any(_away(c, k) for k in range(item.start, item.end))


def _away(c: Context, i: int) -> bool:
    """Whether a phrase of away.csv starts at `i`, with nothing but describing words before it."""
    if any(p.start <= i < p.end for p in c.clause.places):
        return False
    return any(tuple(c.words[i : min(i + n, c.clause.end)]) in c.vocabulary.away for n in (1, 2))
