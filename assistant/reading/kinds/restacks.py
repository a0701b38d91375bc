"""Trays that change places: a swap gives a record for each, a tray put on top or at the bottom gives one."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from assistant.reading.draft import Context, Draft, Target
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.governing import act_of
from assistant.reading.kinds.near import before, spend
from assistant.reading.ranks import BOTTOM, TOP
from assistant.reading.sketch import Item, Mention, Place

_TRAYS = frozenset(
    "tray trays tier tiers box boxes layer level bin drawer crate super body one ones order".split()
)
_SWAPPED = frozenset(("trays", "tiers", "boxes", "levels"))
_BOTH = frozenset("them trays two both round around tiers boxes".split())
_MOVING = frozenset("move add restack went back swap lift get bring hang".split())
_GOING = frozenset("go goes went gone going come comes came back now moves moved 's".split())
_STACKS = frozenset("stack tower others pile everything it that all lot them rest".split())
_EMPTY = frozenset(("empty", "empties", "emptied"))
_EMPTIED = 8  # drafts back to the tray that was emptied
_ENDS = {"top": TOP, "bottom": BOTTOM}
_BEFORE_AN_END = frozenset("the very new tray slot".split())
_LEADING = frozenset(("on", "onto", "to", "at", "up", "new", "now"))
_NO_END = frozenset("of half layer inch corner tray tier box one ones bin level drawer edge side".split())
_INTO = frozenset(("in", "into", "to", "from", "of", "under", "over", "inside"))
_TO = (["to"], ["->"], [">"], ["up", "to"], ["down", "to"], ["onto"])
_OFF_THE = (["off", "the"], ["out", "of"], ["away", "altogether"], ["off", "it"])
_TWO_FROM: dict[str, Callable[[int], int]] = {
    "top": lambda last: 1,
    "first": lambda last: 1,
    "middle": lambda last: last // 2,
    "bottom": lambda last: last - 1,
    "last": lambda last: last - 1,
}
"""Where the first of two trays stands, by the number of the last one."""

_ADDED = frozenset("another new second third fourth fifth sixth extra additional fresh".split())
_NEW_ONE = frozenset(("another", "extra", "new", "additional"))


def restack(c: Context) -> Iterator[Draft]:
    """Trays swapped, one put on top or at the bottom, or one added."""
    swap = next((v for v in c.here("verb") if v.value == "swap"), None)
    if swap is None:
        yield from _put_at_an_end(c) or _moved_along(c) or _tray_added(c) or _taken_off(c)
        return
    pair = _pair(c)
    if len(pair) == 2 and _one_to_the_other(c, pair):
        yield from _moved_along(c, swap)
        return
    if len(pair) == 2:
        yield from _pair_swapped(c, swap, pair)
        return
    yield from _both_swapped(c, swap)
    if swap.start not in c.clause.used and not c.items and _SWAPPED & set(c.words[swap.end : swap.end + 4]):
        spend(c, swap)
        where = ((c.clause.where[0][0], None),)
        yield Draft("restack", swap.start, swap.end + 1, c.clause, item="tier", where=where)


def _pair(c: Context) -> list[Place]:
    """The places of the two tiers that change: one that names both, or the first two."""
    for place in c.clause.places:
        if len(place.tiers) == 2:
            return [place, place]
    named = [p for p in c.clause.places if p.tiers and not p.spread][:2]
    return _two_of_them(c, named[0]) if len(named) == 1 else named


def _two_of_them(c: Context, place: Place) -> list[Place]:
    """ "the top two", "the middle two": a pair told by where it stands."""
    bin_ = c.clause.where[0][0] if c.clause.where else None
    last = c.position(BOTTOM, bin_)
    at = next((i for i in range(place.start, place.end + 1) if c.word(i) in _TWO_FROM), None)
    if at is None or c.word(at + 1) not in ("two", "2") or last is None:
        return [place]
    first = _TWO_FROM[c.word(at)](last)
    both = replace(place, tiers=(first, first + 1))
    return [both, both]


def _one_to_the_other(c: Context, pair: list[Place]) -> bool:
    """ "rotated the trays, bottom to top": one tray goes, the others only shift."""
    return pair[0] is not pair[1] and c.words[pair[0].end : pair[1].start] in _TO


def _moved_along(c: Context, swap: Mention | None = None) -> list[Draft]:
    """ "moved the third tray up to second", "bottom tray to top": from one place to the other."""
    tiers = [p for p in c.clause.places if p.tiers and not p.spread and len(p.tiers) == 1]
    verbs = [v for v in c.here("verb") if v is not swap]
    if len(tiers) != 2 or c.items or any(act_of(c, v) != "move" or denied(c, v.start) for v in verbs):
        return []
    source, goal = tiers
    said = c.words[source.end : goal.start]
    if source.after not in ("", "object", "of") or not said:
        return []
    if said[-1] != "to" and said not in _TO:
        return []
    bin_ = c.clause.where[0][0] if c.clause.where else None
    left, to = c.position(source.tiers[0], bin_), c.position(goal.tiers[0], bin_)
    if left is None or to is None or left == to:
        return []
    c.clause.used.update(v.start for v in c.here("verb"))
    start = min([source.start, *(v.start for v in c.here("verb"))])
    return [Draft("restack", start, goal.end, c.clause, item="tier", where=((bin_, left),), to_tier=to)]


def _taken_off(c: Context) -> list[Draft]:
    """ "took the bottom tray off the stack": it stands nowhere now."""
    for v in c.here("verb"):
        if v.value not in ("take", "takeout", "takeoff") or denied(c, v.start):
            continue
        tray = next((p for p in c.clause.places if p.tiers and 0 <= p.start - v.end <= 2), None)
        if tray is None or c.items or c.unused():
            continue
        off = c.words[tray.end : tray.end + 2] in _OFF_THE or "altogether" in c.words[tray.end : tray.end + 3]
        if off or (
            v.value == "takeout" and c.words[v.start].startswith("remov") and tray.end == c.clause.end
        ):
            c.clause.used.update(range(v.start, v.end))
            where = c.sketch.walk.targets(tray)
            return [Draft("restack", v.start, tray.end, c.clause, item="tier", where=where)]
    return []


def _pair_swapped(c: Context, v: Mention, pair: list[Place]) -> Iterator[Draft]:
    """ "swapped trays two and three"."""
    bin_ = c.clause.where[0][0] if c.clause.where else None
    tiers = pair[0].tiers if pair[0] is pair[1] else tuple(p.tiers[0] for p in pair)
    a, b = (c.position(t, bin_) for t in tiers)
    end = max(pair[1].end, v.end)
    start = min(pair[0].start, v.start)
    for one, other in ((a, b), (b, a)):
        yield Draft("restack", start, end, c.clause, item="tier", where=((bin_, one),), to_tier=other)
    spend(c, v)


def _both_swapped(c: Context, v: Mention) -> Iterator[Draft]:
    """ "swapped them round", in a bin of two tiers."""
    bin_ = c.clause.where[0][0]
    taken = any(0 <= i.start - v.end < 4 for i in c.items)
    if not c.sketch.setup or taken or not _BOTH & set(c.words[v.end : v.end + 4]):
        return
    if c.position(BOTTOM, bin_) == 2:
        spend(c, v)
        for one, other in ((1, 2), (2, 1)):
            where = ((bin_, one),)
            yield Draft("restack", v.start, v.end + 1, c.clause, item="tier", where=where, to_tier=other)


def _put_at_an_end(c: Context) -> list[Draft]:
    """ "it goes on top", "now it's the new top tray", "put the empty one back on top"."""
    for i in range(c.clause.start + 1, min(c.clause.end + 1, len(c.words))):
        lead = _lead(c, i)
        if lead is None or not _moved(c, lead, i) or not _of_a_tray(c, lead):
            continue
        bin_, tier = _left_from(c, lead, i)
        to = c.position(_ENDS[c.words[i]], bin_)
        if to is None or to == tier:
            continue
        c.clause.used.update(v.start for v in c.here("verb") if v.value not in ("harvest", "empty"))
        c.taken.update(x.start for x in c.items if x.start <= i < x.end)
        _goes_on(c, (bin_, tier), (bin_, to))
        start = max(c.clause.start, lead - 5)
        return [Draft("restack", start, i + 1, c.clause, item="tier", where=((bin_, tier),), to_tier=to)]
    return []


def _goes_on(c: Context, left: Target, now: Target) -> None:
    """What is told next is told of the tray where it now stands, until another place is named."""
    emptied = any(v.value in ("harvest", "empty") for v in c.here("verb"))  # told of where it stood
    for clause in c.sketch.clauses[c.index + emptied :]:
        if clause is not c.clause and clause.places:
            break
        if clause.where == (left,):
            clause.where = (now,)


def _lead(c: Context, i: int) -> int | None:
    """Where the phrase starts whose end the word at `i` is: "on top", "at the very bottom", "up top"."""
    if c.word(i) not in _ENDS:
        return None
    j = i - 1
    while j > c.clause.start and c.words[j] in _BEFORE_AN_END and c.words[j] != "new":
        j -= 1
    named = c.words[j] in _LEADING and (j > c.clause.start or c.words[j] == "now")
    if not named or (c.words[j] == "up" and c.words[i] != "top"):
        return None
    if c.words[j] != "new" and c.word(i + 1) in _NO_END and not _of_the_stack(c, i + 1):
        return None
    return j if c.words[j : i + 1] != ["now", "top"] else None


def _of_the_stack(c: Context, i: int) -> bool:
    """ "on top | of the stack", "on top | of the others"."""
    j = i + 1 + c.vocabulary.role(c.word(i + 1), "det")
    return c.word(i) == "of" and (c.word(j) in _STACKS or c.sketch.covering("place", j) is not None)


def _moved(c: Context, lead: int, i: int) -> bool:
    """Whether something is moved to that end, and no food or bedding is what is put there."""
    going = {w for w in before(c, lead, 2) if w in _GOING or w == "is"}
    led = bool(going) or c.words[lead] == "new"
    floor = max(
        (k for k in range(c.clause.start, lead) if c.words[k] == "," and going), default=c.clause.start
    )
    here = [x for x in c.items if x.start >= floor and not x.start <= i < x.end]
    if any(x.start < lead and not _a_tray(c, x) for x in here) or (here and here[0].start <= i + 1):
        return False
    verbs = [v for v in c.here("verb") if v.start < lead]
    if any(denied(c, v.start) for v in verbs):
        return False
    last = verbs[-1] if verbs else None
    aside = bool(going) and last is not None and "," in c.words[last.end : lead]
    if last is not None and not aside and last.value not in _MOVING and act_of(c, last) not in _MOVING:
        return False
    return led or last is not None


def _a_tray(c: Context, item: Item) -> bool:
    """ "the empty tray": no thing that is put there, but what is moved."""
    return c.words[item.end - 1] in _TRAYS


def _of_a_tray(c: Context, lead: int) -> bool:
    """Whether a tray, or "it" from a clause before, is what moves."""
    start = c.clause.start
    for p in c.clause.places:
        if p.tiers and p.start < lead:
            return p.after in ("", "object")
    if not _EMPTY.isdisjoint(c.words[start:lead]) and _emptied(c) is not None:
        return True
    for j in range(start, lead):
        if c.words[j] in _TRAYS and c.word(j - 1) != "no":
            return not _INTO & set(before(c, j, 3)) and c.index > 0
    pointing = "it" in c.words[start:lead] or c.words[start] in _GOING
    if c.words[lead] == "new":
        pointing = pointing or not {"it", "its"}.isdisjoint(c.words[max(0, start - 2) : start])
    return c.index > 0 and (pointing or _bare_verb(c, lead)) and _tray_before(c)


def _bare_verb(c: Context, lead: int) -> bool:
    """ "the second tray, which had gone slow, I set | on top": the verb's object stands before."""
    return any(v.end == lead and v.value in _MOVING for v in c.here("verb"))


def _tray_before(c: Context) -> bool:
    """Whether the two clauses before speak of a tray and of no cover or bedding laid."""
    first = c.sketch.clauses[max(0, c.index - 3)].start
    things = c.sketch.within("thing", c.sketch.clauses[c.index - 1].start, c.clause.start)
    told = any(p.tiers for p in c.sketch.places if first <= p.start < c.clause.start)
    emptied = any(d.kind == "harvest" and d.start >= first for d in c.drafts)
    return emptied or (told and not things) or bool(_TRAYS & set(c.words[first : c.clause.start]))


def _emptied(c: Context) -> Target | None:
    """The tier last harvested, which is what "the empty one" means."""
    told = next(
        (d for d in reversed(c.drafts[-_EMPTIED:]) if d.kind == "harvest" and d.state == "done"), None
    )
    return (told.where or told.clause.where)[0] if told is not None else None


def _left_from(c: Context, lead: int, i: int) -> Target:
    """The tier that the tray leaves: named in the clause, else the one told of before."""
    for p in c.clause.places:
        if p.tiers and p.start < lead:
            target: Target = c.sketch.walk.within(p, c.clause)[0]
            return target
    emptied = None if _EMPTY.isdisjoint(c.words[c.clause.start : lead]) else _emptied(c)
    if emptied is not None:
        return emptied
    if c.index and c.clause.places and all(p.end > lead for p in c.clause.places):
        return c.sketch.clauses[c.index - 1].where[0]
    return c.clause.where[0] if c.clause.where else (None, None)


def _tray_added(c: Context) -> list[Draft]:
    """ "add another tray": it stood nowhere before."""
    for v in c.here("verb"):
        if act_of(c, v) not in ("add", "restack", "hang") or denied(c, v.start):
            continue
        j = v.end
        while j < min(v.end + 4, c.clause.end) and c.words[j] not in _TRAYS - {"one", "ones", "bin", "order"}:
            j += 1
        words = c.words[v.end : j]
        if j >= min(v.end + 4, c.clause.end) or not _ADDED & set(words):
            continue
        if not _NEW_ONE & set(words) and (words[0] not in ("a", "on") or c.clause.places):
            continue
        if any(x.start < j and not x.start <= j < x.end for x in c.items if x.start >= v.end):
            continue
        c.clause.used.update((v.start,))
        c.taken.update(x.start for x in c.items if x.start <= j < x.end)
        to = TOP if c.words[j + 1 : j + 3] == ["on", "top"] else None
        bin_ = c.clause.where[0][0] if c.clause.where else None
        return [Draft("restack", v.start, j + 1, c.clause, item="tier", where=((bin_, None),), to_tier=to)]
    return []
