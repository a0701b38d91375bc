"""Words and fractions for how much of a food is left: "half gone", "three quarters there", "still whole"."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context
from assistant.reading.kinds.governing import act_of, governing
from assistant.reading.kinds.near import after, before, food_before, graded, spent
from assistant.reading.sketch import Mention

_GONE = frozenset("gone eaten finished away disappeared had done worked rotted vanished".split())
_THERE = frozenset("left there remaining uneaten still remains remained here".split())
_OFFERED = frozenset(("i", "we", "'ve"))
_OF_THINGS = frozenset(("of", "the", "that", "those"))
_GONE_SOMEWHERE = frozenset(
    "off bad sour moldy mouldy limp soft brown black mushy slimy dark floppy dry to into in on over "
    "up".split()
)
_STILL_HAS = (["still", "has"], ["still", "had"], ["still", "got"])
_DOWN = (["down", "to"], ["gone", "to"], ["left", "but"])
_BARE = frozenset("a few the its their some just bare last little bit bits of".split())
_REMNANTS = frozenset(
    "threads seeds scraps crumbs nothing fibers fibres shreds slivers rinds skeletons".split()
)
_DENIALS = frozenset("not n't never nothing nobody none neither without ai".split())
_NEGATED = 5
"""Words before a share in which a denial of it may stand."""
_TILL = frozenset(("till", "until", "til", "once", "unless"))
_NEAR = 4
_LESS = frozenset(("down", "reduced", "shrunk", "dwindled"))
_WHOLE = frozenset(("all", "every", "whole"))
_MUCH = {0.0: 0.0, 1.0: 0.25, 3.0: 0.75, 4.0: 0.75}
"""The share left by how much of it there is; some is seen with no word of how much."""
_SIDES = frozenset("first second other left right near far front back top bottom north south".split())
_WE = frozenset(("i", "we"))


class Share(NamedTuple):
    """What `words[start:end]` say is left, 0 to 1; None where they do not say how much."""

    start: int
    end: int
    level: float | None


def shares(c: Context) -> list[Share]:
    """Every word for a share, and every fraction said of what is left or gone, in order."""
    found = [share for span in c.amounts if (share := _fraction(c, span))]
    taken = {i for s in found for i in range(s.start, s.end)}
    found += [
        Share(m.start, m.end, _qualified(c, m))
        for m in c.here("leftover")
        if not spent(c, m) and not _of_something_else(c, m) and not taken & set(range(m.start, m.end))
    ]
    found += _reduced(c)
    found += _not_touched(c)
    found += _done_food(c, {i for s in found for i in range(s.start, s.end)})
    if len(found) > 1:  # "still has the skins, maybe a quarter left"
        found = [s for s in found if c.words[s.start : s.start + 2] not in _STILL_HAS or s.level] or found
    found.sort(key=_in_order)
    return _merged(c, found)


def _reduced(c: Context) -> Iterator[Share]:
    """ "down to threads", "gone to a few seeds", "nothing left but the skin": a little is left."""
    for i in range(c.clause.start, c.clause.end - 2):
        if c.words[i : i + 2] not in _DOWN or not any(x.end <= i for x in c.items):
            continue
        j = i + 2
        while j < c.clause.end and c.words[j] in _BARE:
            j += 1
        if j < c.clause.end and (c.sketch.starting("head", j) or c.words[j] in _REMNANTS):
            c.clause.used.update(range(i, j + 1))
            c.taken.update(x.start for x in c.items if i < x.start <= j)
            yield Share(i, j + 1, 0.25)


def _in_order(share: Share) -> tuple[int, int]:
    return share.start, share.end


def _fraction(c: Context, span: AmountSpan) -> Share | None:
    """ "half gone", "three quarters left", "down to a third"."""
    share = span.best / 100 if span.unit == "percent" else span.best
    if (
        span.unit not in (None, "percent")
        or not 0 < share < 1
        or span.start in c.clause.used
        or span.currency
    ):
        return None
    told, lead = after(c, span.end, 5), before(c, span.start, 3)
    if lead[-1:] and lead[-1] in _SIDES:
        return None  # "in the first half of the bed": where, not how much
    end = _gone_of(c, span)
    if end is not None:
        c.use(span)
        c.clause.used.add(end - 1)
        return Share(span.start, span.end, 1 - share)
    if _GONE & set(told[:2]) or "had" in lead or "eaten" in lead:
        c.use(span)
        return Share(span.start, span.end + 1, 1 - share)
    if _there(c, span, told, lead) or _of_food(c, span):
        c.use(span)
        return Share(span.start, span.end, share)
    return None


def _gone_of(c: Context, span: AmountSpan) -> int | None:
    """ "two thirds of the kale has gone": where the word ends that says what became of that share."""
    item = next((i for i in c.items if 0 <= i.start - span.end <= _NEAR), None)
    if item is None or c.here("touched"):
        return None
    for i in range(item.end, min(item.end + _NEAR + 2, c.clause.end)):
        if c.words[i] in _GONE and c.words[i] not in ("had", "done"):
            item.amount = None  # it is the share that is gone, and nothing put in
            return i + 1
        placed = c.sketch.covering("place", i) is not None
        if not placed and not c.vocabulary.role(c.words[i], "copula", "aux", "adverb", "prep", "det"):
            return None
    return None


def _there(c: Context, span: AmountSpan, told: list[str], lead: list[str]) -> bool:
    """ "a third left", "still half", "down to a quarter", "it's about half"."""
    if _OFFERED & set(lead):
        return False  # "I've got half a melon here": in the hand, and not in the bin
    if _THERE & {*told, *lead} or ("to" in lead and bool(_LESS & set(lead))):
        return True
    last = c.word(span.start - 1)
    return c.vocabulary.role(last, "copula") or last in ("about", "still", "at")


def _of_food(c: Context, span: AmountSpan) -> bool:
    """ "half of the melon", with no verb that would put it in."""
    near = any(0 <= i.start - span.end <= 5 for i in c.items)
    return near and c.word(span.end) in _OF_THINGS and not c.here("verb")


def _of_something_else(c: Context, m: Mention) -> bool:
    """ "some | peels", "gone off", "two cups left": a word of what is left that says no share of a food."""
    if c.words[m.start] == "half" and c.word(m.start - 1) in _SIDES:
        return True  # "in the first half of the bed"
    if m.value is None and any(i.start == m.end for i in c.items):
        return c.words[m.start] != "still"
    if _TILL & set(before(c, m.start, _NEGATED)):
        return True  # "nothing more till that's gone down"
    dated = any(d.start == m.end for d in c.clause.days)  # "gone in two weeks"
    if m.value == 0.0 and c.words[m.end - 1] == "gone" and c.word(m.end) in _GONE_SOMEWHERE and not dated:
        return True
    if c.words[m.start] == "half" and m.end - m.start > 1 and _put_in(c, m):
        return True
    return any(a.unit and a.start < m.end and m.start < a.end for a in c.amounts)


def _put_in(c: Context, m: Mention) -> bool:
    """ "half the bun goes in", "fed them half of the melon": how much was given, not how much is left."""
    item = next((i for i in c.items if 0 <= i.start - m.end <= 3), None)
    verb = governing(c, item) if item else None
    return (
        verb is not None
        and c.vocabulary.kind(act_of(c, verb), "food") == "feed"
        and verb.value not in ("have", "get")
    )


def _qualified(c: Context, m: Mention) -> float | None:
    """The share of a word with those before it: "all but gone", "not gone" (still there), "not eaten"."""
    level: float | None = m.value
    if level is None:
        return _how_much(c, m)
    if level != 0.0:
        return level
    if _DENIALS & set(before(c, m.start, _NEGATED)) or graded(c, m.start, "hardly"):
        return c.vocabulary.denied_shares.get(" ".join(c.words[m.start : m.end]))
    return 0.25 if graded(c, m.start, "nearly") else level


def _done_food(c: Context, taken: set[int]) -> Iterator[Share]:
    """ "the peel is nearly finished", "the avocado's got a long way to go": how far a food is eaten."""
    for m in c.here("progress"):
        if taken.isdisjoint(range(m.start, m.end)) and m.value is not None and food_before(c, m.start):
            level = 0.75 if m.value == 1.0 and graded(c, m.start, "nearly") else m.value
            yield Share(m.start, m.end, 1.0 - level)


def _how_much(c: Context, m: Mention) -> float | None:
    """ "still has a fair bit of its rice": the word for how much that stands right behind."""
    if c.word(m.end) in _WHOLE or _WHOLE & set(before(c, m.start, _NEGATED)):
        return 1.0  # "still has every bit of the cobs", "all the potato still there"
    much = c.sketch.starting("abundance", m.end)
    if much is None or much.end > c.clause.end:
        return None
    return _MUCH.get(much.value)


def _not_touched(c: Context) -> Iterator[Share]:
    """ "they have not been touched", "nothing has gone near it"; not "I haven't touched it"."""
    for m in c.here("touched"):
        lead = before(c, m.start, _NEGATED)
        denied = next((k for k, word in enumerate(lead) if word in _DENIALS), None)
        if denied is None and graded(c, m.start, "hardly"):
            denied = len(lead) - 1
        if denied is not None and not _WE & set(before(c, m.start, _NEGATED + 1)):
            level = c.vocabulary.denied_shares[" ".join(c.words[m.start : m.end])]
            yield Share(m.start - len(lead) + denied, m.end, level)


def _merged(c: Context, found: list[Share]) -> list[Share]:
    """ "still there, about three quarters": shares side by side are one, and the one with a figure counts."""
    out: list[Share] = []
    for share in found:
        last = out[-1] if out else None
        if last is None or not _side_by_side(c, last, share):
            out.append(share)
            continue
        vague = share.level is None or (last.level is not None and share.level == 1.0)
        out[-1] = Share(last.start, share.end, last.level if vague else share.level)
    return out


def _side_by_side(c: Context, last: Share, share: Share) -> bool:
    return share.start - last.end <= 3 and not any(last.end <= i.start < share.start for i in c.items)
