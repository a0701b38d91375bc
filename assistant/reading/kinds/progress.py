"""How far along a tier is: "nearly done", "three quarters castings"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.near import NEGATIONS, after, before, food_before, graded, is_of, spend, spent
from assistant.reading.sketch import Mention

_TIER_WORDS = frozenset(
    "it it's this that one tray tier bin box layer level castings bottom top middle stuff compost "
    "drawer".split()
)
_FINISHED = frozenset("castings cast done finished processed ready through complete cooked".split())
_CASTINGS = frozenset(("castings", "finished", "done"))
_EARTH = frozenset("soil dirt compost earth castings humus".split())
_OF_WORMS = frozenset(("worm", "good", "black", "dark", "finished", "nice"))
_BETWEEN = frozenset("of it that this them now looks already or so about worm pure whole".split())
_PART = {"half": 0.5, "most": 0.75, "some": 0.25, "none": 0.0}
"""How much of it: "half the bin is finished"."""
_STOPS = frozenset((".", ",", ";", "now", "so", "and"))
_TELLING = 7
"""Words behind a share within which it is said to be finished."""
_JUDGED = frozenset("judge judged call consider reckon deem declare pronounce".split())
_DONE = frozenset(("done", "finished", "ready"))
_DONE_WITH = frozenset(("with", "it", "feeding", "eating", "to"))
_SAYING = frozenset(
    "looks both all about is fully just finally completely totally quite pretty really now already".split()
)
_AFTERTHOUGHT = 5
"""Words behind a word of progress in which a share may say it more closely."""
_PERSONS = frozenset(("i", "we", "you", "i'm"))


def progress(c: Context) -> Iterator[Draft]:
    """How far a tier is finished: a word of progress said of a tier, or a share of castings."""
    yield from _shares(c)
    for m in c.here("progress"):
        if (
            spent(c, m)
            or _through_food(c, m)
            or _of_what_is_left(c, m)
            or food_before(c, m.start)
            or (m.end - m.start == 1 and not _of_tier(c, m))
            or _done_with(c, m)
        ):
            continue
        if c.word(m.start - 1) == "of" and any(i.start == m.start and i.amount for i in c.items):
            continue  # "a quart of finished castings"
        level = m.value
        if level == 1.0 and graded(c, m.start, "nearly"):
            level = 0.75
        elif level == 1.0 and NEGATIONS & set(before(c, m.start, 3)):
            level = 0.0
        elif level == 1.0:
            level = next((_PART[w] for w in before(c, m.start, _TELLING) if w in _PART), level)
        spend(c, m)
        c.taken.update(i.start for i in c.items if m.start <= i.start < m.end and is_of(i, "castings"))
        end, level = _in_figures(c, m, level)
        yield Draft("progress", _head(c, m.start), end, c.clause, level=level)
        return


def _through_food(c: Context, m: Mention) -> bool:
    """ "half way through the porridge": how much of a food is left."""
    through = "through" in (c.word(m.end), c.word(m.end - 1))
    return through and any("food" in i.topics and m.end <= i.start <= m.end + 4 for i in c.items)


def _of_what_is_left(c: Context, m: Mention) -> bool:
    """ "nearly | all gone": part of a longer word for how much is left."""
    left = c.sketch.covering("leftover", m.start)
    return left is not None and m.value != 1.0 and left.end - left.start > m.end - m.start


def _in_figures(c: Context, m: Mention, level: float | None) -> tuple[int, float | None]:
    """ "not ready, maybe half": where what is told of it ends, and the share that says it more closely."""
    if c.clause.end - m.end > _AFTERTHOUGHT:
        return m.end, level
    for span in c.unused():
        share = _share(span)
        if span.start >= m.end and share is not None and 0 < share < 1:
            c.use(span)
            return span.end, round(share, 2)
    return m.end, level


def _done_with(c: Context, m: Mention) -> bool:
    """ "done with it", "ready to eat", "all the bins done": somebody has finished, not the tier."""
    if c.words[m.end - 1] == "done" and len({bin_ for bin_, _ in c.clause.where}) > 1:
        return True
    if c.word(m.end) == "on":
        return True  # "they've barely started on it"
    ended = c.word(m.end) in _DONE_WITH and c.word(m.end + 1) != "me"
    return ended and c.words[m.start] in _DONE


def _shares(c: Context) -> Iterator[Draft]:
    """ "three quarters done", "half castings", "80 percent finished"."""
    for span in c.amounts:
        share = _share(span)
        told = after(c, span.end, _TELLING)
        if share is None or not 0 < share <= 1 or span.start in c.clause.used:
            continue
        if "through" in told[:2] and any("food" in i.topics and 0 <= i.start - span.end < 6 for i in c.items):
            continue
        if not _castings_first(c, span) and not _finished(c, told) and not _along(c, span, told):
            continue
        if share == 1 and told[:1] == ["castings"]:
            continue
        c.use(span)
        end = span.end + (told.index("harvest") + 1 if "harvest" in told else 1 if told else 0)
        c.clause.used.update(range(span.end, end))
        near = (i for i in c.items if span.end <= i.start < span.end + 4)
        c.taken.update(i.start for i in near if i.topic not in ("organism", "worms"))
        yield Draft("progress", _head(c, span.start), end, c.clause, level=round(share, 2))


def _share(span: AmountSpan) -> float | None:
    if span.unit == "percent":
        return span.best / 100
    return span.best if span.unit is None and span.best <= 1 else None


def _castings_first(c: Context, span: AmountSpan) -> bool:
    """ "castings maybe a third": the share stands behind what it is a share of."""
    return c.word(span.start - 1) in _CASTINGS and (span.end >= c.clause.end or c.word(span.end) in _STOPS)


def _along(c: Context, span: AmountSpan, told: list[str]) -> bool:
    """ "it's about half worm dirt", "along about two thirds"."""
    last = c.word(span.start - 1)
    said = c.vocabulary.role(last, "copula") or last == "about" or span.start == c.clause.start
    earth = next((w for w in told[:3] if w not in _OF_WORMS), "")
    going = "there" in before(c, span.start, 3) and "getting" in before(c, span.start, 4)
    return going or "along" in before(c, span.start, 2) or (said and earth in _EARTH)


def _finished(c: Context, told: list[str]) -> bool:
    """Whether the words behind a share lead to "castings", "done": "half of it is castings", "of the way"."""
    for k, word in enumerate(told):
        if word in _FINISHED:
            return True
        if word == "way":
            return k < 3
        if not (word in _BETWEEN or word in _TIER_WORDS or c.vocabulary.role(word, "copula", "det")):
            return False
    return False


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
    if last == ":":  # "bottom: done"
        headed = c.sketch.ending("place", m.start - 1)
        named = named or (headed is not None and bool(headed.tiers))
    if c.clause.stance == "expected" and (said or named or last == "expect" or m.start == c.clause.start):
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
