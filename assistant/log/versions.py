"""An entry as one operation left it, and the two forms in which it is handed on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple, TypeAlias

from assistant.log.operations import BLANK
from assistant.records import Entry, Note, Record

Document: TypeAlias = dict[str, Any]
"""The fields of a record, with `id`, `note`, `said_on`, `at` and `version` of its entry."""


class Version(NamedTuple):
    """`note` is the one that the entry came from, `by` the id of the one that made this version."""

    id: str
    note: Note
    at: float | None
    record: Mapping[str, Any]
    """As in the journal, without its empty slots."""
    number: int
    by: str
    place: tuple[str, tuple[str, str], int]
    """Sorts it among the others: when its note was said, the operation that added it, its number in that."""

    def entry(self) -> Entry:
        """The value that the other layers see."""
        record = Record.from_json(self.record)
        return Entry(self.id, self.note.id, self.note.said_on, record, self.at, self.number)

    def document(self) -> Document:
        """The document that TinyDB sees, every slot of the record present."""
        return {
            "id": self.id,
            "note": self.note.id,
            "said_on": self.note.said_on,
            "at": self.at,
            "version": self.number,
            **BLANK,
            **self.record,
        }
