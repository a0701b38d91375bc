"""Sales and gifts of what was told before: "sold one bucket to Dale for $15"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.before import POINTING
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.drafting import NAMED
from assistant.reading.kinds.governing import act_of
from assistant.reading.sketch import Mention

_KINDS = {"sell": "sell", "giveaway": "give", "give": "give"}
_TRADED = frozenset(("harvest", "worms_removed", "drain"))


def traded(c: Context) -> Iterator[Draft]:
    """ "gave three to the school": what was traded is what was just harvested, drained or taken out."""
    if c.free():
        return
    last = next((d for d in reversed(c.drafts[-4:]) if d.kind in _TRADED), None)
    for verb in c.here("verb"):
        kind = _KINDS.get(act_of(c, verb))
        if kind is None or denied(c, verb.start):
            continue
        span = next((a for a in c.unused() if _of(c, a, verb) and not a.currency), None)
        draft = _figure(c, verb, kind, span, last) if span else _all_of_it(c, verb, kind, last)
        if draft is not None:
            yield draft
            return


def _of(c: Context, span: AmountSpan, verb: Mention) -> bool:
    """ "gave three to", and with the amount first, "four litres I gave to"."""
    if 0 <= span.start - verb.end <= 4:
        return True
    return 0 <= verb.start - span.end <= 1 and c.vocabulary.role(c.word(span.end), "subject", "verb")


def _all_of_it(c: Context, verb: Mention, kind: str, last: Draft | None) -> Draft | None:
    """ "gave it to the neighbour": all that was just taken out."""
    pointing = c.word(verb.end) in POINTING and c.word(verb.end + 1) == "to"
    if kind != "give" or last is None or not pointing:
        return None
    return Draft(kind, verb.start, verb.end + 2, c.clause, item=last.item, amount=last.amount)


def _figure(c: Context, verb: Mention, kind: str, span: AmountSpan, last: Draft | None) -> Draft | None:
    """ "gave Priya two cups", "sold three": some of it; a bare number counts in the unit told before."""
    if kind == "give" and (last is None or not _has_a_taker(c, verb, span)):
        return None
    amount = quantity(span)
    if amount and amount.unit == "piece" and last and last.amount:
        amount = quantity(span, unit=last.amount.unit)
    c.use(span)
    draft = Draft(kind, verb.start, span.end, c.clause, item=NAMED["harvest"], amount=amount)
    if last is None:
        draft.doubts = ("what was sold is not said: taken as castings",)
    else:
        draft.item = last.item
    return draft


def _has_a_taker(c: Context, verb: Mention, span: AmountSpan) -> bool:
    """ "gave Priya two cups", "gave three to the school"."""
    if span.end <= verb.start:
        return c.word(verb.end) == "to"
    person = 0 < span.start - verb.end <= 2 and all(c.finder.plain(i) for i in range(verb.end, span.start))
    return bool(person and span.unit) or "to" in c.words[span.end : span.end + 2]
