"""Things with no verb at all: put in, where an amount is said; denied, where "no" stands before them."""

from __future__ import annotations

from dataclasses import replace

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds import covers
from assistant.reading.kinds.before import lately
from assistant.reading.kinds.denials import no_before
from assistant.reading.kinds.drafting import PUT_IN, draft_of
from assistant.reading.kinds.headed import in_headed, out_headed
from assistant.reading.sketch import Item

_NONE = frozenset(("none", "nil", "zero", "nada"))
_ARROWS = frozenset(("->", "→", "=>", "-->"))
_ALL_TOLD = (["all", "told"], ["in", "all"], ["in", "total"], ["all", "up"])
_TOTAL = frozenset("altogether total totals totalling totaling makes".split())
_LIST_GAP = 6  # words from one thing of a list to the next: "and | a bit of that stale"
_JOINS = frozenset("+ and & plus with ,".split())
_AND = (["and"], ["+"], ["&"], [","], ["plus"], [",", "and"])
_AND_STARTS = frozenset(words[0] for words in _AND)
_SET = frozenset("on up in round around under set at inside".split())
_IS = frozenset(("is", "'s", "are", "was", "were"))
_HANGING = frozenset("sitting hanging going".split())
_WHERE = frozenset("in on over up down round around".split())
_REST = frozenset(("last", "rest", "end", "remains"))
_THERE = frozenset(("there", "it", "top", "now", "place", ""))


def without_verb(c: Context, item: Item) -> Draft | None:
    """A thing that no verb takes: a cover lying there, a trap that is in, or what `put_in` makes of it."""
    if item.topic in ("food", "bedding", "organism") and out_headed(c, item):
        return draft_of(c, "remove", item)
    if covers.lies(c, item):
        return covers.lying(c, item)
    lasting = item.topic in ("treatment", "bedding", "amendment", "cover")
    if lasting and _uncounted(c, item) and (_in_there(c, item) or _there_is(c, item)):
        return draft_of(c, PUT_IN.get(item.topic, "cover"), item)
    return put_in(c, item)


def put_in(c: Context, item: Item) -> Draft | None:
    """A thing told without saying what was done: put in where it has an amount or stands in a list."""
    if item.topic == "castings" and item.amount is not None and item.amount.unit not in (None, "inch", "cm"):
        return draft_of(c, "harvest", item)
    kind = next((PUT_IN[t] for t in item.topics if t in PUT_IN), None)
    if kind is None or item.topic in ("castings", "leachate", "worms") or _counted_bedding(item):
        return None
    no = no_before(c, item)
    if no is not None:
        draft = draft_of(c, kind, item, state="ruled_out")
        draft.start = min(draft.start, no)
        return draft
    none = _none_after(c, item)
    if none is not None:
        return replace(draft_of(c, kind, item, state="ruled_out"), end=none)
    if item.amount is None and not _told(c, item):
        return None
    if item.topic == "treatment" and not _set_up(c, item) and not _after_an_arrow(c, item):
        return None
    return None if _judged(c, item) else draft_of(c, kind, item)


def _judged(c: Context, item: Item) -> bool:
    """ "a handful of lime is plenty", "two cups of kale is about what they eat": said of it, and not done."""
    if c.word(item.end) not in _IS:
        return False
    return c.word(item.end + 1) not in _WHERE and c.sketch.starting("verb", item.end + 1) is None


def _none_after(c: Context, item: Item) -> int | None:
    """ "water none", "food: nil": where the word ends that denies the thing before it."""
    i = item.end + (c.word(item.end) in (":", "-", "="))
    return i + 1 if i < c.clause.end and c.words[i] in _NONE and i + 1 >= c.clause.end else None


def _after_an_arrow(c: Context, item: Item) -> bool:
    """ "gnats -> yellow sticky card", "dry -> leaves": what was done about it."""
    return c.word(c.clause.start - 1) in _ARROWS and item.start == c.clause.start


def _told(c: Context, item: Item) -> bool:
    """Whether a thing without an amount is told as put in all the same."""
    return (
        _after_an_arrow(c, item)
        or portion(c, item)
        or _listed(c, item)
        or _heads_a_list(c, item)
        or in_headed(c, item)
    )


def _in_there(c: Context, item: Item) -> bool:
    """ "a jar trap's in there now", "the net is hanging over it"."""
    if not c.vocabulary.role(c.word(item.end), "copula"):
        return False
    first, second = c.word(item.end + 1), c.word(item.end + 2)
    if first in _HANGING:
        return second in ("in", "on", "over")
    return first in _WHERE and second in _THERE


def _uncounted(c: Context, item: Item) -> bool:
    """Whether no more than "a" or "one" stands before it."""
    return item.amount is None or c.word(item.amount.start) in ("a", "an", "one")


def _there_is(c: Context, item: Item) -> bool:
    """ "there's a trap beside it", "here's a slice of bread for a trap"."""
    start = min(item.start, item.amount.start) if item.amount else item.start
    told = [w for w in c.words[max(c.clause.start, start - 3) : start] if w not in ("a", "an", "one", "now")]
    trap = bool(item.things) and item.things[0].klass == "trap"
    return trap and told[-2:] in (["there", "'s"], ["here", "'s"], ["there", "is"], ["here", "is"])


def _counted_bedding(item: Item) -> bool:
    """ "bedding: 3": a mark for the bedding, not a measure of it."""
    bedding = bool(item.things) and item.things[0].name == "bedding"
    return bedding and item.amount is not None and item.amount.unit is None


def _set_up(c: Context, item: Item) -> bool:
    """ "two traps", "a trap in tray one", and not a mere "a trap"."""
    counted = item.amount is not None and c.word(item.amount.start) not in ("a", "an")
    return counted or c.word(item.end) in _SET


def a_total(c: Context, item: Item) -> bool:
    """ "five inches of bedding all told", "that makes half a kilo of food": the sum of what was told."""
    if not item.things or item.things[0].klass != "mixed" or item.amount is None:
        return False
    if not any(lately(c, d, 2) for d in c.drafts[-3:]):
        return False
    summed = c.words[item.end : item.end + 2] in _ALL_TOLD or c.word(item.end) in _TOTAL
    begin = c.words[c.clause.start : min(item.start, item.amount.start)]
    return summed or not _TOTAL.isdisjoint(begin) or (begin[:1] in (["that"], ["which"]) and len(begin) <= 4)


def portion(c: Context, item: Item) -> bool:
    """ "a dusting of ground eggshell"."""
    rest = c.words[max(c.clause.start, item.start - 3) : item.start]
    if len(rest) == 3 and rest[0] in _REST and rest[1] == "of" and c.vocabulary.role(rest[2], "det"):
        return True  # "and the last of the spinach"
    i = item.start - 1
    while i > c.clause.start and c.words[i] != "of" and item.start - i < 4 and c.finder.plain(i):
        i -= 1
    return c.words[i] == "of" and (c.word(i - 1),) in c.vocabulary.portions


def _heads_a_list(c: Context, item: Item) -> bool:
    """ "bell pepper cores and half a bag of spinach": joined to a thing with an amount behind it."""
    if not _AND_STARTS.issuperset(c.words[item.end : item.end + 1]):
        return False
    after = c.after(item)
    if after is None or after.amount is None or c.here("verb") or set(after.topics).isdisjoint(item.topics):
        return False
    return c.words[item.end : min(after.start, after.amount.start)] in _AND


def _listed(c: Context, item: Item) -> bool:
    """ "6 corn cobs + silk": joined to a thing that was put in."""
    renewed = any(d.kind in ("refresh", "start") and lately(c, d, 1) for d in c.drafts[-3:])
    if item.topic == "bedding" and renewed:
        return c.word(item.start - 1) != "old"  # a refresh that names its new bedding (contract 5.24)
    put = ("feed", "bed", "amend", "treat")
    before = [d for d in c.drafts if d.clause is c.clause and d.kind in put and d.state == "done"]
    if not before or before[-1].end > item.start:
        return False
    gap = c.words[before[-1].end : item.start]
    if any(v.start >= before[-1].end for v in c.here("verb") if v.start < item.start):
        return False
    return len(gap) <= _LIST_GAP and not _JOINS.isdisjoint(gap)
