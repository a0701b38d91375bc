"""What a place gets of what was told last: more of it, the other half, none of it."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.before import lately
from assistant.reading.kinds.denials import denied, state_at
from assistant.reading.kinds.figures import READINGS, SPRAY
from assistant.reading.sketch import Mention
from assistant.records import Amount

_GETTING = frozenset("get give feed need went have add".split())
_GIVING = frozenset(("get", "give", "feed", "add"))
_PUT = ("feed", "bed", "water", "amend", "treat")
_THE_REST = (["other", "half"], ["rest"], ["remainder"])
_HALF = Amount(0.5, 0.5, 0.5, "piece")
_REACH = 3  # clauses
_FILLING = frozenset("it them em 'em that one this another a about maybe only just".split())
_NO_FOOD = READINGS | {None, "min", SPRAY, "pH"}


def more_of_it(c: Context) -> Iterator[Draft]:
    """ "they got another two handfuls", "the tub got the other half", "three got none"."""
    verbs = [v for v in c.here("verb") if v.value in _GETTING]
    of_it = (draft for v in verbs if (draft := _none_of_it(c, v) or _the_rest(c, v)))
    told = None if c.items else next(of_it, None)
    if told is not None:
        yield told
        return
    verb = next((v for v in verbs if v.value in _GIVING), None)
    if verb is None:
        return
    if any(i.end <= verb.end + 4 for i in c.items):
        return
    span = next((a for a in c.unused() if _of_food(c, verb, a)), None)
    last = next(
        (d for d in reversed(c.drafts[-6:]) if d.kind in ("leftover", "feed", "bed") and d.item), None
    )
    if span is None or last is None or any(w not in _FILLING for w in c.words[verb.end : span.start]):
        return
    c.use(span)
    draft = Draft(
        "bed" if last.kind == "bed" else "feed", verb.start, span.end, c.clause, state_at(c, verb.start)
    )
    draft.item, draft.amount = last.item, quantity(span)
    draft.doubts = ("what it was is taken from before",)
    yield draft


def _none_of_it(c: Context, verb: Mention) -> Draft | None:
    """ "they get no more", "three got none", "the bottom didn't need any": none of what another place got."""
    said = c.words[verb.end : verb.end + 2]
    last = next((d for d in reversed(c.drafts[-8:]) if d.kind in _PUT and lately(c, d, _REACH)), None)
    if said == ["no", "more"] or (said[:1] == ["nothing"] and verb.value != "need"):
        return Draft("feed", verb.start, verb.end + 2, c.clause, state="ruled_out")
    none = said[:1] == ["none"] or (said[:1] == ["any"] and denied(c, verb.start))
    ended = verb.end + 1 >= c.clause.end or c.word(verb.end + 1) in ("today", "either", "yet", "this", "at")
    none = none and verb.end not in c.clause.used
    if last is None or not none or not ended or not c.clause.places:
        return None
    item = None if last.kind == "feed" else last.item
    return Draft(last.kind, verb.start, verb.end + 1, c.clause, state="ruled_out", item=item)


def _the_rest(c: Context, verb: Mention) -> Draft | None:
    """ "the cooler got the other half", "the rest went in the tub": of what was just put in."""
    words = c.words
    said = (
        (i, i + n)
        for i in range(c.clause.start, c.clause.end)
        for n in (3, 2)
        if words[i + 1 : i + n] in _THE_REST and c.vocabulary.role(words[i], "det")
    )
    start, end = next(said, (0, 0))
    told = next((d for d in reversed(c.drafts[-4:]) if d.kind in (*_PUT, "prepare")), None)
    if not end or told is None or not lately(c, told, _REACH) or not c.clause.places:
        return None
    if not (0 <= start - verb.end <= 2 or 0 <= verb.start - end <= 1):
        return None
    first, last = min(start, verb.start), max(end, verb.end)
    draft = Draft(told.kind, first, last, c.clause, state_at(c, verb.start), told.item)
    if told.kind == "prepare":
        draft.kind = "feed"
    elif words[end - 1] == "half" and told.amount == _HALF:
        draft.amount = told.amount
    c.clause.used.update(range(start, end))
    return draft


def _of_food(c: Context, verb: Mention, span: AmountSpan) -> bool:
    """Whether an amount right behind the verb may be one of food, and names no thing of its own."""
    if span.unit in _NO_FOOD or span.currency:
        return False
    return span.start - verb.end <= 3 and c.word(span.end) != "of"
