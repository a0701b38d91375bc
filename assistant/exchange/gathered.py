"""Records that come without their notes, put back into notes.

A spreadsheet or a list of records may hold only each record's own words and where they stood. The words are
laid back at those places, spaces between them, so that `note.text[record.start:record.end] == record.text`
holds again.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from assistant.exchange.incoming import Incoming
from assistant.records import Note, Record

FARTHEST = 1_000_000
"""The last character of a note at which words are still laid back; further on they are put at the end."""

_WORDS = ("bin", "spot", "item", "when", "text")
_COUNTS = ("tier", "to_tier", "start", "end")


@dataclass(frozen=True, slots=True)
class Found:
    """A record of a file, with what the file says beside it: its id, its note's id and day, its second."""

    record: Record
    id: str = ""
    note: str | None = None
    said_on: str | None = None
    at: float | None = None


@dataclass(slots=True)
class _Sheet:
    """A note in the making: its characters, None where nothing is laid yet."""

    said_on: str | None
    chars: list[str | None] = field(default_factory=list)
    found: list[Found] = field(default_factory=list)

    def takes(self, record: Record) -> bool:
        """Whether the words can be laid at their place without changing others."""
        there = self.chars[record.start : record.end]
        return all(old in (None, new) for old, new in zip(there, record.text, strict=False))

    def lay(self, found: Found) -> None:
        """Lay the words at their place, or at the end where they have none."""
        record = found.record
        if record.text and not _has_place(record):
            self.chars += ["\n"] if self.chars else []
            start = len(self.chars)
            record = replace(record, start=start, end=start + len(record.text))
        elif not record.text:
            record = replace(record, start=0, end=0)
        if len(self.chars) < record.end:
            self.chars += [None] * (record.end - len(self.chars))
        self.chars[record.start : record.end] = record.text
        self.found.append(replace(found, record=record))


def gathered(rows: Iterable[Found], source: str, notes: Mapping[str, Note] | None = None) -> list[Incoming]:
    """One `Incoming` a note: those of `notes` with their records, then one for each run of rows of a day."""
    notes = notes or {}
    whole: dict[str, list[Found]] = {key: [] for key in notes}
    sheets: list[_Sheet] = []
    last: tuple[str | None, str | None] | None = None
    for row in rows:
        if row.note in whole:
            whole[row.note].append(row)
            continue
        if (row.note, row.said_on) != last or (_has_place(row.record) and not sheets[-1].takes(row.record)):
            sheets.append(_Sheet(row.said_on))
            last = (row.note, row.said_on)
        sheets[-1].lay(row)
    out = []
    for key, found in whole.items():
        note = notes[key]
        out.append(_incoming(note.text, note.said_on, note.source or source, note.marks, found))
    for sheet in sheets:
        text = "".join(char or " " for char in sheet.chars)
        marks = {f.record.start: f.at for f in sheet.found if f.at is not None}
        out.append(_incoming(text, sheet.said_on, source, tuple(sorted(marks.items())), sheet.found))
    return out


def record_of(data: Mapping[str, Any]) -> Record:
    """The record in a JSON object. ValueError, in plain words, where a field has a value it cannot have."""
    if "kind" not in data:
        raise ValueError("it has no 'kind'")
    for name in _WORDS:
        if not isinstance(data.get(name), str | None):
            raise ValueError(f"'{name}' is not text")
    for name in _COUNTS:
        value = data.get(name)
        if value is not None and (not isinstance(value, int) or isinstance(value, bool) or value < 0):
            raise ValueError(f"'{name}' is not a count")
    if not isinstance(data.get("unsure"), list | None):
        raise ValueError("'unsure' is not a list")
    if data.get("when"):
        is_day(str(data["when"]), "when")
    try:
        record = Record.from_json(data)
    except (KeyError, TypeError, AttributeError, OverflowError):
        raise ValueError("its amount, level or price is not in the shape of a record") from None
    amount, price = record.amount, record.price
    if amount is not None and not amount.low <= amount.best <= amount.high:
        raise ValueError("its amount is not in order: low, best, high")
    figures = (record.level, price.value if price else None)
    if not all(math.isfinite(figure) for figure in figures if figure is not None):
        raise ValueError("a figure in it is not finite")
    return record


def is_day(value: str, name: str) -> str:
    """`value` where it is an ISO date or date-time; ValueError where not."""
    try:
        datetime.fromisoformat(value)
    except ValueError:
        raise ValueError(f"'{name}' is not a date like 2026-03-05") from None
    return value


def _has_place(record: Record) -> bool:
    return bool(record.text) and record.end - record.start == len(record.text) and record.end <= FARTHEST


def _incoming(
    text: str, said_on: str | None, source: str, marks: tuple[tuple[int, float], ...], found: list[Found]
) -> Incoming:
    records, ids = tuple(f.record for f in found), tuple(f.id for f in found)
    return Incoming(text, said_on, source, marks, records, ids)
