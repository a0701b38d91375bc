"""What a file brings: a note to be read, or records that are read already."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import TypeAlias

from assistant.records import Record, SetUp


@dataclass(frozen=True, slots=True)
class Incoming:
    """One note from a file.

    `said_on` is an ISO date or local date-time, None where nothing tells it; `source` the file's name.
    `marks` are (character of `text`, second of the recording). `records` is None where the text is still to
    be read, else the records as the file gave them, their `ids` beside them ("" where the file gave none).
    `setup` is the set-up the file carried. `doubts` are plain lines to show to the keeper.
    """

    text: str
    said_on: str | None
    source: str
    marks: tuple[tuple[int, float], ...] = ()
    records: tuple[Record, ...] | None = None
    ids: tuple[str, ...] = ()
    setup: SetUp = ()
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Page:
    """A file opened and decoded: what every reader is given.

    `text` has `\\n` line ends only; `saved` is the file's modification time as local time, `now` the clock.
    `doubts` are those of the decoding. `setup` is the keeper's own, so that a bin is not taken for a speaker.
    """

    name: str
    text: str
    saved: datetime
    now: datetime
    doubts: tuple[str, ...] = ()
    setup: SetUp = ()

    @property
    def stem(self) -> str:
        """The file's name without its ending."""
        return self.name.rpartition(".")[0] or self.name

    @property
    def today(self) -> date:
        """The day of the clock."""
        return self.now.date()


Reader: TypeAlias = Callable[[Page], list[Incoming]]
"""Gives at least one note, or raises FileError."""
