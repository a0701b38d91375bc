"""One conversation: a line in, a reply out. Strings the layers together and keeps the one open doubt.

    Session(log, clock).say("fed the tower two cups of kale") -> Reply

Nothing here draws, prints or reads a terminal; the screen, the plain dialogue and the commands all use it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING, Literal, TypeAlias

from assistant.errors import BinsideError
from assistant.records import Entry, Note, Record

if TYPE_CHECKING:
    from assistant.answers import Answer
    from assistant.balance import Balances
    from assistant.log import Log
    from assistant.outlook import Caution, Due
    from assistant.reading import Reader

Sort: TypeAlias = Literal["note", "question", "both", "correction", "wish"]
LIMIT = 5_000_000
"""Characters that one line may have; longer notes are imported from a file."""


@dataclass(frozen=True, slots=True)
class Reply:
    """What came of a line: `sort` of line, the words to show, and what they rest on.

    `entries` are new or changed records; `dropped` those taken back; `doubt` one short question back, None
    where nothing is open; `cautions` shown once each.
    """

    sort: Sort
    text: str
    note: Note | None = None
    entries: tuple[Entry, ...] = ()
    dropped: tuple[Entry, ...] = ()
    answer: Answer | None = None
    doubt: str | None = None
    cautions: tuple[Caution, ...] = ()


class Session:
    """The conversation over one log. `clock` gives the keeper's local time."""

    def __init__(self, log: Log, clock: Callable[[], datetime] = datetime.now) -> None:
        self.log, self.clock = log, clock
        self.last: tuple[str, ...] = ()
        """Ids of the entries that "no, the middle tray" would mend."""

    @cached_property
    def reader(self) -> Reader:
        """The reading; built on first use, about a second."""
        from assistant.reading import Reader

        return Reader()

    def warm(self) -> None:
        """Build what the first line would otherwise wait for; for a thread behind the first frame."""
        self.reader.read("fed the bin", (), self.clock())

    def say(self, text: str) -> Reply:
        """Take a line: tell a note from a question, a correction or a wish, and do it. BinsideError says why not."""
        if not text.strip():
            raise BinsideError("nothing to record: the note is empty")
        if len(text) > LIMIT:
            raise BinsideError(f"a note of {len(text)} characters is too long to paste: save it to a file and use 'binside import'")
        raise NotImplementedError

    def note(self, text: str, source: str = "typed", marks: tuple[tuple[int, float], ...] = (), said_on: str | None = None) -> Reply:
        """Read a note and keep it with its records; acknowledged on return."""
        raise NotImplementedError

    def ask(self, question: str) -> Reply:
        """Answer a question from the log."""
        raise NotImplementedError

    def undo(self) -> Reply:
        """Take back the last thing kept."""
        raise NotImplementedError

    def drop(self, entry: Entry) -> Reply:
        """Take one record back."""
        raise NotImplementedError

    def amend(self, entry: Entry, record: Record) -> Reply:
        """Put another version in a record's place; the old one stays in the log."""
        raise NotImplementedError

    def balances(self) -> Balances:
        """What each tier holds now."""
        raise NotImplementedError

    def due(self) -> tuple[Due, ...]:
        """What needs doing."""
        raise NotImplementedError
