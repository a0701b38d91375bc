"""What is kept beside the bins, worms, and money: what came in, what went out, and what should be there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from assistant.balance.contents import summed
from assistant.balance.spread import NOTHING, Spread, total
from assistant.balance.state import Balances, Doubt, Flow, Look
from assistant.balance.wording import amount_words
from assistant.records import Amount

LEAVES = frozenset({"sell", "give"})
"""Kinds that cannot take more than there is; what is used in a bin may come from elsewhere."""


@dataclass(frozen=True, slots=True)
class Stock:
    """One item kept beside the bins.

    `now` is what should be there: in the keeper's unit where all flows share one, else in kg, else None.
    `uncounted` are records that give no amount.
    """

    item: str
    came_in: tuple[Amount, ...]
    went_out: tuple[Amount, ...]
    now: Amount | None
    uncounted: tuple[str, ...]
    records: tuple[str, ...]
    doubts: tuple[Doubt, ...]


@dataclass(frozen=True, slots=True)
class Purse:
    """Money of one currency, got and paid."""

    currency: str
    got: float
    paid: float
    records: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Population:
    """Worms of one name in a place: last estimate, what came and went since (or ever), and the mass of all.

    `kg` is None where no amount is given or the weight of one worm is not known.
    """

    name: str
    estimate: Look | None
    added: tuple[Amount, ...]
    removed: tuple[Amount, ...]
    uncounted: tuple[str, ...]
    kg: Spread | None
    records: tuple[str, ...]


def stocks(books: Balances) -> list[Stock]:
    """Every stock that anything is on record of, by name."""
    return [_stock(books, item, flows) for item, flows in sorted(books.stocks.items())]


def purses(books: Balances) -> list[Purse]:
    """Money by currency."""
    return [
        Purse(
            currency,
            sum(one.value for one in paid if one.sign > 0),
            sum(one.value for one in paid if one.sign < 0),
            tuple(one.record for one in paid),
        )
        for currency, paid in sorted(books.money.items())
    ]


def population(books: Balances, name: str, flows: Sequence[Flow], estimate: Look | None) -> Population:
    """Worms of one name: what was put in and taken out since the last estimate, on top of it."""
    since = [flow for flow in flows if estimate is None or flow.day > estimate.day]
    kilos: list[tuple[int, Spread | None]] = [(flow.sign, _kilos(books, name, flow.amount)) for flow in since]
    if estimate:
        kilos.append((1, _kilos(books, name, estimate.amount)))
    known = [kg.signed(sign) for sign, kg in kilos if kg]
    ids = [flow.record for flow in since] + ([estimate.record] if estimate else [])
    return Population(
        name,
        estimate,
        summed(flow.amount for flow in since if flow.sign > 0 and flow.amount),
        summed(flow.amount for flow in since if flow.sign < 0 and flow.amount),
        tuple(flow.record for flow in since if not flow.amount),
        total(known) if known else None,
        tuple(ids),
    )


def _stock(books: Balances, item: str, flows: Sequence[Flow]) -> Stock:
    counted = [flow for flow in flows if flow.amount]
    units = {flow.amount.unit for flow in counted if flow.amount}
    now = None
    doubts: list[Doubt] = []
    sizes = _sizes(books, item, counted, units)
    if sizes is not None:
        level, doubts = _walk(item, sizes)
        now = Amount(*level, units.pop() if len(units) == 1 else "kg") if sizes else None
    uncounted = tuple(flow.record for flow in flows if not flow.amount)
    if now and now.high < 0 and not any(flow.sign > 0 and not flow.amount for flow in flows):
        ids = tuple(flow.record for flow in flows)
        short = amount_words(Amount(-now.high, -now.best, -now.low, now.unit))
        doubts.append(Doubt(f"{short} more {item} went out than is on record as coming in", ids))
    return Stock(
        item,
        summed(flow.amount for flow in counted if flow.sign > 0 and flow.amount),
        summed(flow.amount for flow in counted if flow.sign < 0 and flow.amount),
        now,
        uncounted,
        tuple(flow.record for flow in flows),
        tuple(doubts),
    )


def _sizes(
    books: Balances, item: str, flows: Iterable[Flow], units: set[str]
) -> list[tuple[Flow, Spread]] | None:
    """Every flow in one unit: the keeper's if there is but one, else kg; None if one cannot be weighed."""
    sizes = []
    for flow in flows:
        assert flow.amount is not None
        own = Spread(flow.amount.low, flow.amount.best, flow.amount.high)
        size = own if len(units) == 1 else _kilos(books, item, flow.amount)
        if size is None:
            return None
        sizes.append((flow, size))
    return sizes


def _walk(item: str, sizes: Iterable[tuple[Flow, Spread]]) -> tuple[Spread, list[Doubt]]:
    """The level after all flows; use beyond what was there is doubted, not counted."""
    level, doubts = NOTHING, []
    for flow, size in sizes:
        if flow.sign > 0:
            level = level.plus(size)
            continue
        if flow.kind not in LEAVES and level.high <= 0:
            continue
        level = level.minus(size)
        if flow.kind not in LEAVES and level.best < 0:
            if level.high < 0:
                doubts.append(
                    Doubt(f"more {item} used than was on record as ready", (flow.record,), flow.bin)
                )
            level = Spread(0.0, 0.0, max(0.0, level.high))
    return level, doubts


def _kilos(books: Balances, item: str, amount: Amount | None) -> Spread | None:
    if amount is None:
        return None
    converter = books.trade.converter
    return converter.kilograms(amount, item, converter.topic_of(item, "product"))
