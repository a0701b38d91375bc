"""Acts told by a noun: "gave it a good stir", "did the big harvest"."""

from __future__ import annotations

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.drafting import NAMED
from assistant.reading.kinds.figures import claim
from assistant.reading.sketch import Mention

_GIVERS = frozenset(
    "give gave giving gives given did do doing had have need needs got get use want wants".split()
)
_GETTING = frozenset("get got have had".split())
_ADJECTIVES = frozenset("good quick little big light full gentle proper bit".split())
_ONE = frozenset(("a", "another"))
_LEADING = frozenset("just only and then so maybe oh plus".split())
_REACH = 7  # words from the giving to the noun


def light(c: Context) -> tuple[Draft | None, set[int]]:
    """The first act of the clause that a noun tells, and the starts of the verbs that belong to it."""
    for noun in c.here("light"):
        told = _harvest_told(c, noun)
        if told is not None:
            return told, set()
        giver = _giver(c, noun)
        if giver is not None and not _said_otherwise(c, noun):
            verbs = {v.start for v in c.here("verb") if giver <= v.start < noun.end}
            return _given(c, noun, giver), verbs
    return None, set()


def _harvest_told(c: Context, noun: Mention) -> Draft | None:
    """ "the harvest was six pounds", "harvest of bed 2: 18 sacks"."""
    if noun.value != "harvest":
        return None
    told = c.vocabulary.role(c.word(noun.end), "copula")
    colon = next(
        (k for k in range(noun.end, min(noun.end + _REACH, c.clause.end)) if c.words[k] == ":"), None
    )
    begin = colon if colon is not None else noun.end
    if not told and (colon is None or any(v.start < colon for v in c.here("verb") if v.start >= noun.end)):
        return None
    span = claim(c, lambda a: a.unit and 0 < a.start - begin <= 2)
    if span is None:
        return None
    return Draft("harvest", noun.start, span.end, c.clause, item=NAMED["harvest"], amount=quantity(span))


def _giver(c: Context, noun: Mention) -> int | None:
    """Where the word stands that gives the noun, by way of an article or "good": not "they got a feed"."""
    floor = max(c.clause.start, noun.start - _REACH)
    giver = next((i for i in range(noun.start - 1, floor - 1, -1) if c.words[i] in _GIVERS), None)
    if giver is None and _by_itself(c, noun):
        return c.clause.start
    if giver is None or (c.words[giver] in _GETTING and c.word(giver - 1) == "they"):
        return None
    before = c.word(noun.start - 1)
    return giver if c.vocabulary.role(before, "det") or before in _ADJECTIVES else None


def _by_itself(c: Context, noun: Mention) -> bool:
    """ "just a spritz", "then a quick stir": a clause that is no more than the noun."""
    lead = c.words[c.clause.start : noun.start]
    return bool(_ONE & set(lead)) and _ADJECTIVES.union(_ONE, _LEADING).issuperset(lead)


def _said_otherwise(c: Context, noun: Mention) -> bool:
    """Whether a verb or a thing tells the same: "a drink of water", "gave it a feed of peels"."""
    if c.word(noun.end) == "can" or any(v.start == noun.start for v in c.here("verb")):
        return True
    if noun.value == "water":
        return any(i.start >= noun.end and i.topic != "water" for i in c.items)
    return noun.value == "feed" and (bool(c.items) or not denied(c, noun.start))


def _given(c: Context, noun: Mention, giver: int) -> Draft:
    kind = str(noun.value)
    draft = Draft(kind, giver, noun.end, c.clause, item=NAMED.get(kind))
    if denied(c, giver) or c.word(noun.start - 1) == "no":
        draft.state = "ruled_out"
    elif kind in NAMED:
        draft.amount = quantity(claim(c, lambda a: a.unit and abs(a.start - noun.end) <= 4))
    return draft
