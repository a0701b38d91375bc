"""What was told before and is taken out for good: "so I yanked it", "which I squashed", "(evicted)"."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.reading.draft import Context, Draft, Target, quantity
from assistant.reading.kinds.away import thrown_away
from assistant.reading.kinds.before import POINTING, lately
from assistant.reading.kinds.denials import denied
from assistant.reading.sketch import Item, Mention
from assistant.records import Amount

_SURE = frozenset("takeout kill takeoff pickup pick".split())
"""Acts that take something out by themselves."""

_LEAVING = frozenset(("comeout", "goout"))
"""Acts of what leaves: the thing is their subject."""

_WANTED = frozenset(("worms", "cocoons", "juvenile worms", "adult worms", "breeders", "escaping worms"))
_ONE = frozenset("it that him her he she one this".split())
_MANY = frozenset("them those these em 'em they".split())
_WHO = frozenset("i we he she they".split())
_RELATIVE = frozenset(("which", "that", "who"))
_BEHIND = frozenset(
    "by with in into to onto over under and again too ) off out away up from straight".split()
)
_ALL_OF_IT = (["the", "lot"], ["all", "of"], ["removed", "all"])
_WHAT_IS_LEFT = (["the", "rest"], ["what", "'s"], ["whats", "left"], ["what", "was"], ["the", "remains"])
_REACH = 2  # clauses before this one in which a thing may have been named


@dataclass(frozen=True, slots=True)
class _Told:
    """Something told of before: `seen` where a record says that it is in the bin."""

    name: str
    start: int
    creature: bool
    many: bool
    fuzz: bool
    seen: bool = False
    amount: Amount | None = None
    where: tuple[Target, ...] | None = None


def thrown_out(c: Context, verb: Mention, act: str) -> Draft | None:
    """The creature or food told of just before, where this verb takes it out."""
    pointer = _pointer(c, verb, act)
    if denied(c, verb.start) or pointer is None:
        return None
    if any(d.kind == "remove" and lately(c, d, 1) for d in c.drafts[-2:]):
        return None
    sure = act in _SURE or act in _LEAVING or thrown_away(c, verb.end)
    here = [_of_item(c, i) for i in c.items if i.end <= verb.start and _pluckable(i)]
    here = [t for t in here if _agrees(t, pointer)]
    if here and sure and c.word(verb.end) in POINTING:
        return _draft(c, verb, here[-1])
    told = _told(c, pointer)
    if told is None or (act == "goout" and not told.creature) or (pointer == "rest" and not told.seen):
        return None
    if not told.seen and not (sure and pointer) and not _bad_in(c, told):
        return None
    return _draft(c, verb, told)


def _draft(c: Context, verb: Mention, told: _Told) -> Draft:
    count = next((a for a in c.unused() if a.start == verb.end and a.unit is None), None)
    if count is not None:
        c.use(count)
    end = count.end if count else verb.end + (c.word(verb.end) in POINTING)
    amount = quantity(count) or told.amount
    return Draft("remove", verb.start, end, c.clause, item=told.name, amount=amount, where=told.where)


def _pointer(c: Context, verb: Mention, act: str) -> str | None:
    """The word that stands for what is taken, "" where it is left out; None where something else is."""
    before, start = c.word(verb.start - 1), c.clause.start
    if act in _LEAVING:
        subject = next((w for w in reversed(c.words[start : verb.end]) if w in _ONE | _MANY), None)
        return subject
    for i in range(verb.start, min(verb.end + 3, c.clause.end)):
        if c.words[i] in POINTING:
            return c.words[i]
    if c.words[verb.end : verb.end + 2] in _ALL_OF_IT:
        return "them"
    if any(c.words[i : i + 2] in _WHAT_IS_LEFT for i in range(verb.end, min(verb.end + 4, c.clause.end))):
        return "rest"
    if before in POINTING and c.vocabulary.role(c.word(verb.start), "verb"):
        return before
    return "" if _object_left_out(c, verb) else None


def _object_left_out(c: Context, verb: Mention) -> bool:
    """ "which I squashed", "(evicted)", "flicked off", "pulled 3": nothing stands where the object would."""
    front = [
        w for w in c.words[c.clause.start : verb.start] if w not in ("and", "so", "(", "then", "just", "got")
    ]
    relative = front[:1] != [] and front[0] in _RELATIVE
    if not (not front or (relative and len(front) <= 3) or (len(front) == 1 and front[0] in _WHO)):
        return False
    if any(i.start >= verb.end and "," not in c.words[verb.end : i.start] for i in c.items):
        return False
    behind = c.word(verb.end) if verb.end < c.clause.end else ""
    counted = any(a.start == verb.end and a.unit is None and _ends(c, a.end) for a in c.unused())
    return not behind or behind in _BEHIND or counted or c.vocabulary.role(behind, "adverb")


def _ends(c: Context, i: int) -> bool:
    """Whether no noun follows a count: "took out 40 | with chopsticks", "pulled 3", "four of them"."""
    return i >= c.clause.end or c.words[i] in _BEHIND or c.vocabulary.role(c.words[i], "prep", "and")


def _told(c: Context, pointer: str) -> _Told | None:
    """What the pointing word can mean: what was seen there, else what was named."""
    floor = c.sketch.clauses[max(0, c.index - (_REACH if pointer else 1))].start
    drafts = (d for d in reversed(c.drafts[-8:]) if d.kind in ("sighting", "leftover") and d.start >= floor)
    seen = [_of_draft(c, d) for d in drafts if d.level != 0 and d.state == "done"]
    found = [t for t in (*seen, *_named(c, floor)) if t.name and _agrees(t, pointer)]
    if not found or found[0].name in _WANTED:
        return None
    if found[0].fuzz:  # mold goes with the food it grows on, where that is named
        return next((t for t in found if not t.fuzz and _bad_in(c, t)), found[0])
    return found[0]


def _named(c: Context, floor: int) -> Iterator[_Told]:
    """The creatures and foods of the clauses before this one, the last first."""
    for clause in reversed(c.sketch.clauses[: c.index]):
        if clause.start < floor:
            return
        spans = [a for a in c.sketch.amounts if clause.start <= a.start < clause.end]
        if clause.stance == "done":
            for item in reversed(c.finder.of(clause, spans, False)):
                if _pluckable(item):
                    yield _of_item(c, item)


def _pluckable(item: Item) -> bool:
    """Whether a thing is one that is taken out: food, or a creature that nobody wants."""
    return item.topic in ("food", "organism", "debris") and item.name not in _WANTED


def _of_item(c: Context, item: Item) -> _Told:
    fuzz = bool(item.things) and item.things[0].klass == "fungus" and "mushroom" not in item.name
    many = _plural(c.words[item.end - 1]) or (item.amount is not None and item.amount.best > 1)
    amount = quantity(item.amount)
    return _Told(item.name, item.start, item.topic == "organism", many, fuzz, amount=amount)


def _of_draft(c: Context, draft: Draft) -> _Told:
    here = c.sketch.within("thing", draft.start, draft.end)
    things = next((m for m in here if any(t.name == draft.item for t in m.value)), None)
    many = _plural(c.words[things.end - 1] if things else draft.item or "")
    many = many or (draft.amount is not None and draft.amount.best > 1)
    fuzz = things is not None and things.value[0].klass == "fungus" and "mushroom" not in (draft.item or "")
    creature = draft.kind == "sighting"
    return _Told(draft.item or "", draft.start, creature, many, fuzz, True, draft.amount, draft.where)


def _plural(word: str) -> bool:
    return word.endswith("s") and not word.endswith("ss")


def _bad_in(c: Context, told: _Told) -> bool:
    """ "mites all over the old corn cob, pulled it": what creatures were just seen on."""
    return any(d.kind == "sighting" and told.start in d.clause for d in c.drafts[-4:])


def _agrees(told: _Told, pointer: str) -> bool:
    """Whether "it" or "them" can stand for the thing: one of it, or more."""
    if pointer in _ONE:
        return not told.many
    return told.many or pointer not in _MANY
