"""What one line of the journal says: a batch that is kept, undone and put back as one.

    id, at           uuid7; stamp of the hybrid clock
    wall, zone       what the machine's clock said: milliseconds since 1970, minutes ahead of UTC
    notes            [{"id", "said_on", "text", "source", "reader", "marks"}]
    added            [{"id", "note", "at", "record"}]
    amended          {entry id: record}
    dropped          [entry id]
    by               the note that says what was amended or dropped
    bins             the set-up from here on
    settings         {key: value}
    sources          {digest: name} of imported files
    undoes, redoes   the id of another operation
    quiet            true where undo passes it over

Slots that say nothing are left out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, TypedDict

from assistant.records import Note, Record


class Added(TypedDict, total=False):
    """A new entry."""

    id: str
    note: str
    at: float
    record: dict[str, Any]


class Operation(TypedDict, total=False):
    """See the module."""

    id: str
    at: str
    wall: int
    zone: int
    notes: list[dict[str, Any]]
    added: list[Added]
    amended: dict[str, dict[str, Any]]
    dropped: list[str]
    by: str
    bins: list[dict[str, Any]]
    settings: dict[str, Any]
    sources: dict[str, str]
    undoes: str
    redoes: str
    quiet: bool


BLANK: Mapping[str, Any] = Record("remark").to_json()
"""Every slot of a record, saying nothing."""


def order(operation: Operation) -> tuple[str, str]:
    """The place of an operation among all: by stamp, then by id."""
    return operation["at"], operation["id"]


def is_step(operation: Operation) -> bool:
    """Whether undo can take it back: it is none itself and not the program's own memory."""
    return not (operation.get("quiet") or target(operation))


def target(operation: Operation) -> str | None:
    """The operation that this one takes back or puts back."""
    return operation.get("undoes") or operation.get("redoes")


def record_to_line(record: Record) -> dict[str, Any]:
    """A record without its empty slots."""
    return {key: value for key, value in record.to_json().items() if value != BLANK[key] or key == "kind"}


def note_to_line(note: Note) -> dict[str, Any]:
    """A note without its empty slots."""
    full = {
        "id": note.id,
        "said_on": note.said_on,
        "text": note.text,
        "source": note.source,
        "reader": note.reader,
        "marks": [list(mark) for mark in note.marks],
    }
    return {key: value for key, value in full.items() if value or key == "text"}


def note_from_line(line: Mapping[str, Any]) -> Note:
    """Read what `note_to_line` wrote."""
    return Note(
        line["id"],
        line["said_on"],
        line["text"],
        line.get("source", ""),
        line.get("reader", ""),
        tuple((character, second) for character, second in line.get("marks", ())),
    )


def describe(operation: Operation, notes: Sequence[Note]) -> str:
    """What an operation did, as a plain line: "the note of 2026-11-25 (3 records)"."""
    count = _count(len(operation.get("added", ())), "record")
    changes = [
        _count(len(operation.get("amended", ())), "record") + " amended" if operation.get("amended") else "",
        _count(len(operation.get("dropped", ())), "record") + " dropped" if operation.get("dropped") else "",
        f"{count} added" if "by" in operation and operation.get("added") else "",
        "the bins" if "bins" in operation else "",
        *(f"the setting '{key}'" for key in operation.get("settings", ())),
    ]
    if "by" not in operation and notes:
        name = f"the note of {notes[0].said_on[:10]}" if len(notes) == 1 else f"{len(notes)} notes"
        changes.insert(0, f"{name} ({count})")
    return ", ".join(filter(None, changes))


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" + "s" * (number != 1)
