"""Money in a clause goes to its sale or purchase."""

from __future__ import annotations

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft
from assistant.records import Price

_EACH = frozenset(("each", "apiece", "a", "per", "/"))


def prices(c: Context, drafts: list[Draft]) -> None:
    """Give each sum of money to the trade before it, or to the first one."""
    for span in (a for a in c.amounts if a.currency):
        trade = _traded_for(drafts, span)
        if trade is None:
            continue
        value = span.best
        if c.word(span.end) in _EACH and trade.amount:
            value = span.best * trade.amount.best
        trade.price = Price(value, str(span.currency))
        trade.end = max(trade.end, span.end)
        c.use(span)


def _traded_for(drafts: list[Draft], span: AmountSpan) -> Draft | None:
    trades = [d for d in drafts if d.kind in ("sell", "buy") and d.price is None]
    before = [d for d in trades if d.start <= span.start]
    return before[-1] if before else next(iter(trades), None)
