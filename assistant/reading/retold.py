"""What a later sentence says anew of an earlier record: "oh, the oats were three cups", "that was Sunday"."""

from __future__ import annotations

from assistant.reading.between import Betweens
from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.recordday import day_for

_MEASURED = frozenset(
    "feed bed amend water drain harvest prepare give sell buy worms_added worms_removed".split()
)
_POINTERS = frozenset(("it", "that", "this", "those", "they", "these"))
_IS = frozenset(("was", "were", "is", "'s", "are", "had", "weighed"))
_ARTICLES = frozenset(("the", "those", "them", "that", "all"))
_LIGHT = frozenset("actually really only just more like all in for , the of".split())
_ASIDE = frozenset(("not", "today", "though", "sorry", "actually", "no", ",", "."))


def retold(c: Context, new: list[Draft], betweens: Betweens) -> list[Draft] | None:
    """The drafts as a clause leaves them that tells the figure or day of an earlier one; else None."""
    if not c.drafts or c.clause.stance != "done":
        return None
    start = _begin(c, betweens)
    return _figure(c, new, start) or _day(c, new, start)


def _begin(c: Context, betweens: Betweens) -> int:
    """The clause's first word past "oh", "sorry", "actually"."""
    i = c.clause.start
    while i < c.clause.end:
        piece = betweens.at(c.words, i, "strong", "weak", "faint", "filler")
        if piece is None and not c.vocabulary.role(c.words[i], "opener", "filler"):
            break
        i = piece[0] if piece else i + 1
    return i


def _figure(c: Context, new: list[Draft], i: int) -> list[Draft] | None:
    """ "the oats were three cups", "it was three cups, the oats"."""
    article = c.word(i) in _ARTICLES
    thing = c.sketch.starting("thing", i + article)
    after = thing.end if thing is not None else i + 1
    if c.word(after) not in _IS or (thing is None and c.word(i) not in _POINTERS):
        return None
    amount = next((c.sketch.starting("amount", k) for k in _past_light(c, after + 1)), None)
    if amount is None or amount.currency:
        return None
    if thing is None:
        thing = next((c.sketch.starting("thing", k) for k in _past_light(c, amount.end)), None)
    if thing is None or (thing.start > i + 1 and c.word(amount.end) != ","):
        return None
    names = {t.name for t in thing.value}
    old = next((d for d in reversed(c.drafts) if d.item in names and d.kind in _MEASURED), None)
    if old is None or old.state != "done" or (amount.unit is None and old.amount is None):
        return None
    old.amount = quantity(amount, unit=old.amount.unit if old.amount and amount.unit is None else None)
    return [*c.drafts, *(d for d in new if d.end <= i or d.start > max(thing.end, amount.end))]


def _past_light(c: Context, i: int) -> list[int]:
    """The first word from `i` on that weighs something, as a list of one, of none at the clause's end."""
    while i < c.clause.end and c.words[i] in _LIGHT and c.sketch.starting("amount", i) is None:
        i += 1
    return [i] if i < c.clause.end else []


def _day(c: Context, new: list[Draft], i: int) -> list[Draft] | None:
    """ "that was Sunday, not today", "wait that was yesterday": the day of what was told just before."""
    if new or c.items or c.here("verb") or c.word(i) not in _POINTERS or c.word(i + 1) not in _IS:
        return None
    day = next((c.sketch.starting("day", k) for k in _past_light(c, i + 2)), None)
    if day is None or day.past is None or not _ASIDE.issuperset(c.words[day.end : c.clause.end]):
        return None
    last = c.drafts[-1].clause
    floor = c.sketch.clauses[max(0, c.index - 2)].start
    if last.start < floor:
        return None
    found, doubts = day_for(c.clause, "done", c.sketch.now.date(), c.words)
    for draft in c.drafts:
        if draft.clause is last and draft.state == "done":
            draft.day, draft.dated, draft.doubts = found, True, (*draft.doubts, *doubts)
    return c.drafts
