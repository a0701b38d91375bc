"""Creatures said not to be there: "no mites", "didn't see any gnats", "gnats: none", "flies gone"."""

from __future__ import annotations

from assistant.reading.draft import Context
from assistant.reading.kinds.near import after
from assistant.reading.sketch import Item

_DENIALS = frozenset("no not n't none zero without never nor any neither nope".split())
_SEEING = frozenset(
    "a an any single sign signs of see seeing seen saw more many the one other new live real much spot "
    "spotted find found notice noticed sight there been".split()
)
_SEEING_ACTS = frozenset(("see", "have", "get"))
_NOT = frozenset(("not", "n't"))
_WISHING = frozenset(("want", "need", "like", "mind"))
_MUCH = frozenset(("many", "much", "a", "too"))
_MUCH_OF = frozenset(("many", "lot", "of"))
_NO_SIGN = (["no", "trace"], ["no", "sign"], ["no", "evidence"], ["not", "one"])
_ABSENT = frozenset(("none", "zero", "nil", "gone", "cleared", "vanished", "nope"))
_GONE_SOMEWHERE = frozenset("to down up into deep under back".split())
_NOT_QUITE = frozenset(("nearly", "almost", "not", "n't", "mostly"))
_NOT_THERE = frozenset(("there", "back", "around", "any", "seen"))


def denied(c: Context, item: Item) -> tuple[int, int] | None:
    """The words from the creature to its denial, None where nothing denies it."""
    for i in range(max(c.clause.start, item.start - 7), item.start):
        if c.words[i] in _DENIALS and _denies(c, i, item):
            return i, item.end
    if "rid" in c.words[max(c.clause.start, item.start - 4) : item.start]:
        return max(c.clause.start, item.start - 4), item.end
    told = after(c, item.end, 6)
    if any(told[k : k + 2] in _NO_SIGN for k in range(len(told))):
        return item.start, item.end + len(told)
    told = told[:5]
    for k, word in enumerate(told):
        following = told[k + 1] if k + 1 < len(told) else ""
        if word in _ABSENT and not any(item.end <= o.start < item.end + k for o in c.items):
            moved = word == "gone" and following in _GONE_SOMEWHERE
            if moved or (k and told[k - 1] in _NOT_QUITE):
                return None
            return item.start, item.end + k + 1
        if word == "n't" and following in _NOT_THERE:
            return item.start, item.end + k + 2
    return None


def _denies(c: Context, i: int, item: Item) -> bool:
    """Whether a denial at word `i` is of the creature: no act, no amount and few words come between."""
    if c.word(i + 1) in _WISHING or not _leads_to(c, i + 1, item.start) or _not_many(c, i, item):
        return False
    few = c.sketch.covering("abundance", i)
    if few is not None and few.value:
        return False  # "hardly any mites"
    if c.words[i] == "no" and _plenty(c, item):
        return False
    acted = any(i < v.start < item.start and v.value not in _SEEING_ACTS for v in c.here("verb"))
    return not acted and not any(i < o.start < item.start and o.amount is not None for o in c.items)


def _not_many(c: Context, i: int, item: Item) -> bool:
    """ "not many mites", "not a lot of gnats": there are some."""
    few = c.words[i] in _NOT and c.word(i + 1) in _MUCH
    return few and c.word(i + 2) in _MUCH_OF | {item.name.split()[0]}


def _plenty(c: Context, item: Item) -> bool:
    """ "no, pot worms, plenty of them": the "no" corrects what stands before it."""
    many = [m for m in c.here("abundance") if m.start >= item.end and (m.value or 0) >= 3]
    return bool(many) and not any(item.end <= o.start < many[0].start for o in c.items)


def _leads_to(c: Context, start: int, end: int) -> bool:
    """Whether only words of seeing, articles and a word or two that describe stand in between."""
    others = [w for w in c.words[start:end] if w not in _SEEING]
    return len(others) <= 2 and not any(
        c.vocabulary.role(w, "subject", "and", "copula", "conj", "prep") or w == "," for w in others
    )
