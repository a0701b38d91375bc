"""Balances as text: one aligned table a bin, then stocks and money, then what does not add up."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from itertools import groupby, zip_longest

from assistant.balance.contents import Heap
from assistant.balance.rows import BalanceRow, Did, rows
from assistant.balance.spread import Spread
from assistant.balance.state import Balances, Doubt
from assistant.balance.stocks import Population, Stock, purses, stocks
from assistant.balance.wording import (
    ago_words,
    amount_words,
    amounts_words,
    figure,
    heap_words,
    seen_words,
    spread_words,
    times_words,
)

GAP = "  "
HEADS = ("tier", "last fed", "food waiting", "bedding", "last seen")
SHARES = (0, 3, 4, 3, 3)
"""How the width is shared out; the first column takes what it needs."""
MOST_SEEN = 3
"""So many looks are shown of each place: how wet it is, then the latest."""
MOST_DOUBTS = 3
NARROWEST = 60
"""Below this many columns the cells stand under one another."""


def table(books: Balances, width: int = 80) -> str:
    """One aligned text table a bin, no line longer than `width` (at least 20) characters."""
    width = max(width, 20)
    blocks = [_bin_block(name, list(held), width) for name, held in groupby(rows(books), lambda row: row.bin)]
    kept = stocks(books)
    blocks.append(_stock_block(kept, books, width))
    loose = [doubt for doubt in books.doubts if doubt.bin is None]
    blocks.append(_doubt_lines([*loose, *(doubt for stock in kept for doubt in stock.doubts)], width))
    return "\n\n".join(filter(None, blocks))


def _bin_block(name: str | None, held: Sequence[BalanceRow], width: int) -> str:
    cells = [_cells(row) for row in held]
    lines = _columns(cells, width) if width >= NARROWEST else _stacked(cells, width)
    worms = [line for row in held for line in _worm_lines(row)]
    tail = [part for line in worms for part in _wrapped(line, width)]
    doubts = _doubt_lines([doubt for row in held for doubt in row.doubts], width)
    title = textwrap.shorten(name or "no bin named", width, placeholder="…")
    return "\n".join(filter(None, [title, *lines, *tail, doubts]))


def _cells(row: BalanceRow) -> tuple[str, ...]:
    looks = [one for one in row.saw if one.kind != "worm_estimate"]
    lately = sorted(looks, key=lambda one: (one.kind != "moisture", one.ago))[:MOST_SEEN]
    saw = "; ".join(f"{seen_words(one.kind, one.item, one.what)}, {ago_words(one.ago)}" for one in lately)
    return (
        _tier(row),
        _did(row.last_fed),
        _waiting(row.food),
        _heap(row.bedding, "layer"),
        saw or "nothing yet",
    )


def _tier(row: BalanceRow) -> str:
    if row.tier is not None:
        return str(row.tier)
    return "off" if row.off else "all"


def _did(did: Did | None) -> str:
    return f"{ago_words(did.ago)}: {did.what or 'food'}" if did else "never"


def _waiting(food: Heap) -> str:
    """Food in the keeper's own units as put in, what should be left of it, and the weight."""
    if not food.records:
        return "none"
    said = heap_words(food, "feeding")
    left = f"; left {amounts_words(food.left)}" if food.left != food.put_in else ""
    return said + left + _kilos(food.kg)


def _heap(heap: Heap, one: str) -> str:
    return heap_words(heap, one) + _kilos(heap.kg) if heap.records else "none"


def _kilos(kg: Spread | None) -> str:
    return f"; {spread_words(kg)} kg" if kg else ""


def _worm_lines(row: BalanceRow) -> Iterable[str]:
    for worms in row.worms:
        where = f"tier {row.tier}" if row.tier is not None else "whole bin"
        yield f"{worms.name}, {where}: {_population(worms)}"


def _population(worms: Population) -> str:
    parts = []
    if worms.estimate:
        said = amount_words(worms.estimate.amount) if worms.estimate.amount else "seen"
        parts.append(f"about {said} by the last estimate")
    for word, amounts in (("added", worms.added), ("taken out", worms.removed)):
        if amounts:
            parts.append(f"{amounts_words(amounts)} {word}")
    if worms.uncounted:
        parts.append(f"{times_words(len(worms.uncounted))} with no amount given")
    return ", ".join(parts) + _kilos(worms.kg)


def _stock_block(kept: Sequence[Stock], books: Balances, width: int) -> str:
    lines = [f"{stock.item}: {_stock(stock)}" for stock in kept]
    for purse in purses(books):
        lines.append(f"{purse.currency}: got {figure(purse.got)}, paid {figure(purse.paid)}")
    wrapped = [part for line in lines for part in _wrapped(line, width)]
    return "\n".join(["kept beside the bins", *wrapped]) if wrapped else ""


def _stock(stock: Stock) -> str:
    parts = []
    for word, amounts in (("in", stock.came_in), ("out", stock.went_out)):
        if amounts:
            parts.append(f"{word} {amounts_words(amounts)}")
    if stock.uncounted:
        parts.append(f"{times_words(len(stock.uncounted))} with no amount given")
    if stock.now:
        parts.append(f"should be {amount_words(stock.now)}")
    return ", ".join(parts)


def _doubt_lines(doubts: Sequence[Doubt], width: int) -> str:
    """The latest doubts, and how many came before them."""
    lines = [f"? {doubt.text}" for doubt in doubts[-MOST_DOUBTS:]]
    if len(doubts) > MOST_DOUBTS:
        lines.append(f"? and {len(doubts) - MOST_DOUBTS} from before")
    return "\n".join(part for line in lines for part in _wrapped(line, width))


def _wrapped(line: str, width: int) -> list[str]:
    return textwrap.wrap(line, width, subsequent_indent=GAP) or [""]


def _columns(cells: Sequence[Sequence[str]], width: int) -> list[str]:
    """Cells side by side, wrapped within columns that share the width."""
    first = max(len(HEADS[0]), *(len(row[0]) for row in cells))
    room = width - first - len(GAP) * (len(HEADS) - 1)
    widths = [first] + [room * share // sum(SHARES) for share in SHARES[1:]]
    rule = GAP.join("-" * one for one in widths)
    lines = [_line(HEADS, widths), rule]
    for row in cells:
        wrapped = [textwrap.wrap(cell, one) for cell, one in zip(row, widths, strict=True)]
        lines += [_line(parts, widths) for parts in zip_longest(*wrapped, fillvalue="")]
    return lines


def _line(parts: Sequence[str], widths: Sequence[int]) -> str:
    return GAP.join(part.ljust(one) for part, one in zip(parts, widths, strict=True)).rstrip()


def _stacked(cells: Sequence[Sequence[str]], width: int) -> list[str]:
    """Each cell on lines of its own, for a narrow screen."""
    return [
        part
        for row in cells
        for head, cell in zip(HEADS, row, strict=True)
        for part in _wrapped(f"{head}: {cell}", width)
    ]
