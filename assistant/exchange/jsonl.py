"""Records as JSON lines (.jsonl): the format that reads back the same.

Source: the record contract, section 6; each line is a JSON text of RFC 8259. First line `{"setup": […]}` with
the notes' own words under "notes" beside it, then a record a line: the fields of the contract, its "id",
"said_on" (the day of its note), "note" (the id of its note) and "at" (its second in a recording, if any).
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import fields, replace
from typing import Any

from assistant.errors import FileError, SetupError
from assistant.exchange.clean import one_line
from assistant.exchange.gathered import Found, gathered, is_day, record_of
from assistant.exchange.incoming import Incoming, Page
from assistant.exchange.outgoing import Outgoing
from assistant.exchange.said import file_day
from assistant.records import Bin, Entry, Note, Record, SetUp, setup_from_json

FORMAT = 1
"""The version of the layout. The first line names it only from 2 on."""

_LINE_ENDS = {code: f"\\u{code:04x}" for code in (0x85, 0x2028, 0x2029)}
"""What some readers take for the end of a line, though JSON lets it stand."""

_FORMAT_NAMES = ("format", "version", "format_version")
_FIRST = {"setup", "notes", *_FORMAT_NAMES}
_BESIDE = {"id", "said_on", "note", "at", *_FORMAT_NAMES}
_BIN = {f.name for f in fields(Bin)}
_FIELDS = _BESIDE | set(Record("feed").to_json())


def read(page: Page) -> list[Incoming]:
    """The notes with their records; a file of only a set-up gives one `Incoming` without text or records.

    FileError names the line that is broken; then nothing is taken.
    """
    lines = [(n, _object(line, n, page)) for n, line in enumerate(page.text.split("\n"), 1) if line.strip()]
    doubts: list[str] = []
    setup: SetUp = ()
    notes: dict[str, Note] = {}
    if "kind" in lines[0][1]:
        doubts.append("no set-up in the first line")
    else:
        setup, notes = _first_line(lines[0][1], page, doubts)
        del lines[0]
    found: dict[str, tuple[int, Found]] = {}
    for number, data in lines:
        row = _found(number, data, page, doubts)
        key = row.id or f"line {number}"
        if key not in found:
            found[key] = number, row
        elif found[key][1] == row:
            doubts.append(f"line {number}: the same as line {found[key][0]}, taken once")
        else:
            raise _broken(page, number, f"the id {one_line(row.id, 40)} is also that of line {found[key][0]}")
    incoming = gathered((row for _, row in found.values()), page.name, notes)
    if not incoming and not setup:
        raise FileError(f"{one_line(page.name)}: nothing to record in this file")
    if not incoming:
        incoming = [Incoming("", None, page.name, records=())]
    first = replace(incoming[0], setup=setup, doubts=tuple(doubts))
    return [first, *(replace(later, setup=setup) for later in incoming[1:])]


def write(out: Outgoing) -> str:
    """Set-up and notes in the first line, then a record a line."""
    first: dict[str, Any] = {"setup": [b.to_json() for b in out.setup]}
    if out.notes:
        first["notes"] = [_note_json(note) for note in out.notes.values()]
    lines = [first, *(_entry_json(entry) for entry in out.entries)]
    texts = (json.dumps(line, ensure_ascii=False, allow_nan=False) for line in lines)
    return "".join(text.translate(_LINE_ENDS) + "\n" for text in texts)


def _object(line: str, number: int, page: Page) -> dict[str, Any]:
    def refuse(name: str) -> None:
        raise ValueError(name)

    try:
        data = json.loads(line, parse_constant=refuse)
        json.dumps(data, ensure_ascii=False).encode("utf-8")  # half a surrogate pair cannot be stored
    except (ValueError, RecursionError):
        raise _broken(page, number, "not a line of JSON that can be read") from None
    if not isinstance(data, dict):
        raise _broken(page, number, "not a record")
    for name in _FORMAT_NAMES:
        if isinstance(data.get(name), int | float) and data[name] > FORMAT:
            raise _broken(page, number, f"written by a later version (format {data[name]}, here {FORMAT})")
    return data


def _first_line(data: dict[str, Any], page: Page, doubts: list[str]) -> tuple[SetUp, dict[str, Note]]:
    if "setup" not in data:
        raise _broken(page, 1, "neither a set-up nor a record")
    _name_unknown(1, set(data) - _FIRST, doubts)
    try:
        setup = setup_from_json(data["setup"])
        _name_unknown(1, {name for entry in data["setup"] for name in entry} - _BIN, doubts)
    except SetupError as error:
        raise _broken(page, 1, one_line(str(error))) from None
    except ValueError as error:
        raise _broken(page, 1, f"the set-up cannot be taken: {one_line(str(error))}") from None
    except (TypeError, AttributeError, KeyError):
        raise _broken(page, 1, "the set-up is not a list of bins") from None
    try:
        notes = [_note_from_json(note) for note in data.get("notes") or ()]
    except (TypeError, AttributeError, KeyError, ValueError):
        raise _broken(page, 1, "the notes in it are not in the shape of notes") from None
    return setup, {note.id: note for note in notes}


def _found(number: int, data: dict[str, Any], page: Page, doubts: list[str]) -> Found:
    _name_unknown(number, set(data) - _FIELDS, doubts)
    try:
        record = record_of(data)
        said_on = data.get("said_on")
        if said_on is not None:
            said_on = is_day(str(said_on), "said_on")
        identity, note, at = data.get("id"), data.get("note"), data.get("at")
        if at is not None and not (isinstance(at, int | float) and math.isfinite(at)):
            raise ValueError("'at' is not a number of seconds")
    except ValueError as error:
        raise _broken(page, number, one_line(str(error))) from None
    if identity in (None, ""):
        doubts.append(f"line {number}: no 'id'; it gets a new one")
    if said_on is None:
        said_on = record.when if record.when and record.state == "done" else file_day(page)[0]
        doubts.append(f"line {number}: no 'said_on'; taken as {said_on[:10]}")
    return Found(
        record, "" if identity is None else str(identity), None if note is None else str(note), said_on, at
    )


def _name_unknown(number: int, names: set[str], doubts: list[str]) -> None:
    for name in sorted(names):
        told = f"'{one_line(name, 40)}' is not known and is left out"
        if not any(doubt.endswith(told) for doubt in doubts):
            doubts.append(f"line {number}: {told}")


def _note_json(note: Note) -> dict[str, Any]:
    full = {
        "id": note.id,
        "said_on": note.said_on,
        "source": note.source,
        "marks": [list(mark) for mark in note.marks],
        "text": note.text,
    }
    return {key: value for key, value in full.items() if key != "marks" or value}


def _note_from_json(data: Mapping[str, Any]) -> Note:
    marks = tuple((int(char), float(second)) for char, second in data.get("marks") or ())
    if not all(math.isfinite(second) for _, second in marks) or not isinstance(data["text"], str):
        raise ValueError("not a note")
    said_on = is_day(str(data["said_on"]), "said_on")
    return Note(str(data["id"]), said_on, data["text"], str(data.get("source") or ""), marks=marks)


def _entry_json(entry: Entry) -> dict[str, Any]:
    beside: dict[str, Any] = {"id": entry.id, "said_on": entry.said_on[:10]}
    after = {"note": entry.note or None, "at": entry.at}
    return {
        **beside,
        **entry.record.to_json(),
        **{key: value for key, value in after.items() if value is not None},
    }


def _broken(page: Page, number: int, why: str) -> FileError:
    return FileError(f"{one_line(page.name)}, line {number}: {why}")
