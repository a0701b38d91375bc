"""The bedding of a bin or tier replaced as a whole."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.near import after, before, is_of
from assistant.reading.sketch import Mention

_FRESH = frozenset(("new", "fresh", "clean"))
_CONTENTS = frozenset("bedding bed contents everything lot".split())
_REDOING = frozenset(("redo", "redid", "redone"))
_THE_LOT = frozenset("it thing lot bin everything".split())
_WHOLLY = frozenset("all whole completely complete entire entirely totally full".split())
_THROUGHOUT = frozenset(("throughout", "through", "everywhere"))
_INTO = frozenset(("to", "into", "onto", "on"))
_ANEW = (["new", "bedding"], ["fresh", "bedding"], ["new", "bed"], ["fresh", "bed"])
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
        if c.words[i] in _FRESH and _new_bedding(c, i):
            yield from _old_for_new(c, i)
            return


def _new_bedding(c: Context, i: int) -> bool:
    """ "all new", "new in", "new: coir", "fresh shredded paper": what "new" is said of is bedding."""
    if c.words[i] == "new" and (c.word(i - 1) in ("all", "put") or c.word(i + 1) in ("in", "went", ":")):
        return True
    covering = c.sketch.covering("thing", i)
    things = [covering] if covering else c.sketch.within("thing", i, min(i + 5, c.clause.end))
    return any(_is_bedding(c, m) for m in things)


def _old_for_new(c: Context, i: int) -> Iterator[Draft]:
    """ "dumped the old bedding, all new", "took the soggy cardboard out | and put in fresh shreds"."""
    begin = c.sketch.clauses[max(0, c.index - 1)].start
    things = [m for m in c.sketch.within("thing", begin, i) if _is_bedding(c, m)]
    for draft in c.drafts[-4:]:
        if any(_removed(draft, m) or (_called_old(c, m) and _put(draft, m)) for m in things):
            draft.kind, draft.item, draft.amount, draft.state = "refresh", None, None, "done"
            _swallow(c, i)
            return
    old = next((m for m in things if _called_old(c, m)), None)
    if old is None:
        return
    c.taken.update(x.start for x in c.items if x.start <= old.start < x.end)
    c.clause.used.update(v.start for v in c.here("verb") if v.start < old.start)
    _swallow(c, i)
    yield Draft("refresh", min(old.start, i), i + 1, c.clause)


def _swallow(c: Context, i: int) -> None:
    """ "fresh bedding" is what the refresh put in, and no second record of it."""
    c.taken.update(x.start for x in c.items if x.start <= i + 1 < x.end + 1 and is_of(x, "bedding"))


def _is_bedding(c: Context, m: Mention) -> bool:
    return any(c.vocabulary.topic(t) == "bedding" for t in m.value)


def _removed(draft: Draft, m: Mention) -> bool:
    return draft.kind == "remove" and draft.state == "done" and draft.start <= m.start < draft.end


def _put(draft: Draft, m: Mention) -> bool:
    return draft.kind == "bed" and draft.start <= m.start < draft.end


def _called_old(c: Context, m: Mention) -> bool:
    return "old" in c.words[max(0, m.start - 2) : m.end]


def _replaces(c: Context, v: Mention) -> bool:
    """ "refreshed the tub", "redid tray two", "changed out the bedding"."""
    if v.value == "refresh":
        return True
    if c.words[v.start] in _REDOING and (c.clause.places or _THE_LOT & set(after(c, v.end, 3))):
        return True
    near = {*after(c, v.start, v.end - v.start + 6), *before(c, v.start, 5)}
    return v.value == "replace" and bool(_CONTENTS & near)


def _by_noun(c: Context, i: int) -> bool:
    """ "all new bedding", "gave it a bedding change", "refresh tray two"."""
    pair = c.words[i : i + 2]
    wholly = _WHOLLY & set(before(c, i, 2)) or _THROUGHOUT & set(after(c, i + 2, 2))
    moved_to = c.word(i - 1) in _INTO and any(v.value == "move" and v.start < i for v in c.here("verb"))
    anew = pair in _ANEW and bool(wholly or moved_to)
    ordered = pair[0] == "refresh" and c.word(i - 1) not in _OF_AN_EARLIER_ONE
    return anew or ordered or pair in _CHANGES


def _refreshed(c: Context, start: int, end: int) -> Iterator[Draft]:
    if denied(c, start):
        return
    bedding = (i for i in c.free() if i.topic == "bedding" and is_of(i, "bedding", "old bedding"))
    c.taken.update([i.start for i in bedding])
    c.clause.used.update(range(start, end))
    yield Draft("refresh", start, end, c.clause)
