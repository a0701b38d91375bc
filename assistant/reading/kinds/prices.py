"""Money in a clause goes to its sale or purchase, or to the one told just before."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.before import lately
from assistant.records import Price

_EACH = frozenset(("each", "apiece", "a", "per", "/"))
_FOR_ONE = frozenset(("@", "at"))
_ALL_OF_IT = frozenset(("lot", "pair", "two", "three", "all", "total", "altogether", "whole"))
_FOR = frozenset("for at @ paid cost me".split())
_UNSAID = "the currency is not said: taken as dollars"


def prices(c: Context, drafts: list[Draft]) -> None:
    """Give each sum of money to the trade before it, or to the first one."""
    before = [d for d in c.drafts[-2:] if lately(c, d, 1)]
    for span, value, currency in _sums(c):
        trade = _traded_for(drafts, span) or _traded_for(before, span)
        if trade is None:
            continue
        if trade.amount and _for_one(c, span):
            value *= trade.amount.best
        trade.price = Price(value, currency or "USD")
        trade.doubts = trade.doubts if currency else (*trade.doubts, _UNSAID)
        trade.end = max(trade.end, span.end)
        c.use(span)


def _sums(c: Context) -> Iterator[tuple[AmountSpan, float, str | None]]:
    """The sums of money of a clause, first those with a currency."""
    for span in c.amounts:
        if span.currency:
            yield span, span.best, str(span.currency)
    for k, span in enumerate(c.amounts):
        bare = span.unit is None and not span.currency and span.start not in c.clause.used
        if not bare or any(i.amount is span for i in c.items):
            continue
        following = c.amounts[k + 1] if k + 1 < len(c.amounts) else None
        value = _dollars_and_cents(c, span, following)
        if value is None and c.word(span.start - 1) in _FOR and not c.finder.plain(span.end):
            value = span.best
        if value is not None:
            yield span, value, None


def _dollars_and_cents(c: Context, span: AmountSpan, following: AmountSpan | None) -> float | None:
    """ "six fifty", "nine ninety nine", "thirty two | ninety five": said as a price is said."""
    words = c.words[span.start : span.end]
    if following is not None and following.start == span.end and following.unit is None:
        whole = span.best < 100 and 10 <= following.best < 100 and not any(w.isdigit() for w in words)
        return span.best + following.best / 100 if whole else None
    spoken = len(words) > 1 and all(w.isalpha() for w in words) and "hundred" not in words
    return span.best / 100 if spoken and 100 < span.best < 10_000 else None


def _for_one(c: Context, span: AmountSpan) -> bool:
    """Whether the sum is for one of them: "$8 each", "a pop", "@ 15 quid", "at $8", not "for the lot"."""
    if _ALL_OF_IT & set(c.words[span.end : span.end + 3]):
        return False
    return span.each or c.word(span.end) in _EACH or c.word(span.start - 1) in _FOR_ONE


def _traded_for(drafts: list[Draft], span: AmountSpan) -> Draft | None:
    trades = [d for d in drafts if d.kind in ("sell", "buy") and d.price is None]
    before = [d for d in trades if d.start <= span.start]
    return before[-1] if before else next(iter(trades), None)
