"""Covers that are laid on and taken off: lids, sacks, sheets of card."""

from __future__ import annotations

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.drafting import draft_of
from assistant.reading.sketch import Item, Mention

ON, OFF = 1.0, 0.0

_UNCOVERING = frozenset("uncover prop takeoff takeout take".split())
_LYING = frozenset("on over off back round around across".split())
_UNDER = frozenset(("under", "underneath", "beneath"))
_STAYING = frozenset(
    "left leave leaving stays stay staying propped prop overnight tonight tonite until till".split()
)
_OPEN = frozenset("off open ajar cracked aside".split())
_LIDS = frozenset("lid wrap outer frame net".split())


def moved(c: Context, item: Item, verb: Mention, act: str) -> Draft | None:
    """ "laid the sack back on", "left the lid off": a cover that a verb takes."""
    after = c.word(item.end)
    if act == "leave" and after not in ("off", "open", "ajar", "cracked") and c.word(verb.end) != "off":
        return None
    if c.vocabulary.role(c.word(item.start - 1), "det") and c.word(item.start - 2) in _UNDER:
        return None  # "put two ice packs under the lid": where they are
    if after == "back" and item.things[0].klass == "lid" and verb.end < item.start - 1:
        return None  # "gave it a pint of pumpkin and the lid back on"
    off = act in _UNCOVERING or (act in ("add", "leave", "went") and after in ("off", "aside"))
    if off and (denied(c, verb.start) or (item.name == "lid" and _opened_to_look(c))):
        return None
    return _draft(c, item, verb, OFF if off or act == "leave" else ON)


def lies(c: Context, item: Item) -> bool:
    """ "lid on", "under the sack": a cover told of by where it lies, with no verb."""
    pegged = c.word(item.end).endswith("ed") and c.word(item.end + 1) in _LYING  # "shade cloth rolled over"
    beside = pegged or _lying_at(c, item) in _LYING | _OPEN or c.word(item.start - 1) in ("under", "over")
    return item.topic == "cover" and beside


def lying(c: Context, item: Item) -> Draft | None:
    """The draft for a cover that lies somewhere; "with the lid on" and a lid that is on tell nothing new."""
    off = _lying_at(c, item) in _OPEN
    if off and item.name == "lid" and _opened_to_look(c):
        return None
    if c.word(item.start - 1) == "with" or (item.things[0].klass == "lid" and not off):
        return None
    return _draft(c, item, None, OFF if off else ON)


def _lying_at(c: Context, item: Item) -> str:
    """Where a cover lies: "lid | off", "the lid's staying | off", "lid | open"."""
    i = item.end
    while i < min(item.end + 3, c.clause.end) and (
        c.words[i] in _STAYING or c.vocabulary.role(c.words[i], "copula")
    ):
        i += 1
    return c.word(i) if i == item.end or c.has(_STAYING, item.end, i) else ""


def _opened_to_look(c: Context) -> bool:
    """ "okay, lid off": before anything else is told the bin is only opened; a lid "left off" stays off."""
    end = c.sketch.clauses[c.index + 1].end if c.index + 1 < len(c.sketch.clauses) else c.clause.end
    before = any(draft.start < c.clause.start for draft in c.drafts)
    return not before and not c.has(_STAYING, c.clause.start, end)


def _draft(c: Context, item: Item, verb: Mention | None, level: float) -> Draft:
    draft = draft_of(c, "cover", item, verb)
    draft.level = level
    draft.whole = _of_the_bin(item)
    return draft


def _of_the_bin(item: Item) -> bool:
    """Whether the cover is one for the whole bin, whatever tier is spoken of."""
    return bool(item.things and item.things[0].klass in _LIDS) or item.name in ("lid", "bubble wrap")
