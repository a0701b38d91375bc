"""The way out: one table from a file's ending to its writer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path

from assistant.errors import FileError
from assistant.exchange import agenda, jsonl, markdown, sheet, webpage
from assistant.exchange.clean import one_line
from assistant.exchange.outgoing import DueLike, Outgoing, Writer
from assistant.exchange.whole import write_whole
from assistant.records import Entry, Note, SetUp

WRITERS: dict[str, Writer] = {
    ".csv": sheet.write,
    ".jsonl": jsonl.write,
    ".md": markdown.write,
    ".html": webpage.write,
    ".ics": agenda.write,
}


def write_file(
    path: Path,
    entries: Sequence[Entry],
    notes: Mapping[str, Note],
    setup: SetUp,
    due: Sequence[DueLike],
    *,
    overwrite: bool = False,
    now: datetime,
) -> str:
    """Write the log to `path` in the format of its ending; gives how much was written. `now` is the clock.

    FileError, one plain line, where the ending is not known, the file is there already and `overwrite` is not
    said, or it cannot be written; the old file is then as it was.
    """
    writer = WRITERS.get(path.suffix.lower())
    if writer is None:
        raise FileError(f"{one_line(str(path))}: only files ending in {' '.join(WRITERS)} can be written")
    text = writer(Outgoing(entries, notes, setup, due, now))
    write_whole(path, text.encode("utf-8", "replace"), overwrite=overwrite)
    return f"{len(due)} due" if writer is agenda.write else f"{len(entries)} records"
