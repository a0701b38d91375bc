"""What was bought or sold, by the money told with it: "500 worms came, $27", "got 60 rand for a tub"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.before import lately
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.governing import act_of
from assistant.reading.sketch import Item, Mention

_COMING = frozenset("arrive bring come see have get".split())
"""Acts of goods that come to the keeper."""

_PUTTING = frozenset("add worms release settle mix mixin bed".split())
_COSTING = frozenset("cost costs was were is are came ran for at , @ me us".split())
_US = frozenset(("me", "us"))
_TAKEN_OUT = frozenset(("harvest", "worms_removed", "drain"))
_OUGHT = frozenset("should to must i ta gotta".split())
_SOME = frozenset("some more it them that another".split())
_OUT_OF = (["out", "of"], ["low", "on"], ["short", "of"], ["enough", "of"])
_REACH = 6  # words between a sum and what it is for


def paid_for(c: Context) -> Iterator[Draft]:
    """The sale or purchase that money tells of, where no verb of trade stands beside it."""
    sums = [a for a in c.amounts if a.currency]
    if not sums or any(c.word(a.end) == "off" for a in sums):
        return
    verbs = [(v, act_of(c, v)) for v in c.here("verb")]
    draft = _got(c, verbs, sums) or _paid_us(c, verbs, sums) or _came(c, verbs, sums[0])
    draft = draft or _put_in_and_paid(c, verbs, sums[0]) or _paid_for_them(c, verbs)
    if draft is not None:
        yield draft


def _put_in_and_paid(c: Context, verbs: list[tuple[Mention, str]], price: AmountSpan) -> Draft | None:
    """ "added 250 g of worms, £11": bought, and put in as well."""
    item = next((i for i in reversed(c.free()) if i.end <= price.start), None)
    if item is None or not verbs or any(act not in _PUTTING for _, act in verbs):
        return None
    if item.topic in ("castings", "leachate") or not 0 <= price.start - item.end <= 2:
        return None
    return Draft("buy", item.start, item.end, c.clause, item=item.name, amount=quantity(item.amount))


def _got(c: Context, verbs: list[tuple[Mention, str]], sums: list[AmountSpan]) -> Draft | None:
    """ "got 60 rand for a tub of castings": money got for a thing is a sale."""
    for verb, _ in verbs:
        price = next((a for a in sums if a.start == verb.end), None)
        if verb.value != "get" or price is None or c.word(price.end) != "for":
            continue
        item = next((i for i in c.free() if 0 <= i.start - price.end <= _REACH), None)
        if denied(c, verb.start):
            return None
        return _trade(c, "sell", verb, item) if item else _of_what_was_taken(c, verb)
    return None


def _paid_us(c: Context, verbs: list[tuple[Mention, str]], sums: list[AmountSpan]) -> Draft | None:
    """ "he paid me twenty bucks": for what was just taken out."""
    for verb, _ in verbs:
        ours = c.word(verb.end) in _US and any(a.start >= verb.end for a in sums)
        if ours and verb.value in ("buy", "give"):
            return _of_what_was_taken(c, verb)
    return None


def _paid_for_them(c: Context, verbs: list[tuple[Mention, str]]) -> Draft | None:
    """ "eight hundred red wigglers arrived | I paid thirty-four pounds for them": bought, as told before."""
    verb = next((v for v, act in verbs if act == "buy"), None)
    them = any(
        c.words[i] == "for" and c.word(i + 1) in _SOME for i in range(c.clause.start, c.clause.end - 1)
    )
    if verb is None or not them or c.items:
        return None
    added = next((d for d in reversed(c.drafts[-4:]) if d.kind == "worms_added" and lately(c, d, 4)), None)
    if added is None:
        return None
    c.clause.used.update(range(verb.start, verb.end))
    return Draft("buy", verb.start, verb.end, c.clause, item=added.item, amount=added.amount)


def _of_what_was_taken(c: Context, verb: Mention) -> Draft | None:
    last = next((d for d in reversed(c.drafts[-4:]) if d.kind in _TAKEN_OUT), None)
    if last is None:
        return None
    c.clause.used.update(range(verb.start, verb.end))
    return Draft("sell", verb.start, verb.end, c.clause, item=last.item, amount=last.amount)


def _came(c: Context, verbs: list[tuple[Mention, str]], price: AmountSpan) -> Draft | None:
    """ "500 worms arrived, $27", "the coir cost me 12 dollars", "coir brick $4": what was paid for."""
    if any(act not in _COMING for _, act in verbs):
        return None
    item = next((i for i in reversed(c.free()) if i.end <= price.start), None)
    if item is None:
        return None
    kind = "sell" if item.topic in ("castings", "leachate") else "buy"
    between = [w for w in c.words[item.end : price.start] if w not in _COSTING]
    near = any(v.start < price.start for v, _ in verbs) if verbs else len(between) <= 2
    return _trade(c, kind, verbs[0][0] if verbs else None, item) if near else None


def _trade(c: Context, kind: str, verb: Mention | None, item: Item) -> Draft:
    c.taken.add(item.start)
    start, end = item.start, item.end
    if verb is not None:
        c.clause.used.update(range(verb.start, verb.end))
        start, end = min(start, verb.start), max(end, verb.end)
    return Draft(kind, start, end, c.clause, item=item.name, amount=quantity(item.amount), doubts=item.doubts)


def still_to_get(c: Context, verb: Mention) -> bool:
    """ "I gotta get some cardboard"."""
    return c.clause.stance == "planned" and c.word(verb.start - 1) in _OUGHT


def needed(c: Context, verb: Mention) -> Draft | None:
    """ "I'm out of peat | so I gotta pick some up": what there is none of."""
    before = c.sketch.clauses[c.index - 1] if c.index else None
    if before is None or not _SOME & set(c.words[verb.start : verb.end + 2]):
        return None
    out = next((i for i in range(before.start, before.end - 1) if c.words[i : i + 2] in _OUT_OF), None)
    things = c.finder.of(before, [], True) if out is not None else []
    item = next((i for i in things if out is not None and i.start > out), None)
    if item is None:
        return None
    return Draft("buy", verb.start, verb.end + 1, c.clause, item=item.name, doubts=item.doubts)
