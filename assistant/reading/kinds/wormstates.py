"""Worms by their state or the way they gather: young, leaving, dead, "a ball of them"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.near import before, spent
from assistant.reading.sketch import Item, Mention
from assistant.records import Amount

_NOBODY = frozenset("nobody nothing none no".split())
_STATES = frozenset(("dead worms", "juvenile worms", "escaping worms"))
_FEW = 5
"""Up to this count creatures are few (level 1), above they are some (level 2)."""


def few_or_some(amount: Amount) -> float:
    """The level of abundance that a count means."""
    if amount.best == 0:
        return 0.0
    return 1.0 if amount.best <= _FEW else 2.0


def state_of(c: Context, item: Item) -> str:
    """The creature's name; for worms their state, by the words around them."""
    if item.topic != "worms" and "worms" not in item.topics:
        return item.name
    if item.name in _STATES:
        return item.name
    others = {k for o in c.items if o is not item for k in range(o.start, o.end)}
    for m in c.here("worms"):
        if m.start in others:
            continue
        if abs(m.start - item.end) <= 9 or abs(item.start - m.end) <= 3:
            return str(m.value)
    single = item.name == "worm" and bool(item.things) and item.things[0].klass == "worm"
    return "worms" if single else item.name


def states_alone(c: Context) -> Iterator[Draft]:
    """ "a dozen of them dead on the surface", "lots of little ones": no organism is named."""
    creatures = [i for i in c.items if i.topic in ("organism", "worms")]
    for m in c.here("worms"):
        of_food = any(i.start == m.end and i.topic not in ("organism", "worms") for i in c.items)
        draft = None if of_food or _named(creatures, m) or spent(c, m) else _state(c, m)
        if draft is not None:
            yield draft
            if draft.level:
                return
            break
    if not creatures:
        yield from _gathering(c)


def _named(creatures: list[Item], m: Mention) -> bool:
    """Whether a word of state belongs to a creature that is named."""
    return any(
        i.start <= m.start < i.end
        or (i.topic == "worms" and (abs(i.start - m.end) <= 3 or abs(m.start - i.end) <= 9))
        for i in creatures
    )


def _state(c: Context, m: Mention) -> Draft | None:
    """A sighting from a word of state with its count or its abundance; None where neither is said."""
    counts = (a for a in c.unused() if a.unit in (None, "piece", "handful"))
    span = next((a for a in counts if _said_of(c, a, m)), None)
    name = str(m.value)
    if span is None and _NOBODY & set(before(c, m.start, 4)):
        return Draft("sighting", max(c.clause.start, m.start - 3), m.end, c.clause, item=name, level=0.0)
    level = _abundance(c, m)
    young = m.value == "juvenile worms"
    if span is None and ((level is None and not young) or _lifted(c, m)):
        return None
    if span:
        c.use(span)
    amount = quantity(span)
    if level is None:
        level = few_or_some(amount) if amount else 2.0
    start = min(m.start, span.start) if span else m.start
    return Draft("sighting", start, m.end, c.clause, item=name, amount=amount, level=level)


def _abundance(c: Context, m: Mention) -> float | None:
    """How many are said to be so: the word beside it, or "they 're all leaving"."""
    beside = (x for x in c.here("abundance") if 0 <= m.start - x.end <= 3 or 0 <= x.start - m.end <= 3)
    level: float | None = next((x.value for x in beside), None)
    if level is None and m.value == "escaping worms" and _they(c, m):
        return 4.0 if "all" in c.words[m.start - 1 : m.end] else 2.0
    return level


def _they(c: Context, m: Mention) -> bool:
    return "they" in c.words[c.clause.start : m.start]


def _lifted(c: Context, m: Mention) -> bool:
    """ "the lid crawled off": what leaves is a cover, not worms."""
    return m.value == "escaping worms" and not _they(c, m) and any(i.topic == "cover" for i in c.items)


def _said_of(c: Context, amount: AmountSpan, m: Mention) -> bool:
    """Whether a count is one of those worms: "a dozen of them dead", "2 dead"."""
    if not 0 <= m.start - amount.end <= 4:
        return False
    return m.start == amount.end or c.word(amount.end) == "of"


def _gathering(c: Context) -> Iterator[Draft]:
    """ "it's just a ball of worms", "one solid knot of them": worms, by the way they gather."""
    for m in c.here("gatherings"):
        if m.start in c.clause.used or c.marked("teaching"):
            continue
        yield Draft("sighting", m.start, m.end, c.clause, item="worms", level=m.value)
        return
