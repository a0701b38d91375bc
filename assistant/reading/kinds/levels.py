"""How many of a creature there are: which word of abundance is said of which creature."""

from __future__ import annotations

from assistant.reading.draft import Context
from assistant.reading.sketch import Item, Mention

_CREATURES = ("organism", "worms")
_THICK_WITH = frozenset(("layer", "with", "and"))
_STOPS = frozenset((",", ";", "(", "but"))
_LIST = frozenset((",", "and", "&", "+", "plus", "or", "with", "the", "some", "all", "both", "also"))
_REACH = 9  # words between a creature and the word for how many
_NEXT = 4  # words that another creature may not stand in


def how_many(c: Context, item: Item) -> tuple[float | None, int, int]:
    """The level said of a creature, None where none is, and where the two begin and end."""
    mentions = [m for m in c.here("abundance") if m.value]
    if "worms" in item.topics:
        mentions += c.here("gatherings")
    best = _nearest(c, item, mentions)
    if best is None:
        best = _shared(c, item, mentions)
    if best is not None:
        c.clause.used.update(range(best.start, best.end))
        return best.value, min(best.start, item.start), max(best.end, item.end)
    if "worms" in item.topics and "thick" in c.words[item.end : item.end + 4]:
        at = c.words.index("thick", item.end)
        return (None if c.word(at + 1) in _THICK_WITH else 3.0), item.start, at + 1
    return None, item.start, item.end


def _nearest(c: Context, item: Item, mentions: list[Mention]) -> Mention | None:
    """The word that stands nearest, where it is not said of another creature."""
    best: Mention | None = None
    least = _REACH + 1
    for m in mentions:
        distance = _distance(c, m, item)
        if distance is None:
            continue
        if distance < least or (best is not None and distance == least and m.value > best.value):
            best, least = m, distance
    return best


def _distance(c: Context, m: Mention, item: Item) -> int | None:
    """How many words lie between an abundance and a creature; None where it is another creature's."""
    others = [i for i in c.items if i is not item and i.topic in _CREATURES and not pronoun(c, i)]
    if item.amount is not None and m.end <= item.amount.start < item.start:
        return None  # "springtails all over plus two gnats"
    if m.end <= item.start:
        if any(_told_of(c, m, o) for o in others if o.end <= m.start):
            return None  # "springtails loads, mites ..."
        distance = item.start - m.end
        blocked = distance > _NEXT and any(m.end <= o.start < item.start for o in others)
        return None if blocked or distance > _REACH else distance
    distance = max(0, m.start - item.end) + 1
    if any(item.end <= o.start <= m.start for o in others) or distance > _REACH:
        return None
    before_another = any(o.start >= m.end and _leads(c, m, o) for o in others)
    return None if before_another else distance


def pronoun(c: Context, item: Item) -> bool:
    """ "red wigglers, lots of good fat ones": the worms named before, said anew."""
    worms = (i for i in c.items if "worms" in i.topics and i.end <= item.start)
    return c.words[item.end - 1] == "ones" and any(worms)


def _told_of(c: Context, m: Mention, creature: Item) -> bool:
    """Whether a word behind a creature is said of it: "springtails: lots, ..."."""
    if any(creature.end <= o.start < m.start for o in c.items if o is not creature and o.topic in _CREATURES):
        return False
    gap = c.words[creature.end : m.start]
    stop = c.word(m.end) in _STOPS or not c.word(m.end) or not _takes(c, m)
    return stop and len(gap) <= _NEXT and not set(gap) & _STOPS


def _takes(c: Context, m: Mention) -> bool:
    """Whether a creature may follow the word: "lots of", "a few", not "lots"."""
    said = " ".join(c.words[m.start : m.end])
    longer = c.vocabulary.phrases.get(f"{said} of", ())
    return not any(sense.label == m.label for sense in longer)


def _leads(c: Context, m: Mention, creature: Item) -> bool:
    """Whether a word stands right before a creature and is said of it: "many | pot worms"."""
    gap = c.words[m.end : creature.start]
    return len(gap) <= 2 and not set(gap) & _STOPS and _takes(c, m) and "and" not in gap


def _shared(c: Context, item: Item, mentions: list[Mention]) -> Mention | None:
    """ "springtails and mites everywhere", "lots of mites and springtails": one word for a list."""
    creatures = [i for i in c.items if i.topic in _CREATURES]
    at = creatures.index(item)
    following = item
    for other in creatures[at + 1 :]:
        if not _listed(c, following, other):
            break
        if (m := _nearest(c, other, mentions)) is not None:
            return m if m.start >= other.end and not set(c.words[other.end : m.start]) & _STOPS else None
        following = other
    previous = item
    for other in reversed(creatures[:at]):
        if not _listed(c, other, previous):
            break
        if (m := _nearest(c, other, mentions)) is not None:
            return m if m.end <= other.start else None
        previous = other
    return None


def _listed(c: Context, left: Item, right: Item) -> bool:
    """Whether only "and" stands between two creatures, neither of which is counted."""
    gap = c.words[left.end : right.start]
    return bool(gap) and len(gap) <= 3 and set(gap) <= _LIST and left.amount is None and right.amount is None
