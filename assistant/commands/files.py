"""`import` and `export`: files in, each once, other logs, a watched folder; and files out."""

from __future__ import annotations

import argparse
import sys
import time
from datetime import datetime
from pathlib import Path
from typing import Any

from assistant import wording
from assistant.commands.inbox import PAUSE, arrivals
from assistant.commands.output import as_json, complain, opened, put, put_json
from assistant.errors import BinsideError, FileError, UsageError
from assistant.exchange.incoming import Incoming
from assistant.exchange.inward import digest, read_file
from assistant.exchange.outward import write_file
from assistant.log import NoteRecords
from assistant.records import Note
from assistant.session import Session, places_in_recording


def import_(arguments: argparse.Namespace) -> int:
    """Read files; each is kept whole or not at all, and the same text is never kept twice."""
    if bool(arguments.files) == bool(arguments.watch):
        raise UsageError("which files? Name some, or a folder to watch with --watch")
    if arguments.watch:
        return _watch(arguments)
    status = 0
    told: list[dict[str, Any]] = []
    with opened(arguments) as session:
        for name in arguments.files:
            path = Path(name)
            try:
                told.append(_joined(session, path) if path.is_dir() else _one(session, path))
            except BinsideError as error:
                complain(str(error))
                status = error.status
                continue
            if not as_json(arguments):
                put(told[-1]["text"])
    if as_json(arguments):
        put_json([_figures(one) for one in told])
    return status


def _watch(arguments: argparse.Namespace) -> int:
    """Read what comes to rest in a folder until Ctrl-C; what cannot be read is told, and it goes on."""
    with opened(arguments) as session:
        for path in arrivals(Path(arguments.watch), lambda: time.sleep(PAUSE)):
            try:
                told = _one(session, path)
            except FileError as error:
                complain(str(error))
                continue
            if as_json(arguments):
                put_json(_figures(told))
            else:
                put(told["text"])
    raise AssertionError("a watch has no end of its own")


def _figures(told: dict[str, Any]) -> dict[str, Any]:
    return {k: v for k, v in told.items() if k != "text"}


def _one(session: Session, path: Path) -> dict[str, Any]:
    log, now = session.log, session.clock()
    print_of = digest(path)
    if log.has_source(print_of):
        return {
            "file": path.name,
            "notes": 0,
            "records": 0,
            "text": f"{path.name}: read before, nothing added",
        }
    incoming = read_file(path, now, log.bins())
    for doubt in (d for one in incoming for d in one.doubts):
        complain(doubt)
    setup = next((one.setup for one in incoming if one.setup), ())
    if setup and not log.bins():
        session.set_bins(setup)
    batch = []
    for number, one in enumerate(incoming, 1):
        if not one.text.strip() and not one.records:
            continue  # a file that only carries a set-up
        _progress(path.name, number, len(incoming))
        batch.append(_read(session, one, now.isoformat(timespec="seconds")))
    known = {n.id for n in log.notes()}
    batch = [said for said in batch if said.note.id not in known]
    entries = log.keep_all(batch, source=(print_of, path.name))
    text = f"{path.name}: {len(batch)} {_notes(len(batch))}, {len(entries)} records"
    return {"file": path.name, "notes": len(batch), "records": len(entries), "text": text}


def _joined(session: Session, folder: Path) -> dict[str, Any]:
    """Join the log in another folder: a second device's, or a copy."""
    log = session.log
    joined = log.join(folder)
    for warning in joined.warnings:
        complain(warning)
    for id in joined.contested:
        told = "; before that: ".join(wording.line(entry) for entry, _ in reversed(log.versions(id)))
        complain(f"changed in both logs, the later change counts: {told}")
    text = f"{folder.name}: {joined.notes} {_notes(joined.notes)}, {joined.records} records joined"
    return {"file": folder.name, "notes": joined.notes, "records": joined.records, "text": text}


def _read(session: Session, one: Incoming, now: str) -> NoteRecords:
    """A note of a file with its records, those of the file or those read in it."""
    from assistant.reading.reader import VERSION

    said = one.said_on or now
    note: Note = session.log.new_note(one.text, said, one.source, VERSION, one.marks)
    if one.records is not None:
        ids = tuple(id_ or f"{note.id}-{k}" for k, id_ in enumerate(one.ids)) if any(one.ids) else ()
        return NoteRecords(note, one.records, (), ids)
    records = session.reader.read(one.text, session.log.bins(), datetime.fromisoformat(said)).records
    return NoteRecords(note, records, places_in_recording(records, one.marks))


def _notes(count: int) -> str:
    return "note" if count == 1 else "notes"


def _progress(name: str, number: int, of: int) -> None:
    if of >= 50 and number % 25 == 0 and sys.stderr.isatty():
        print(f"\r{name}: {number} of {of} notes", end="" if number + 25 <= of else "\n", file=sys.stderr)


def export(arguments: argparse.Namespace) -> int:
    """Write the log to a file by its ending."""
    with opened(arguments) as session:
        log = session.log
        entries = log.entries()
        notes = {n.id: n for n in log.notes()}
        path = Path(arguments.file)
        told = write_file(
            path,
            entries,
            notes,
            log.bins(),
            session.due(),
            overwrite=arguments.overwrite,
            now=session.clock(),
        )
    put(f"{path.name}: {told} written")
    return 0
