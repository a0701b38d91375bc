"""Sales and gifts of what was told before: "sold one bucket to Dale for $15"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.before import POINTING
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.drafting import NAMED
from assistant.reading.kinds.governing import act_of
from assistant.reading.sketch import Item, Mention
from assistant.records import Amount

_KINDS = {"sell": "sell", "giveaway": "give", "give": "give"}
_TRADED = frozenset(("harvest", "worms_removed", "drain"))
_LAST = frozenset("last other third second fourth the".split())
_TO = frozenset(("to", "for"))
_OF_THEM = (["of", "those"], ["of", "them"], ["of", "these"], ["of", "em"])
_ITS_PARTS = frozenset("of it that them the".split())


def traded(c: Context) -> Iterator[Draft]:
    """ "gave three to the school": what was traded is what was just harvested, drained or taken out."""
    last = next((d for d in reversed(c.drafts[-4:]) if d.kind in _TRADED), None)
    for verb in c.here("verb"):
        went = _went_to_somebody(c, verb)
        kind = _KINDS.get(act_of(c, verb)) or (None if not went else "sell" if _paid(c) else "give")
        if kind is None or denied(c, verb.start) or _own_thing(c, verb):
            continue
        span = next(
            (
                a
                for a in [*_fronted(c, verb), *c.unused(), *_one(c, verb)]
                if _of(c, a, verb) and not a.currency
            ),
            None,
        )
        draft = _figure(c, verb, kind, span, last) if span else _all_of_it(c, verb, kind, last)
        if draft is not None:
            yield draft


def _paid(c: Context) -> bool:
    return any(a.currency for a in c.amounts)


def _own_thing(c: Context, verb: Mention) -> bool:
    """Whether the verb takes a thing of its own: one that is no purpose ("to fish with", "for her roses")."""
    return any(not _purpose(c, verb, item) for item in c.free())


def _purpose(c: Context, verb: Mention, item: Item) -> bool:
    return item.start > verb.end and bool(_TO & set(c.words[verb.end : item.start]))


def _fronted(c: Context, verb: Mention) -> Iterator[AmountSpan]:
    """ "four litres | I gave to Nuala": an amount with no thing ends the clause before."""
    before = c.sketch.clauses[c.index - 1] if c.index else None
    if before is None or not c.vocabulary.role(c.word(verb.start - 1), "subject"):
        return
    if verb.start - c.clause.start > 1 or before.end != c.clause.start:
        return
    span = c.sketch.ending("amount", before.end)
    if (span is not None and span.start - before.start <= 2) or (span and c.word(span.start - 1) == "and"):
        yield span


def _one(c: Context, verb: Mention) -> Iterator[AmountSpan]:
    """ "sold one for ten dollars", "one of those went to": a one that is no pronoun here."""
    i = verb.end if c.word(verb.end) == "one" else verb.start - 3
    if c.word(verb.start - 1) == "one" and c.word(verb.start - 2) in _LAST:
        i = verb.start - 1
        yield AmountSpan(i, i + 1, 1, 1, 1, None)
        return
    if c.word(i) != "one" or i < c.clause.start:
        return
    if c.word(i + 1) in _TO or c.words[i + 1 : i + 3] in _OF_THEM:
        yield AmountSpan(i, i + 1, 1, 1, 1, None)


def _of(c: Context, span: AmountSpan, verb: Mention) -> bool:
    """ "gave three to", and with the amount first, "four litres I gave to", "one of those went to"."""
    if 0 <= span.start - verb.end <= 4:
        return True
    between = c.words[span.end : verb.start]
    if between in _OF_THEM or (not between and act_of(c, verb) == "went"):
        return True
    return (
        len(between) <= 1
        and verb.start - span.end >= 0
        and bool(c.vocabulary.role(c.word(span.end), "subject", "verb"))
    )


def _went_to_somebody(c: Context, verb: Mention) -> bool:
    """ "one of those went to grandma": whoever is named by a word for a person, or with a capital."""
    if c.word(verb.end) != "to" or act_of(c, verb) != "went":
        return False
    i = verb.end + 1
    while c.vocabulary.role(c.word(i), "det") and i < verb.end + 3:
        i += 1
    if c.sketch.covering("place", i) is not None or c.sketch.covering("thing", i) is not None:
        return False
    known = any(m.start <= i < m.end and m.value == "taker" for m in c.sketch.layers.get("mark", ()))
    return known or (c.finder.plain(i) and c.sketch.raw(i, i + 1)[0][:1].isupper())


def _all_of_it(c: Context, verb: Mention, kind: str, last: Draft | None) -> Draft | None:
    """ "gave it to the neighbour", "that | I gave to", "gave half to": all that was taken out, or half."""
    if last is None:
        return None
    if kind == "sell":
        return _for_a_sum(c, verb, last)
    if c.word(verb.end) == "half":
        return _half(c, verb, last)
    pointing = c.word(verb.end) in POINTING and c.word(verb.end + 1) == "to"
    start = c.clause.start
    fronted = c.word(verb.end) == "to" and verb.start - start <= 1 and c.word(start - 1) in ("that", "those")
    if not pointing and not fronted:
        return None
    return Draft(kind, verb.start, verb.end + 1 + pointing, c.clause, item=last.item, amount=last.amount)


def _for_a_sum(c: Context, verb: Mention, last: Draft) -> Draft | None:
    """ "took a kilo out, sold R350", "sold the lot for $40": all that was just taken out."""
    pointing = c.word(verb.end) in POINTING or c.words[verb.end : verb.end + 2] == ["the", "lot"]
    paid = any(a.currency and a.start >= verb.end for a in c.amounts)
    if not paid or not (pointing or any(a.currency and a.start == verb.end for a in c.amounts)):
        return None
    return Draft("sell", verb.start, verb.end + pointing, c.clause, item=last.item, amount=last.amount)


def _half(c: Context, verb: Mention, last: Draft) -> Draft | None:
    """ "gave half of it to mum for her roses"."""
    i = verb.end + 1
    while c.word(i) in _ITS_PARTS:
        i += 1
    if c.word(i) != "to" or last.amount is None:
        return None
    a = last.amount
    amount = Amount(a.low / 2, a.best / 2, a.high / 2, a.unit)
    return Draft("give", verb.start, i + 1, c.clause, item=last.item, amount=amount)


def _figure(c: Context, verb: Mention, kind: str, span: AmountSpan, last: Draft | None) -> Draft | None:
    """ "gave Priya two cups", "sold three": some of it; a bare number counts in the unit told before."""
    if kind == "give" and (last is None or not _has_a_taker(c, verb, span)):
        return None
    amount = quantity(span)
    if amount and amount.unit == "piece" and last and last.amount:
        amount = quantity(span, unit=last.amount.unit)
    c.use(span)
    start, end = min(span.start, verb.start), max(span.end, verb.end)
    draft = Draft(kind, start, end, c.clause, item=NAMED["harvest"], amount=amount)
    if last is None:
        draft.doubts = ("what was sold is not said: taken as castings",)
    else:
        draft.item = last.item
    return draft


def _has_a_taker(c: Context, verb: Mention, span: AmountSpan) -> bool:
    """ "gave Priya two cups", "gave three to the school", "gave the school two bags"."""
    if span.end <= verb.start:
        return c.word(verb.end) == "to"
    between = range(verb.end + bool(c.vocabulary.role(c.word(verb.end), "det")), span.start)
    person = 0 < len(between) <= 2 and all(c.finder.plain(i) for i in between)
    return bool(person and span.unit) or "to" in c.words[span.end : span.end + 2]
