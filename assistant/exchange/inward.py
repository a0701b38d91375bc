"""The way in: one table from a file's ending to its reader."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

from assistant.errors import FileError
from assistant.exchange import jsonl, notes, sheet, subrip, webvtt
from assistant.exchange.clean import one_line
from assistant.exchange.decode import decode, digest_of, read_bytes
from assistant.exchange.incoming import Incoming, Page, Reader
from assistant.records import SetUp

READERS: dict[str, Reader] = {
    ".txt": notes.read,
    ".md": notes.read,
    ".srt": subrip.read,
    ".vtt": webvtt.read,
    ".csv": sheet.read,
    ".jsonl": jsonl.read,
}


def read_file(path: Path, now: datetime, setup: SetUp = ()) -> list[Incoming]:
    """All notes of a file, in its order; `now` is the clock (local), `setup` the keeper's bins.

    FileError, one plain line, where the file cannot be opened or read; nothing is half read.
    """
    reader = READERS.get(path.suffix.lower())
    if reader is None:
        known = " ".join(READERS)
        raise FileError(f"{one_line(str(path))}: only files ending in {known} can be read")
    page = open_page(path, now, setup)
    if not page.text.strip():
        raise FileError(f"{one_line(page.name)}: nothing to record in this file")
    first, *others = reader(page)
    return [replace(first, doubts=page.doubts + first.doubts), *others]


def preview(path: Path) -> sheet.Preview:
    """How each column of a spreadsheet would be understood; FileError as for `read_file`."""
    return sheet.preview(open_page(path, datetime.now()))


def open_page(path: Path, now: datetime, setup: SetUp = ()) -> Page:
    """The file decoded; FileError as for `read_file`."""
    data, saved = read_bytes(path)
    name = path.name.encode("utf-8", "replace").decode("utf-8")
    text, doubts = decode(data, name)
    return Page(name, text, saved, now, doubts, setup)


def digest(path: Path) -> str:
    """SHA-256 (hex) of the file's text, blind to encoding and line ends. FileError as for `read_file`."""
    return digest_of(decode(read_bytes(path)[0], path.name)[0])
