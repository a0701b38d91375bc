"""What a note denies: a negation near enough before a word to hold it."""

from __future__ import annotations

from bisect import bisect_left

from assistant.reading.draft import Context
from assistant.reading.sketch import Item
from assistant.records import State

_NEGATIONS = frozenset("not n't nt dont didnt never no without nor neither cannot nobody".split())
_NOT_REALLY = frozenset("know sure mind think only just remember wait".split())
_SO = frozenset("much many far little few wet dry damp soggy bad good that as".split())
_REACH = 6  # words


def denied(c: Context, position: int, floor: int | None = None) -> bool:
    """Whether a negation stands before `position`, near enough to hold it, from `floor` (the clause) on."""
    start = max(c.clause.start if floor is None else floor, position - _REACH)
    start = _behind_a_figure(c, turned(c, start, position), position)
    return any(_denies(c, i) for i in range(start, position))


def turned(c: Context, start: int, position: int) -> int:
    """ "didn't have much, so | just two spoons of rice": where what is denied has ended."""
    turns = c.once("turns", lambda: [i for i in range(c.clause.start, c.clause.end) if _turns(c, i)])
    k = bisect_left(turns, position)
    return max(start, turns[k - 1]) if k else start


def _behind_a_figure(c: Context, start: int, position: int) -> int:
    """ "no spray | , half a cup of cornmeal": a comma with a figure behind it ends what is denied."""
    figured = (i for i in range(start, position) if c.words[i] == "," and c.sketch.starting("amount", i + 1))
    return max(figured, default=start)


def _turns(c: Context, i: int) -> bool:
    return c.words[i] == "but" or _therefore(c, i)


def _therefore(c: Context, i: int) -> bool:
    """ "so two spoons of rice", and not "so wet", "or so"."""
    return c.words[i] == "so" and c.word(i + 1) not in _SO and c.word(i - 1) not in ("or", "do", "just")


def state_at(c: Context, position: int) -> State:
    """The state of what stands at `position`: ruled out where it is denied."""
    return "ruled_out" if denied(c, position) else "done"


def no_before(c: Context, item: Item) -> int | None:
    """ "no more lime", "not a single melon": where the denial of a thing that no verb takes stands."""
    for i in range(max(c.clause.start, item.start - 4), item.start):
        none = c.words[i] in ("no", "without", "zero")
        none = none or (c.words[i] == "not" and c.word(i + 1) in ("one", "a", "any", "single"))
        if not none or any(c.sketch.covering(layer, i) for layer in ("smell", "moisture")):
            continue
        if _bare_between(c, i + 1, item.start):
            return i
    return None


def _denies(c: Context, i: int) -> bool:
    """Whether the word at `i` is a negation, and not part of "not sure", "no wait" or "two, no, three"."""
    if c.words[i] == "against":
        return c.word(i - 1).startswith("decid")
    return c.words[i] in _NEGATIONS and c.word(i + 1) not in _NOT_REALLY and not _self_repair(c, i)


def _self_repair(c: Context, i: int) -> bool:
    """ "two handfuls, no, three": this "no" takes a figure back, it denies nothing."""
    after = i + 1 + (c.word(i + 1) == ",")
    if c.words[i] not in ("no", "not") or not any(a.start == after for a in c.amounts):
        return False
    return i == c.clause.start or any(a.end <= i for a in c.amounts)


def _bare_between(c: Context, start: int, end: int) -> bool:
    """Whether only words like "more" and "any" stand between a denial and its thing."""
    if any(c.sketch.within(layer, start, end) for layer in ("verb", "smell", "moisture", "thing")):
        return False
    if "," in c.words[start:end]:
        return False  # "no spray, half a cup of cornmeal"
    return end - start <= 3 and not any(
        c.vocabulary.role(w, "copula", "subject", "aux") for w in c.words[start:end]
    )
