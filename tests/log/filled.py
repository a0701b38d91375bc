"""Logs to play with: records, a filled folder, and what a log says in a form that can be compared."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Any

from assistant.log import Log
from assistant.records import Amount, Bin, Entry, Record

NOW = datetime(2026, 11, 25, 9, 30)


def clock() -> datetime:
    return NOW


def a_record(words: str, **more: Any) -> Record:
    slots = {"bin": "cellar stack", "item": "kale", "when": "2026-11-25", "amount": Amount.exactly(2, "cup")}
    return Record("feed", text=words, end=len(words), **{**slots, **more})


def fill(folder: Path, notes: int = 4, **options: Any) -> dict[str, list[Entry]]:
    """A log of so many notes with two records each; the entries by the words of their note, in order."""
    kept = {}
    with Log.open(folder, clock=clock, **options) as log:
        for number in range(notes):
            words = f"note {number}: two cups"
            kept[words] = log.keep(
                log.new_note(words, NOW), [a_record(f"{number} a"), a_record(f"{number} b")]
            )
    return kept


def texts(log: Log) -> list[str]:
    """The words of the live entries, in order."""
    return [entry.record.text for entry in log.entries()]


def state(log: Log) -> Any:
    """All that a log says."""
    return (
        log.entries(),
        log.notes(),
        log.bins(),
        {key: log.setting(key) for key in "abc"},
        {entry.id: log.versions(entry.id) for entry in log.entries()},
        sorted(map(repr, log.table.all())),
    )


def segment(folder: Path) -> Path:
    """The only segment in a folder."""
    (found,) = sorted(folder.glob("*.jsonl"))
    return found


def a_bin(name: str) -> Bin:
    return Bin(name, 3, (f"the {name}",), ((1, ("feeding tray",)),), ("Eisenia fetida",), "2025-04-12")
