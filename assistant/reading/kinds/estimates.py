"""How many worms are thought to be in there, counted or guessed."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.before import lately
from assistant.reading.kinds.near import before, figure, together, verb_values
from assistant.reading.sketch import Item

_GUESSING = frozenset(
    "guess suppose estimate est estimated figure reckon reckoned reckoning counted count counts census "
    "population think".split()
)
_COUNTED = frozenset(("counted", "count", "counts", "census"))
_SAYING = frozenset(("says", "said", "reckons", "thinks", "puts"))
_LEFT = frozenset(("left", "there", "total", "altogether"))
_ON_THE_WAY = frozenset("from to into of out off".split())
_NO_COUNT = 100_000
_OF_WORMS_ALONE = _GUESSING - {"think", "figure", "counted"}
_HELD = frozenset("there here it left altogether total strong around has have about got".split())
_MOVING = frozenset(
    "take takeout takeoff add move sell give giveaway buy worms back went scoop".split(),
)
_LOOKING = frozenset(("count", "have", "get", "see"))
_WORM_UNITS = frozenset((None, "piece", "lb", "oz", "g", "kg", "cup", "handful"))
_NOT_ALL = ("escaping", "dead", "juvenile")
_MANY = 50
"""From this count on, worms that are "in there" are an estimate and no few that were seen."""


def worm_estimate(c: Context) -> Iterator[Draft]:
    """A weight or count of worms with a word for guessing."""
    if _MOVING & set(verb_values(c)) or any(p.after in _ON_THE_WAY for p in c.clause.places):
        return
    for item in c.free():
        amount = item.amount
        if amount is None or not _of_all_worms(item) or not _estimated(c, item):
            continue
        c.taken.add(item.start)
        told = figure(amount, amount.unit or "piece")
        yield Draft("worm_estimate", *together(item), c.clause, item=item.name, amount=told)


def _of_all_worms(item: Item) -> bool:
    """Whether a thing is worms as such, not those that are young, dead or on their way out."""
    return "worms" in item.topics and not any(state in item.name for state in _NOT_ALL)


def _estimated(c: Context, item: Item) -> bool:
    """ "I'd guess 800 worms", "two pounds of worms in there"."""
    amount = item.amount
    if amount is None or amount.unit not in _WORM_UNITS:
        return False
    if amount.best >= _NO_COUNT and not c.has(_GUESSING) and amount.unit in (None, "piece"):
        return False  # "there must be a million worms"
    much = amount.unit not in (None, "piece") or amount.best >= _MANY
    if c.has(_GUESSING - _COUNTED) or _guessed_before(c):
        return True
    return much and (c.has(_HELD | _COUNTED) or c.marked("hedge"))


def _worms_before(c: Context) -> bool:
    """ "there are a million worms | but Dad says two thousand", "the drum not so much, maybe a thousand"."""
    last = next(iter(reversed(c.drafts[-1:])), None)
    if last is None or last.item != "worms" or last.clause is c.clause or not lately(c, last, 2):
        return False
    if last.kind == "sighting":
        return c.has(_SAYING)
    return last.kind == "worm_estimate" and bool(c.clause.places) and not c.here("verb")


def _guessed_before(c: Context) -> bool:
    """ "I think | there's like two hundred worms in there"."""
    if c.index == 0:
        return False
    last = c.sketch.clauses[c.index - 1]
    return last.end - last.start <= 4 and bool(_GUESSING & set(c.words[last.start : last.end]))


def bare_estimate(c: Context) -> Iterator[Draft]:
    """ "est 1500 left in A", "I'd guess | the annex holds 300": a count with nothing named is of worms."""
    guessing = c.has(_OF_WORMS_ALONE) or _guessed_before(c) or (c.has(_GUESSING) and c.has(_LEFT))
    guessing = guessing or _worms_before(c)
    if not guessing or any(i.topic == "organism" for i in c.items):
        return
    acting = bool(set(verb_values(c)) - _LOOKING)
    for span in c.unused():
        if acting and not _GUESSING & set(before(c, span.start, 4)):
            continue
        if span.unit in (None, "lb", "kg") and (span.best >= _MANY or span.unit) and not span.currency:
            c.use(span)
            doubts = ("what was counted is not said: taken as worms",)
            amount = figure(span, span.unit or "piece")
            yield Draft(
                "worm_estimate", span.start, span.end, c.clause, item="worms", amount=amount, doubts=doubts
            )
            if c.word(span.end) != "in":  # "212 in A, 240 in B"
                return
