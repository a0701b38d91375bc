"""Balances as JSON: every figure with its range and unit, and where it comes from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from assistant.balance.contents import Heap, standing
from assistant.balance.makeup import Makeup
from assistant.balance.portions import Portion
from assistant.balance.rows import BalanceRow, rows
from assistant.balance.spread import Spread
from assistant.balance.state import Balances, BinState, Doubt
from assistant.balance.stocks import Population, Stock, purses, stocks
from assistant.records import Amount


def to_json(books: Balances) -> dict[str, Any]:
    """`{"now", "bins": [{"name", "places": [...]}], "stocks", "money", "gaps", "doubts"}`."""
    by_bin: dict[str | None, list[BalanceRow]] = {}
    for row in rows(books):
        by_bin.setdefault(row.bin, []).append(row)
    kept = stocks(books)
    return {
        "now": books.now.isoformat(),
        "bins": [
            {"name": name, "places": [_place(books, books.bins[name], row) for row in held]}
            for name, held in by_bin.items()
        ],
        "stocks": [_stock(stock) for stock in kept],
        "money": [asdict(purse) for purse in purses(books)],
        "gaps": [
            {
                "record": gap.record,
                "portion": gap.portion,
                "reckoned": round(gap.reckoned, 4),
                "seen": gap.seen,
            }
            for bin_ in books.bins.values()
            for gap in bin_.gaps
        ],
        "doubts": [
            _doubt(doubt) for doubt in [*books.doubts, *(one for stock in kept for one in stock.doubts)]
        ],
    }


def _place(books: Balances, bin_: BinState, row: BalanceRow) -> dict[str, Any]:
    place = bin_.places[row.tray]
    return {
        "tier": row.tier,
        "tray": row.tray or None,
        "did": {kind: asdict(did) for kind, did in row.did.items()},
        "saw": [asdict(saw) for saw in row.saw],
        "food": _heap(row.food),
        "bedding": _heap(row.bedding),
        "amendments": _heap(row.amendments),
        "portions": [_portion(portion) for portion in standing(books, bin_, place)],
        "makeup": _makeup(row.makeup),
        "worms": [_population(one) for one in row.worms],
        "records": list(row.records),
    }


def _heap(heap: Heap) -> dict[str, Any]:
    return {
        "put_in": _amounts(heap.put_in),
        "left": _amounts(heap.left),
        "no_amount": list(heap.uncounted),
        "mass": _spread(heap.kg, "kg"),
        "not_weighed": heap.unweighed,
        "records": list(heap.records),
    }


def _portion(portion: Portion) -> dict[str, Any]:
    weight, of = portion.of.weight, portion.of.substance
    figures = {name: getattr(of, name) for name in ("moisture", "nitrogen", "c_to_n")}
    return {
        "record": portion.of.record,
        "role": portion.of.role,
        "item": portion.of.item,
        "spot": portion.of.spot,
        "put_in": portion.of.amount.to_json() if portion.of.amount else None,
        "left": _spread(portion.left.spread, "share"),
        "mass": _spread(portion.kilograms(portion.left), "kg"),
        "reckoned": weight.basis if weight else None,
        "sources": list(weight.sources) if weight else [],
        "figures": {
            name: {"low": one.low, "best": one.best, "high": one.high, "source": one.source}
            for name, one in figures.items()
            if one
        },
        "figures_of": of.taken_as or portion.of.name,
        "loss": {"per_day": [of.rate.least, of.rate.value, of.rate.most], "source": of.rate.source}
        if of.rate
        else None,
    }


def _makeup(made: Makeup) -> dict[str, Any]:
    return {
        "dry": _spread(made.dry, "kg"),
        "water": _spread(made.water, "kg"),
        "carbon": _spread(made.carbon, "kg"),
        "nitrogen": _spread(made.nitrogen, "kg"),
        "castings": _spread(made.castings, "kg"),
        "c_to_n": _spread(made.c_to_n, "ratio"),
        "moisture": _spread(made.moisture, "percent"),
        "not_counted": list(made.missing),
    }


def _population(worms: Population) -> dict[str, Any]:
    estimate = worms.estimate
    return {
        "name": worms.name,
        "estimate": estimate.amount.to_json() if estimate and estimate.amount else None,
        "added": _amounts(worms.added),
        "removed": _amounts(worms.removed),
        "no_amount": list(worms.uncounted),
        "mass": _spread(worms.kg, "kg"),
        "records": list(worms.records),
    }


def _stock(stock: Stock) -> dict[str, Any]:
    return {
        "item": stock.item,
        "in": _amounts(stock.came_in),
        "out": _amounts(stock.went_out),
        "now": stock.now.to_json() if stock.now else None,
        "no_amount": list(stock.uncounted),
        "records": list(stock.records),
    }


def _doubt(doubt: Doubt) -> dict[str, Any]:
    return {"text": doubt.text, "bin": doubt.bin, "tray": doubt.tray or None, "records": list(doubt.records)}


def _amounts(amounts: Iterable[Amount]) -> list[dict[str, Any]]:
    return [amount.to_json() for amount in amounts]


def _spread(spread: Spread | None, unit: str) -> dict[str, Any] | None:
    if spread is None:
        return None
    low, best, high = (round(value, 6) for value in spread)
    return {"low": low, "best": best, "high": high, "unit": unit}
