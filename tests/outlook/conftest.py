"""Entries made by hand, and what is due from them on a day."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

import lexicon as data
from assistant.outlook import Due, due
from assistant.records import Amount, Bin, Entry, Record
from lexicon import Lexicon


class Log:
    """Entries, note by note; `due` gives what is due on a day."""

    def __init__(self, lexicon: Lexicon) -> None:
        self.lexicon = lexicon
        self.setup = (Bin("cellar stack", 3, species=("Eisenia fetida",)), Bin("tote", 1))
        self.entries: list[Entry] = []
        self._notes = 0

    def note(self, day: str, *records: dict[str, Any]) -> list[str]:
        """One note on a day; a record is given as its fields. A done one happened that day."""
        self._notes += 1
        ids = []
        for fields in records:
            given: dict[str, Any] = {"bin": "cellar stack", **fields}
            if given.get("state", "done") == "done":
                given.setdefault("when", day)
            if isinstance(given.get("amount"), tuple):
                value, unit = given["amount"]
                given["amount"] = Amount.exactly(value, unit)
            ids.append(f"r{len(self.entries) + 1}")
            self.entries.append(Entry(ids[-1], f"n{self._notes}", f"{day}T10:00:00", Record(**given)))
        return ids

    def due(self, now: str) -> list[Due]:
        return due(self.entries, self.setup, date.fromisoformat(now), self.lexicon)


@pytest.fixture(scope="session")
def lexicon() -> Lexicon:
    return data.load()


@pytest.fixture
def log(lexicon: Lexicon) -> Log:
    return Log(lexicon)
