"""The draft that a thing gives: its name, its amount and its state, whichever sentence told of it."""

from __future__ import annotations

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.figures import amount_for
from assistant.reading.sketch import Item, Mention
from assistant.records import State

PUT_IN = {
    "food": "feed",
    "bedding": "bed",
    "amendment": "amend",
    "water": "water",
    "treatment": "treat",
    "unknown": "feed",
}
"""The kind of a thing by its topic, where no verb says what was done: it was put in."""

NAMED = {"water": "water", "drain": "leachate", "harvest": "castings"}
"""The one item that records of a kind are about."""

_BEDDING = frozenset("bedding cover mulch insulation browns".split())
DONE_WITH = {**NAMED, "amend": "lime"}
"""What a verb does it with that names nothing: "limed it"."""

_REPELLING = frozenset(("against", "deter", "repel", "discourage"))
_LIDS = frozenset(("lid", "blanket", "roof"))
_FEW_SHEETS = 2
_SHARED = "one amount was said for several things: shared out evenly"


def draft_of(c: Context, kind: str, item: Item, verb: Mention | None = None, state: State = "done") -> Draft:
    """A draft of `kind` for an item; a negation before the verb or the item makes it ruled out."""
    if _denied(c, item, verb):
        state = "ruled_out"
    if kind == "feed" and _as_bedding(c, item):
        kind = "bed"
    if (kind in ("feed", "bed") and _baiting(c, item)) or (kind in ("feed", "amend") and _against(c, item)):
        kind = "treat"
    if kind in ("feed", "bed") and _laid_over(c, item, verb):
        kind = "cover"
    if kind in ("feed", "bed") and _stored(c, item):
        kind = "prepare"
    start, end = _extent(item, verb)
    draft = Draft(kind, start, end, c.clause, state, NAMED.get(kind, item.name), doubts=item.doubts)
    if state != "ruled_out":
        draft.amount = amount_for(kind, item.amount, item.share)
    elif item.things and item.things[0].klass == "mixed" and kind in ("feed", "bed"):
        draft.item = None
    if kind == "cover":
        draft.level = 1.0
    if kind == "move":
        _lead(c, draft, verb)
    if item.share > 1 and draft.amount:
        draft.doubts = (*draft.doubts, _SHARED)
    return draft


def _denied(c: Context, item: Item, verb: Mention | None) -> bool:
    if item.amount is not None and item.amount.high == 0:
        return True  # "zero peels"
    if verb is None:
        return denied(c, item.start)
    if verb.start > item.start:
        return denied(c, verb.start, item.end) or denied(c, item.start)
    return denied(c, verb.start) or denied(c, item.start, verb.end)


def _extent(item: Item, verb: Mention | None) -> tuple[int, int]:
    """The words of the item with its amount, and with its verb where that is near."""
    start, end = item.start, item.end
    if item.amount is not None:
        start, end = min(start, item.amount.start), max(end, item.amount.end)
    if verb is not None and abs(verb.start - start) <= 6:
        start, end = min(start, verb.start), max(end, verb.end)
    return start, end


def _laid_over(c: Context, item: Item, verb: Mention | None) -> bool:
    """ "covered it with a page of newspaper", "two sheets of kitchen paper as a lid": a sheet is a cover."""
    if item.amount is None or item.amount.unit != "sheet" or item.amount.best > _FEW_SHEETS:
        return False
    covering = verb is not None and verb.value == "cover" and "cover" in item.topics
    return covering or not _LIDS.isdisjoint(c.words[item.end : item.end + 4])


def _stored(c: Context, item: Item) -> bool:
    """ "three tubs of veg in the freezer now": kept for later, and in no bin."""
    near = range(item.end, min(item.end + 3, c.clause.end))
    return any(
        c.words[i] in ("in", "into") and not c.vocabulary.storage.isdisjoint(c.words[i + 1 : i + 4])
        for i in near
    )


def _as_bedding(c: Context, item: Item) -> bool:
    """ "put the leaves in as bedding", "two bales of lucerne as a cover"."""
    for i in range(item.end, min(item.end + 5, c.clause.end)):
        if c.words[i] in ("as", "for") and not _BEDDING.isdisjoint(c.words[i + 1 : i + 4]):
            return True
    return False


def _baiting(c: Context, item: Item) -> bool:
    """ "laid a melon slice in there for a trap", "a dish of beer for the slugs": the food is a bait."""
    rest = c.words[item.end : min(item.end + 8, c.clause.end)]
    if {"trap", "bait", "lure"} & set(rest) and {"for", "as", "to"} & set(rest):
        return True
    pest = c.after(item)
    if pest is None or pest.topic != "organism" or pest.start - item.end > len(rest):
        return False
    return "for" in c.words[max(item.end, pest.start - 2) : pest.start]


def _against(c: Context, item: Item) -> bool:
    """ "neem cake against ants", "a ring of lime to keep the slugs off": a control of a creature."""
    other = c.after(item)
    if other is None or other.topic != "organism":
        return False
    return not _REPELLING.isdisjoint(c.words[other.start - 2 : other.start])


def _lead(c: Context, draft: Draft, verb: Mention | None) -> None:
    """Where a move leads from and to."""
    places = c.clause.places
    source = next((p for p in places if p.after in ("from", "off", "out")), None)
    goal = next((p for p in places if p is not source and (verb is None or p.start > verb.start)), None)
    if goal is not None:
        draft.to_tier = c.sketch.walk.within(goal, c.clause)[0][1]
    if source is not None:
        draft.where = c.sketch.walk.within(source, c.clause)
    elif goal is not None and c.index:
        bin_, tier = c.sketch.clauses[c.index - 1].where[0]
        draft.where = ((bin_, tier if tier != draft.to_tier else None),)
