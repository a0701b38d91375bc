"""The bins as they now stand, in words safe to show: what each tier holds, what was seen, what is due."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from assistant.balance import BalanceRow, Balances, rows
from assistant.balance.wording import ago_words, amounts_words, spread_words, times_words
from assistant.exchange.clean import one_line
from assistant.outlook import Due
from assistant.screen.values import Stack, Standing, Tray
from assistant.wording import day_words, tier_words

MOST = 3
"""So many doubts are told of one tier."""


def standing(books: Balances, dues: Sequence[Due]) -> Standing:
    """The bins of `books`, the dues where they belong; what is due of a whole bin is with its first row."""
    left = list(dues)
    stacks = tuple(
        _stack(name, list(held), left, books.now.isoformat())
        for name, held in groupby(rows(books), lambda row: row.bin)
    )
    doubts = _doubts(doubt.text for doubt in books.doubts if doubt.bin is None)
    due = tuple(_due(one, books.now.isoformat()) for one in left)
    return Standing(stacks, Tray("beside the bins", (), due, doubts), books.setup)


def _stack(name: str | None, held: Sequence[BalanceRow], left: list[Due], today: str) -> Stack:
    trays = []
    places = {row.tier for row in held}
    for number, row in enumerate(held):
        here = [
            one
            for one in left
            if one.bin == name and (one.tier == row.tier or (number == 0 and one.tier not in places))
        ]
        left[:] = [one for one in left if one not in here]
        doubts = _doubts(doubt.text for doubt in row.doubts)
        trays.append(Tray(_label(row), tuple(_facts(row)), tuple(_due(one, today) for one in here), doubts))
    return Stack(one_line(name or "no bin named"), tuple(trays))


def _label(row: BalanceRow) -> str:
    if row.tier is not None:
        return tier_words(row.tier)
    return "taken off" if row.off else "whole bin"


def _facts(row: BalanceRow) -> Iterator[str]:
    """When it was fed, what food waits, how wet it was, and how far it is, where any of it is known."""
    fed, wet = row.last_fed, row.moisture
    whole = row.tier is None and not row.tray
    if fed:
        yield one_line(f"fed {ago_words(fed.ago)}{f': {fed.what}' if fed.what else ''}")
    elif not whole:
        yield "not fed yet"
    if food := _waiting(row):
        yield one_line(f"food waiting: {food}")
    if wet:
        yield one_line(f"moisture: {wet.what}, {ago_words(wet.ago)}")
    elif not whole:
        yield "moisture: not seen yet"
    for saw in row.saw:
        if saw.kind == "progress":
            yield one_line(f"castings: {saw.what} finished, {ago_words(saw.ago)}")


def _waiting(row: BalanceRow) -> str:
    parts = [amounts_words(row.food.left)] if row.food.left else []
    if row.food.kg:
        parts.append(f"{spread_words(row.food.kg)} kg")
    if row.food.uncounted:
        parts.append(f"fed {times_words(len(row.food.uncounted))} with no amount given")
    return ", ".join(parts)


def _due(due: Due, today: str) -> str:
    day = day_words(due.day, today) if due.day else "no day set"
    if due.day and due.day <= today:
        day = "now" if due.day == today else f"since {day}"
    return one_line(f"{due.what}, {day}: {due.why}" if due.why else f"{due.what}, {day}")


def _doubts(texts: Iterable[str]) -> tuple[str, ...]:
    """The latest few, and how many came before them."""
    said = [one_line(text) for text in texts]
    more = (f"and {len(said) - MOST} from before",) if len(said) > MOST else ()
    return (*said[-MOST:], *more)
