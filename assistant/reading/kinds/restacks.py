"""Trays that change places: a swap gives a record for each, a tray put on top or at the bottom gives one."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.near import spend, verb_values
from assistant.reading.ranks import BOTTOM, TOP
from assistant.reading.sketch import Mention

_TRAYS = frozenset(
    "tray trays tier tiers box boxes layer level bin drawer crate super body one ones order".split()
)
_SWAPPED = frozenset(("trays", "tiers", "boxes", "levels"))
_BOTH = frozenset("them trays two both round around tiers boxes".split())
_LED_BY = frozenset(("back", "now", "up", "went", "goes"))
_LED_BY_IT = frozenset(("it", "went", "goes", "now", "'s", "is"))
_MOVING = frozenset("move add restack went back swap lift".split())
_PUT_IN = ("food", "bedding", "amendment", "cover", "treatment", "water")
_TO_THE_TOP = (["on", "top"], ["new", "top"])
_TO_THE_BOTTOM = (["the", "bottom"], ["new", "bottom"])


def restack(c: Context) -> Iterator[Draft]:
    """Trays swapped, or one put on top or at the bottom."""
    swap = next((v for v in c.here("verb") if v.value == "swap"), None)
    if swap is None:
        yield from _put_at_an_end(c)
        return
    pair = [t for p in c.clause.places for t in p.tiers]
    if len(pair) == 2:
        yield from _pair_swapped(c, swap, pair)
        return
    yield from _both_swapped(c, swap)
    if swap.start not in c.clause.used and not c.items and _SWAPPED & set(c.words[swap.end : swap.end + 4]):
        spend(c, swap)
        yield Draft("restack", swap.start, swap.end + 1, c.clause, item="tier")


def _pair_swapped(c: Context, v: Mention, pair: list[int]) -> Iterator[Draft]:
    """ "swapped trays two and three"."""
    bin_ = c.clause.where[0][0] if c.clause.where else None
    a, b = (c.position(t, bin_) for t in pair)
    end = max(c.clause.places[-1].end, v.end)
    for one, other in ((a, b), (b, a)):
        yield Draft("restack", v.start, end, c.clause, item="tier", where=((bin_, one),), to_tier=other)
    spend(c, v)


def _both_swapped(c: Context, v: Mention) -> Iterator[Draft]:
    """ "swapped them round", in a bin of two tiers."""
    bin_ = c.clause.where[0][0]
    if not c.sketch.setup or c.items or not _BOTH & set(c.words[v.end : v.end + 4]):
        return
    if c.position(BOTTOM, bin_) == 2:
        spend(c, v)
        for one, other in ((1, 2), (2, 1)):
            where = ((bin_, one),)
            yield Draft("restack", v.start, v.end + 1, c.clause, item="tier", where=where, to_tier=other)


def _put_at_an_end(c: Context) -> Iterator[Draft]:
    """ "it goes on top", "now it's the new top tray", "put the empty one back on top"."""
    for i in range(c.clause.start, c.clause.end - 1):
        to = _end_named(c, i)
        if to is None or not _put_there(c, i) or not _of_a_tray(c, i):
            continue
        bin_, tier = c.clause.where[0] if c.clause.where else (None, None)
        c.clause.used.update(v.start for v in c.here("verb"))
        target = c.position(to, bin_)
        if target == tier:
            continue
        start, where = max(c.clause.start, i - 6), ((bin_, tier),)
        yield Draft("restack", start, i + 2, c.clause, item="tier", where=where, to_tier=target)
        return


def _end_named(c: Context, i: int) -> int | None:
    """The rank that two words name: "on top", "to the | top", "new bottom"."""
    pair = c.words[i : i + 2]
    if pair in _TO_THE_TOP or (pair == ["to", "the"] and c.word(i + 2) == "top"):
        return TOP
    if pair in _TO_THE_BOTTOM and c.word(i - 1) in ("to", "at", "on", "the"):
        return BOTTOM
    return None


def _put_there(c: Context, i: int) -> bool:
    """Whether something is moved to the end named at `i`, and no food or bedding is what is put there."""
    led = c.word(i - 1) in _LED_BY and (
        c.word(i - 2) in _LED_BY_IT or bool(_TRAYS & set(c.words[c.clause.start : i]))
    )
    if not led and any(item.topic in _PUT_IN for item in c.items):
        return False
    moved = led or bool(_MOVING & set(verb_values(c))) or c.words[i] == "new"
    return moved and c.word(i + 2) not in ("of", "with") and i not in {v.start for v in c.here("verb")}


def _of_a_tray(c: Context, i: int) -> bool:
    """Whether a tray, or "it" from a clause before, is what moves."""
    tray = bool(_TRAYS & set(c.words[c.clause.start : i + 4])) or "it" in c.words[c.clause.start : i]
    return tray and c.index > 0
