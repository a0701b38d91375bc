"""A small log written by hand: records with ids in the order in which they are said."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

import lexicon as data
from assistant.balance import Balances, Trade, fold_with
from assistant.records import Amount, Bin, Entry, Price, Record
from lexicon import Lexicon

STACK = Bin("cellar stack", 3, species=("Eisenia fetida",))
TOTE = Bin("tote", 1)


class Log:
    """Entries, note by note; `fold` gives the balances on a day."""

    def __init__(self, trade: Trade, *bins: Bin) -> None:
        self.trade = trade
        self.setup = bins or (STACK, TOTE)
        self.entries: list[Entry] = []
        self._notes = 0

    def note(self, day: str, *records: dict[str, Any]) -> list[str]:
        """One note on a day, at ten; a record is given as its fields, a done one if nothing else is said."""
        self._notes += 1
        ids = []
        for fields in records:
            given = {"bin": "cellar stack", "when": day, **fields}
            amount = given.get("amount")
            if isinstance(amount, tuple):
                *figures, unit = amount
                given["amount"] = Amount(*(figures if len(figures) == 3 else figures * 3), unit)
            if isinstance(given.get("price"), int | float):
                given["price"] = Price(given["price"])
            ids.append(f"r{len(self.entries) + 1}")
            self.entries.append(Entry(ids[-1], f"n{self._notes}", f"{day}T10:00:00", Record(**given)))
        return ids

    def fold(self, now: str) -> Balances:
        return fold_with(self.entries, self.setup, date.fromisoformat(now), self.trade)


@pytest.fixture(scope="session")
def lexicon() -> Lexicon:
    return data.load()


@pytest.fixture(scope="session")
def trade(lexicon: Lexicon) -> Trade:
    return Trade.of(lexicon)


@pytest.fixture
def log(trade: Trade) -> Log:
    return Log(trade)


@pytest.fixture
def new_log(trade: Trade) -> Callable[..., Log]:
    return lambda *bins: Log(trade, *bins)
