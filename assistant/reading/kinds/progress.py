"""How far along a tier is: "nearly done", "three quarters castings"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.near import NEGATIONS, after, before, spend, spent
from assistant.reading.sketch import Mention

_TIER_WORDS = frozenset(
    "it it's this that one tray tier bin box layer level castings bottom top middle stuff compost "
    "drawer".split()
)
_FINISHED = frozenset("castings done finished processed ready through complete cooked".split())
_EARTH = frozenset("soil dirt compost earth".split())
_JUDGED = frozenset("judge judged call consider reckon deem declare pronounce".split())
_DONE = frozenset(("done", "finished", "ready"))
_DONE_WITH = frozenset(("with", "it", "feeding", "eating", "to"))
_SAYING = frozenset(
    "looks both all about is fully just finally completely totally quite pretty really now already".split()
)
_PERSONS = frozenset(("i", "we", "you", "i'm"))


def progress(c: Context) -> Iterator[Draft]:
    """How far a tier is finished: a word of progress said of a tier, or a share of castings."""
    yield from _shares(c)
    for m in c.here("progress"):
        if spent(c, m) or (m.end - m.start == 1 and not _of_tier(c, m)) or _done_with(c, m):
            continue
        level = m.value
        if level == 1.0 and NEGATIONS & set(before(c, m.start, 3)):
            level = 0.75 if "quite" in c.words[m.start - 2 : m.start] else 0.0
        spend(c, m)
        yield Draft("progress", _head(c, m.start), m.end, c.clause, level=level)
        return


def _done_with(c: Context, m: Mention) -> bool:
    """ "done with it", "ready to eat", "all the bins done": somebody has finished, not the tier."""
    if c.words[m.end - 1] == "done" and len({bin_ for bin_, _ in c.clause.where}) > 1:
        return True
    ended = c.word(m.end) in _DONE_WITH and c.word(m.end + 1) != "me"
    return ended and c.words[m.start] in _DONE


def _shares(c: Context) -> Iterator[Draft]:
    """ "three quarters done", "half castings", "80 percent finished"."""
    for span in c.amounts:
        share = _share(span)
        told = after(c, span.end, 4)
        if share is None or not 0 < share <= 1 or span.start in c.clause.used:
            continue
        earth = told[:1] and told[0] in _EARTH and c.vocabulary.role(c.word(span.start - 1), "copula")
        if "along" not in before(c, span.start, 2) and not _finished(told) and not earth:
            continue
        if share == 1 and told[:1] == ["castings"]:
            continue
        c.use(span)
        end = span.end + 1 if told else span.end
        c.clause.used.update(range(span.end, end))
        near = (i for i in c.items if span.end <= i.start < span.end + 4)
        c.taken.update(i.start for i in near if i.topic not in ("organism", "worms"))
        yield Draft("progress", _head(c, span.start), end, c.clause, level=round(share, 2))


def _share(span: AmountSpan) -> float | None:
    if span.unit == "percent":
        return span.best / 100
    return span.best if span.unit is None and span.best <= 1 else None


def _finished(told: list[str]) -> bool:
    """Whether the words after a share are "castings", "of the way through" and the like."""
    if not told:
        return False
    of_the = told[:2] in (["of", "the"], ["the", "way"])
    return told[0] in _FINISHED or told[0] == "way" or (of_the and bool((_FINISHED | {"way"}) & set(told)))


def _of_tier(c: Context, m: Mention) -> bool:
    """Whether one word like "ready" or "done" speaks of a tier: a place or a pointer as its subject."""
    if any(i.topic in ("food", "unknown") and i.end <= m.start for i in c.items):
        return False
    if any(v.value not in ("get", "see") for v in c.here("verb") if v.end <= m.start):
        return False
    last = c.word(m.start - 1)
    said = c.vocabulary.role(last, "copula") or last in _SAYING
    place = c.sketch.ending("place", m.start)
    named = place is not None and place.tiers and c.words[m.start] != "done"
    if c.clause.stance == "expected" and (said or named or last == "expect"):
        return True
    if _JUDGED & set(before(c, m.start, 4)) and last in _TIER_WORDS:
        return True
    if c.word(c.clause.start) in _PERSONS:
        return False
    subject = bool(c.clause.places) or bool(_TIER_WORDS & set(c.words[c.clause.start : m.start]))
    lone = c.clause.end - c.clause.start <= 3 and bool(c.clause.places)
    return (said and subject) or lone or bool(named)


def _head(c: Context, start: int) -> int:
    """Where what is told begins: at the place just before it, if there is one."""
    places = [p.start for p in c.clause.places if p.end <= start and start - p.end <= 6]
    return min(places, default=start)
