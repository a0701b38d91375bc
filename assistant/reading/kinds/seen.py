"""Organisms seen or looked for, and how many (contract 4, 5.8, 5.13)."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.absent import denied
from assistant.reading.kinds.governing import act_of, governing
from assistant.reading.kinds.levels import how_many, pronoun
from assistant.reading.kinds.near import together
from assistant.reading.kinds.seenagain import how_many_of_them, told_again
from assistant.reading.kinds.wormstates import few_or_some, state_of, states_alone
from assistant.reading.sketch import Item
from assistant.records import Amount

_CREATURES = ("organism", "worms")
_WORM_ACTS = frozenset(
    "take takeout takeoff pick pickup kill move sell buy giveaway give worms bring scoop harvest back swap "
    "release hang treat smear arrive".split()
)
_REASONS = frozenset(("for", "against", "from", "because", "about", "like", "keeps", "keep"))
_UNWANTED = frozenset(("want", "attract", "attracts", "avoid", "prevent", "discourage"))
_AFTER_A_REASON = frozenset(("the", "those", "any", "more"))
_THEM = frozenset(("them", "em", "um", "'em", "it", "him"))
_SOME = 2.0
_ANYWHERE = frozenset(("anywhere", "nowhere"))
_BEFORE_A_SPOT = frozenset("in on at under near by along".split())
_ONE = frozenset(("a", "one", "dead", "single", "no", "lone"))
_NEVER = frozenset(("n't", "not", "always", "never"))
_SAW = frozenset(("see", "saw", "found", "spotted"))
_VAGUE = frozenset(("few", "couple", "several", "handful", "handfuls"))
_WORM_MEASURES = frozenset(("lb", "oz", "kg", "g", "cup", "bag", "bucket"))
_HOLDING = frozenset(("have", "get", "went"))
_NEXT_TO = 2  # words between a creature and the verb behind it
_TELLING = frozenset(
    "slow sluggish lively active at on under near moving all up down everywhere have = : working in "
    "look".split()
)


def sighting(c: Context) -> Iterator[Draft]:
    """One draft an organism; worms only where something is said of them."""
    for item in c.free():
        if item.topic not in _CREATURES or pronoun(c, item) or _handled(c, item):
            continue
        draft = _seen(c, item)
        if draft is not None:
            yield draft
    how_many_of_them(c)
    yield from states_alone(c)
    yield from told_again(c)


def _seen(c: Context, item: Item) -> Draft | None:
    """The sighting of one creature; None where nothing is said of worms but a measure or their name."""
    level, start, end = how_many(c, item)
    absent = denied(c, item)
    if absent:
        level, start, end = 0.0, min(start, absent[0]), max(end, absent[1])
    name = state_of(c, item)
    if level is None and item.amount is None and name == "worms" and not _telling(c, item):
        return None
    span = item.amount if item.amount or absent else _of_them(c, item)
    amount = None if absent or _no_count(c, item) else quantity(span)
    end = max(end, span.end) if span and amount else end
    if item.topic == "worms" and amount and amount.unit in _WORM_MEASURES:
        return None
    level, amount = _how_many(level, amount, _vague(c, item))
    c.taken.add(item.start)
    first, last = together(item)
    start, end = min(start, first), max(end, last)
    draft = Draft("sighting", start, end, c.clause, item=name, amount=amount, level=level, doubts=item.doubts)
    draft.whole = level == 0 and c.has(_ANYWHERE, item.end)
    return draft


def _of_them(c: Context, item: Item) -> AmountSpan | None:
    """ "worms on the lid, eleven of them"."""
    for span in c.unused():
        counted = span.unit in (None, "piece") and span.start >= item.end and not span.currency
        if not counted or c.word(span.end) != "of" or c.word(span.end + 1) not in _THEM:
            continue
        if not any(o.topic in _CREATURES and item.end <= o.start < span.start for o in c.items):
            c.use(span)
            return span
    return None


def _no_count(c: Context, item: Item) -> bool:
    """ "cocoons in one corner", "a million worms": a figure that counts a place, or only says many."""
    span = item.amount
    if span is None:
        return False
    if span.start >= item.end and c.word(span.start - 1) in _BEFORE_A_SPOT:
        return True
    return any(m.start < span.end and span.start < m.end and m.value == 4 for m in c.here("abundance"))


def _how_many(level: float | None, amount: Amount | None, vague: bool) -> tuple[float, Amount | None]:
    """The level and the count of a sighting: a count that is only a word for how many gives a level."""
    if amount and amount.unit not in ("piece", "handful"):
        amount = None
    if amount and amount.high == 0:
        return 0.0, None
    if amount and vague:
        return (few_or_some(amount) if level is None else level), None
    if amount and (level is None or level < 3):
        return few_or_some(amount), amount
    return (2.0 if level is None else level), amount


def _vague(c: Context, item: Item) -> bool:
    """Whether the count is only a word for how many: "a few ants" has a level, no figure."""
    span = item.amount
    return span is not None and bool(_VAGUE & set(c.words[span.start : span.end]))


def _handled(c: Context, item: Item) -> bool:
    """Whether an act takes the creature, or a trap is for it, so that seeing it is not what is said."""
    told = _as_reason(c, item) or _modifies(c, item) or _getting(c, item)
    return told or _fed(c, item) or _acted_on(c, item)


def _fed(c: Context, item: Item) -> bool:
    """ "put in two mushrooms": what may be food too, where a verb puts it in."""
    verb = governing(c, item) if "food" in item.topics else None
    if verb is None or verb.start > item.start or verb.value in _HOLDING:
        return False
    return c.vocabulary.kind(act_of(c, verb), "food") == "feed"


def _as_reason(c: Context, item: Item) -> bool:
    """ "a trap for the gnats", "because of mites"."""
    before = c.word(item.start - 1)
    wished = bool(_UNWANTED & set(c.words[max(c.clause.start, item.start - 3) : item.start]))
    i = item.start - 1 - (before in _AFTER_A_REASON)
    i -= c.word(i) == "of"
    return wished or c.word(i) in _REASONS


def _modifies(c: Context, item: Item) -> bool:
    """ "worm food", "the worm bin": the singular names something else, unless it is "a worm" by itself."""
    if c.words[item.end - 1] != "worm":
        return False
    return c.word(item.start - 1) not in _ONE or c.finder.plain(item.end)


def _getting(c: Context, item: Item) -> bool:
    """ "I don't get gnats", "I always get mites": a habit."""
    return c.word(item.start - 1) == "get" and c.word(item.start - 2) in _NEVER


def _acted_on(c: Context, item: Item) -> bool:
    """ "took out the worms": an act on worms, and no word of seeing them; "2 slugs picked out"."""
    if "worms" not in item.topics:
        return _taken_out(c, item)
    if any(v.value == "arrive" and 0 <= v.start - item.end <= 1 for v in c.here("verb")):
        return True
    reach = range(item.start - 8, item.start + 2)
    acted = any(v.value in _WORM_ACTS and v.end in reach for v in c.here("verb"))
    return acted and not _SAW & set(c.words[c.clause.start : item.start])


def _taken_out(c: Context, item: Item) -> bool:
    """Whether the verb next to a creature takes it out or kills it."""
    verb = governing(c, item)
    if verb is None or c.vocabulary.kind(act_of(c, verb), item.topic) not in ("remove", "buy", "sell"):
        return False
    if "," in c.words[verb.end : item.start] and denied(c, item):
        return False  # "slugs 3 (binned), gnats nil"
    if verb.start > item.start:
        beside = verb.start - item.end <= _NEXT_TO or c.word(verb.start - 1) == ","
        return beside and not _THEM & set(c.words[verb.end - 1 : verb.end + 1])
    between = [o for o in c.items if verb.end <= o.start < item.start]
    if (
        any(o.topic in _CREATURES for o in c.items if o.end <= verb.start)
        and "," in c.words[verb.end : item.start]
    ):
        return False  # "1 centipede squashed, cocoons: ..."
    return not any(o.topic not in _CREATURES for o in between)


def _telling(c: Context, item: Item) -> bool:
    """Whether something is said of worms that is worth a sighting: seen, lively, where they are."""
    seen = any(v.value == "see" for v in c.here("verb"))
    there = c.word(item.start - 1) in ("are", "'s", "the") and c.word(item.start - 2) in ("there", "where")
    predicate = c.vocabulary.role(c.word(item.end), "copula") or c.word(item.end) in _TELLING
    return seen or there or predicate
