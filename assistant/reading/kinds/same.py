"""What was told of one place, told again of another: "same in the other one", "B: same", "C too"."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from assistant.reading.draft import Context, Draft, Target
from assistant.reading.kinds.before import lately

_DONE = frozenset("feed bed amend water treat turn".split())
_SEEN = frozenset("moisture temperature ph sighting progress smell".split())
_SAME = frozenset(("same", "ditto", "likewise"))
_NOT_AGAIN = frozenset("day time way as size".split())
_TOO = (["too"], ["as", "well"], ["also"])
_BUT = frozenset("except but without minus no not".split())
_REACH = 8  # clauses


def same_again(c: Context) -> Iterator[Draft]:
    """The drafts of the last place once more in the place named here."""
    if not c.clause.places:
        return
    at = next((i for i in range(c.clause.start, c.clause.end) if c.words[i] in _SAME), None)
    if at is not None and not _own(c, at) and not _NOT_AGAIN & set(c.words[at + 1 : at + 4]):
        yield from (_again(c, d, at) for d in _chosen(c, at, _last_place(c)) if not _excepted(c, at, d))
    elif at is None and _just_too(c):
        last = _last_place(c)
        yield from (_again(c, d, c.clause.start) for d in last if d.clause is last[-1].clause)


def _excepted(c: Context, at: int, draft: Draft) -> bool:
    """ "same again, but no grit"."""
    said = {w for i in c.items if i.start > at for w in i.name.split()}
    return bool(said & set((draft.item or "").split()))


def _again(c: Context, draft: Draft, at: int) -> Draft:
    end = min(at + 2, c.clause.end)
    return replace(draft, start=at, end=end, clause=c.clause, where=None, state="done", doubts=draft.doubts)


def _own(c: Context, at: int) -> bool:
    """Whether the clause tells of things of its own; what it excepts ("same, but no grit") is none."""
    things = [
        i for i in c.items if not _BUT & set(c.words[at : i.start]) and i.name not in ("food", "bedding")
    ]
    return bool(things) or bool(c.here("moisture") or c.here("progress") or c.here("leftover"))


def _just_too(c: Context) -> bool:
    """ "B too", "and the bottom one as well": a place, and that it is like the one before."""
    said = [w for w in c.words[c.clause.start : c.clause.end] if w.isalpha()]
    placed = sum(p.end - p.start for p in c.clause.places)
    return len(said) - placed <= 4 and any(said[-len(too) :] == too for too in _TOO) and not c.items


def _last_place(c: Context) -> list[Draft]:
    """What was told of the last place that is not this one."""
    told = [d for d in c.drafts if d.kind in _DONE | _SEEN and d.state == "done" and lately(c, d, _REACH)]
    there = _where(told[-1]) if told else c.clause.where
    return [] if there == c.clause.where else [d for d in told if _where(d) == there]


def _where(draft: Draft) -> tuple[Target, ...]:
    return draft.where or draft.clause.where


def _chosen(c: Context, at: int, told: list[Draft]) -> list[Draft]:
    """What "same" stands for: what was seen after "is the same", all for "B: same", else what was done."""
    seen, done = [d for d in told if d.kind in _SEEN], [d for d in told if d.kind in _DONE]
    before = [w for w in c.words[c.clause.start : at] if w not in ("the", "about")]
    if seen and before and c.vocabulary.role(before[-1], "copula"):
        return seen
    alone = c.clause.places[-1].end >= at - 2 and at + 1 >= c.clause.end
    return told if alone else done or seen
