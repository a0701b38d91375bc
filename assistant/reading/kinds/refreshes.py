"""The bedding of a bin or tier replaced as a whole."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.near import after, before, is_of
from assistant.reading.sketch import Mention

_CONTENTS = frozenset("bedding bed contents everything lot".split())
_REDOING = frozenset(("redo", "redid", "redone"))
_ANEW = (["new", "bedding"], ["fresh", "bedding"])
_CHANGES = (["bedding", "change"], ["bedding", "swap"], ["bedding", "refresh"], ["fresh", "start"])
_OF_AN_EARLIER_ONE = frozenset(("the", "last", "since", "to", "a"))


def refresh(c: Context) -> Iterator[Draft]:
    """A verb of replacing the bedding, or a noun for it."""
    for v in c.here("verb"):
        if not _replaces(c, v):
            continue
        if v.value == "refresh" and any(i.topic not in ("bedding", "cover") for i in c.free()):
            continue
        yield from _refreshed(c, v.start, v.end)
        return
    for i in range(c.clause.start, c.clause.end):
        if _by_noun(c, i):
            yield from _refreshed(c, i, i + 2)
            return
        if c.words[i] == "new" and (c.word(i - 1) in ("all", "put") or c.word(i + 1) in ("in", "went")):
            yield from _old_for_new(c, i)


def _old_for_new(c: Context, i: int) -> Iterator[Draft]:
    """ "dumped the old bedding, all new", "dumped the old newspaper | and put new"."""
    things = c.sketch.within("thing", c.sketch.clauses[max(0, c.index - 1)].start, i)
    old = next((m for m in things if _old_bedding(c, m)), None)
    if old is None:
        return
    for draft in c.drafts:
        if draft.kind in ("bed", "remove") and draft.start <= old.start < draft.end:
            draft.kind, draft.item, draft.amount, draft.state = "refresh", None, None, "done"
            return
    c.taken.update(x.start for x in c.items if x.start <= old.start < x.end)
    c.clause.used.update(v.start for v in c.here("verb") if v.start < old.start)
    yield Draft("refresh", min(old.start, i), i + 1, c.clause)


def _old_bedding(c: Context, m: Mention) -> bool:
    """Whether a thing is bedding and is called old."""
    bedding = any(c.vocabulary.topic(t) == "bedding" for t in m.value)
    return bedding and "old" in c.words[max(0, m.start - 2) : m.end]


def _replaces(c: Context, v: Mention) -> bool:
    """ "refreshed the tub", "redid tray two", "changed out the bedding"."""
    if v.value == "refresh" or (c.words[v.start] in _REDOING and c.clause.places):
        return True
    near = {*after(c, v.start, v.end - v.start + 6), *before(c, v.start, 5)}
    return v.value == "replace" and bool(_CONTENTS & near)


def _by_noun(c: Context, i: int) -> bool:
    """ "all new bedding", "gave it a bedding change", "refresh tray two"."""
    pair = c.words[i : i + 2]
    anew = pair in _ANEW and "all" in before(c, i, 2)
    ordered = pair[0] == "refresh" and c.word(i - 1) not in _OF_AN_EARLIER_ONE
    return anew or ordered or pair in _CHANGES


def _refreshed(c: Context, start: int, end: int) -> Iterator[Draft]:
    if denied(c, start):
        return
    bedding = (i for i in c.free() if i.topic == "bedding" and is_of(i, "bedding", "old bedding"))
    c.taken.update([i.start for i in bedding])
    c.clause.used.update(range(start, end))
    yield Draft("refresh", start, end, c.clause)
