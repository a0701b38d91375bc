"""The log of a keeper: notes and entries that are kept, amended, dropped, taken back, and never erased."""

from __future__ import annotations

import gc
import hashlib
import platform
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any, NamedTuple, Self

from assistant.errors import LogError
from assistant.log.disk import Disk, LocalDisk
from assistant.log.history import History
from assistant.log.journal import SEGMENT_BYTES, Journal
from assistant.log.operations import (
    Added,
    Operation,
    describe,
    note_from_line,
    note_to_line,
    record_to_line,
)
from assistant.log.writing import LogWriter
from assistant.records import Entry, Note, Record, SetUp

FREEZE_FROM = 5_000
"""Documents from which on the collector should no longer walk through the log."""


class NoteRecords(NamedTuple):
    """A note and what was read in it; `at` and `ids` are empty or one a record."""

    note: Note
    records: Sequence[Record] = ()
    at: Sequence[float | None] = ()
    ids: Sequence[str] = ()


class Log(LogWriter):
    """A log in a folder. What a method has kept when it returns is safe from a power cut.

    One thread at a time; other programs may write meanwhile.
    Every method that writes raises LogError, with one plain line, where nothing was kept.
    """

    @classmethod
    def open(
        cls,
        folder: Path,
        *,
        clock: Callable[[], datetime] = datetime.now,
        disk: Disk | None = None,
        segment_bytes: int = SEGMENT_BYTES,
    ) -> Self:
        """Open the log in a folder, which is created where it is missing; LogError where it cannot be."""
        disk = LocalDisk() if disk is None else disk
        log = cls(Journal(folder, disk, device_name(), segment_bytes), History(), clock, disk)
        collecting = gc.isenabled()
        gc.disable()  # it would walk through all that is being loaded, again and again
        try:
            log.refresh()
            if len(log._history.entries.live) >= FREEZE_FROM:
                gc.freeze()
        finally:
            if collecting:
                gc.enable()
        return log

    def close(self) -> None:
        """Give the files back; nothing is pending."""
        self._journal.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *exc: object) -> None:
        self.close()

    def new_note(
        self,
        text: str,
        said_on: datetime | str,
        source: str = "typed",
        reader: str = "",
        marks: Sequence[tuple[int, float]] = (),
    ) -> Note:
        """A note with an id of its own, not yet kept; a `said_on` without an offset is local time."""
        said = said_on if isinstance(said_on, str) else said_on.isoformat()
        return Note(self._ids(), said, text, source, reader, tuple(marks))

    def keep(
        self,
        note: Note,
        records: Sequence[Record],
        *,
        at: Sequence[float | None] = (),
        ids: Sequence[str] = (),
    ) -> list[Entry]:
        """Keep a note and its records; `at` (seconds into the recording) and `ids`: empty or one a record."""
        return self.keep_all([NoteRecords(note, records, at, ids)])

    def keep_all(self, batch: Sequence[NoteRecords], *, source: tuple[str, str] | None = None) -> list[Entry]:
        """Keep many notes as one operation, all or none; `source` is the digest and name of their file."""
        with self._writing():
            added = [line for said in batch for line in self._added(said)]
            self._refuse_twins([said.note.id for said in batch], [line["id"] for line in added])
            operation: Operation = {"notes": [note_to_line(said.note) for said in batch], "added": added}
            if source:
                operation["sources"] = dict([source])
            self._write(operation)
            return [self._entry(line["id"]) for line in added]

    def amend(self, entry_id: str, record: Record, *, note: Note | None = None) -> Entry:
        """Put another record in the place of an entry's; the note, where given, is what said so."""
        with self._writing():
            self._change({entry_id: record}, (), [], note)
            return self._entry(entry_id)

    def drop(self, entry_ids: Sequence[str], *, note: Note | None = None) -> None:
        """Take entries out of the live log; their versions stay."""
        with self._writing():
            self._change({}, entry_ids, [], note)

    def change(
        self, *, amended: Mapping[str, Record], dropped: Sequence[str], added: Sequence[Record], note: Note
    ) -> list[Entry]:
        """Amend, drop and add at once, with the note that says so; gives the entries amended, then added."""
        with self._writing():
            lines = self._added(NoteRecords(note, added))
            self._change(amended, dropped, lines, note)
            return [self._entry(id) for id in (*amended, *(line["id"] for line in lines))]

    def set_bins(self, bins: SetUp) -> None:
        """Put another set-up in the place of the last."""
        with self._writing():
            self._write({"bins": [bin.to_json() for bin in bins]})

    def set_setting(self, key: str, value: Any, *, quiet: bool = False) -> None:
        """Keep a setting: any JSON value, None for none. Undo passes over a quiet one."""
        with self._writing():
            operation: Operation = {"settings": {key: value}}
            self._write({**operation, "quiet": True} if quiet else operation)

    def remember_source(self, digest: str, name: str) -> None:
        """Remember an imported file. Undo passes it over; `keep_all` ties a file to its notes."""
        with self._writing():
            self._write({"sources": {digest: name}, "quiet": True})

    def undo(self) -> str | None:
        """Take back the last operation that stands; a plain line says which. None where there is none."""
        with self._writing():
            step = self._history.last_step()
            return self._flag(step, {"undoes": step["id"]}, "took back") if step else None

    def redo(self) -> str | None:
        """Put back what undo took back last, where nothing else was done since; None where there is none."""
        with self._writing():
            step = self._history.last_undone()
            return self._flag(step, {"redoes": step["id"]}, "put back") if step else None

    def _added(self, said: NoteRecords) -> list[Added]:
        ids = said.ids or [self._ids() for _ in said.records]
        seconds = said.at or [None] * len(said.records)
        lines: list[Added] = []
        for id, record, second in zip(ids, said.records, seconds, strict=True):
            line: Added = {"id": id, "note": said.note.id, "record": record_to_line(record)}
            if second is not None:
                line["at"] = second
            lines.append(line)
        return lines

    def _change(
        self, amended: Mapping[str, Record], dropped: Sequence[str], added: list[Added], note: Note | None
    ) -> None:
        for id in (*amended, *dropped):
            self.entry(id)  # raises where it is not live
        operation: Operation = {}
        if amended:
            operation["amended"] = {id: record_to_line(record) for id, record in amended.items()}
        if dropped:
            operation["dropped"] = list(dropped)
        if added:
            operation["added"] = added
        if note:
            operation["notes"], operation["by"] = [note_to_line(note)], note.id
        self._write(operation)

    def _flag(self, step: Operation, operation: Operation, did: str) -> str:
        notes = list(map(note_from_line, step.get("notes", ())))
        self._write(operation)
        return f"{did} {describe(step, notes)}"

    def _refuse_twins(self, note_ids: Sequence[str], entry_ids: Sequence[str]) -> None:
        for id in note_ids:
            if self._history.note_stands(id):
                raise LogError(f"the note '{id}' is kept already")
        for id in entry_ids:
            if id in self._history.entries.live:
                raise LogError(f"there is a record '{id}' already")
        if len({*note_ids, *entry_ids}) < len(note_ids) + len(entry_ids):
            raise LogError("two notes or records have the same id")


def device_name() -> str:
    """Eight hexadecimal digits for this machine, made from its network name without giving it away."""
    return hashlib.blake2s(platform.node().encode(), digest_size=4).hexdigest()
