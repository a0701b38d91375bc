"""Things told by the form of the note: under a heading ("Out: one pit"), or by name alone ("T1: kale")."""

from __future__ import annotations

from assistant.reading.draft import Context
from assistant.reading.sketch import Item

_IN = frozenset("in food feed fed menu scraps greens browns bedding added given served".split())
_OUT = frozenset(("out", "removed", "binned"))
_FOUND = frozenset(("found", "seen", "left", "uneaten", "remaining"))
_DONE = frozenset("done sorted tick finished".split())
_JOINING = frozenset(", and & + plus : - – with on in the a an some of bit".split())
_HEADING = 3  # words of a heading, with its colon
_REACH = 2  # clauses from the thing to "done"


def out_headed(c: Context, item: Item) -> bool:
    """ "Out: one peach pit"."""
    return not _OUT.isdisjoint(_heading(c, item))


def in_headed(c: Context, item: Item) -> bool:
    """ "In: kale, rice", "T1: kale + coffee", "Coffee. Corner. Done."."""
    if not _IN.isdisjoint(_heading(c, item)):
        return True
    if c.here("verb") or not _only_things(c):
        return False
    led = any(p.start == c.clause.start and c.word(p.end) in (":", "-", "–") for p in c.clause.places)
    return led or _ticked_off(c)


def _heading(c: Context, item: Item) -> list[str]:
    """The words before the colon that the clause opens with; none where it opens otherwise."""
    words = c.words[c.clause.start : min(c.clause.start + _HEADING, item.start)]
    found = words[: words.index(":")] if ":" in words else []
    return [] if not _FOUND.isdisjoint(found) else found


def _only_things(c: Context) -> bool:
    """Whether the clause says nothing but things, their amounts, how they are and where."""
    spans = (*c.items, *c.amounts, *c.clause.places, *c.here("spot"))
    told = {i for s in spans for i in range(s.start, s.end)}
    told |= {i for x in c.items if x.amount for i in range(x.amount.start, x.amount.end)}
    rest = (c.words[i] for i in range(c.clause.start, c.clause.end) if i not in told)
    return all(w in _JOINING or w in c.vocabulary.conditions for w in rest)


def _ticked_off(c: Context) -> bool:
    """Whether "done" stands alone in one of the next clauses."""
    after = c.sketch.clauses[c.index + 1 : c.index + 1 + _REACH]
    return any(k.end - k.start <= 2 and c.words[k.end - 1] in _DONE for k in after)
