"""What the log can be asked; it changes nothing."""

from __future__ import annotations

import copy
from collections.abc import Collection, Iterable
from operator import attrgetter
from typing import Any, TypeAlias

from tinydb.table import Table

from assistant.errors import LogError
from assistant.log.history import History
from assistant.log.index import Ids
from assistant.log.journal import Journal
from assistant.log.versions import Version
from assistant.records import Entry, Note, SetUp, setup_from_json

Words: TypeAlias = Collection[str]


class LogView:
    """The reading side of a log. Every question first takes in what other programs have appended."""

    def __init__(self, journal: Journal, history: History) -> None:
        self._journal, self._history = journal, history
        self._made: dict[str, tuple[Version, Entry]] = {}

    @property
    def warnings(self) -> list[str]:
        """Plain lines on what was found damaged, set aside or out of step since the log was opened."""
        return self._journal.warnings

    @property
    def closed(self) -> bool:
        """Whether the log takes nothing more: closed, or after an error that left it uncertain."""
        return self._journal.closed

    @property
    def table(self) -> Table:
        """The live entries as a TinyDB table, read only: a record's fields, `id note said_on at version`."""
        self.refresh()
        return self._history.entries.entry_table()

    def refresh(self) -> None:
        """Take in what other programs have appended. LogError where the folder cannot be read."""
        if bodies := self._journal.read():
            self._take(bodies)

    def _take(self, bodies: list[Any]) -> None:
        self._history.take(bodies)

    def bins(self) -> SetUp:
        """The set-up; empty where none was made."""
        self.refresh()
        return setup_from_json(self._history.register("bins") or ())

    def setting(self, key: str) -> Any | None:
        """A setting, as a JSON value of the caller's own; None where it was never set."""
        self.refresh()
        return copy.deepcopy(self._history.register("settings", key))

    def has_source(self, digest: str) -> bool:
        """Whether a file with this digest was imported."""
        self.refresh()
        return self._history.register("sources", digest) is not None

    def notes(self) -> list[Note]:
        """Every note that was not taken back, in order of its date."""
        self.refresh()
        return self._history.notes()

    def note(self, note_id: str) -> Note:
        """A note, also one that was taken back. LogError where there is none."""
        self.refresh()
        found = self._history.note(note_id)
        if found is None:
            raise LogError(f"there is no note '{note_id}' in the log")
        return found

    def entries(
        self,
        *,
        kind: Words | None = None,
        bin: str | None = None,
        tier: int | None = None,
        item: str | None = None,
        state: Words | None = None,
        first: str | None = None,
        last: str | None = None,
    ) -> list[Entry]:
        """The live entries that match all that is given, in order of (said_on, place in the note).

        `first` and `last` are ISO dates, inclusive, held against the day of `when`; with either, entries
        without `when` are left out.
        """
        self.refresh()
        index = self._history.entries.index
        sets: list[Ids] = []
        if kind is not None:
            sets.append(index.having("kind", _several(kind)))
        if bin is not None:
            sets.append(index.having("bin", (bin,)))
        if item is not None:
            sets.append(index.having("item", (item,)))
        if first is not None or last is not None:
            sets.append(index.between(first, last))
        found = self._in_order(
            set.intersection(*sorted(sets, key=len)) if sets else self._history.entries.live
        )
        if tier is not None:
            found = [entry for entry in found if entry.record.tier == tier]
        if state is not None:
            states = frozenset(_several(state))
            found = [entry for entry in found if entry.record.state in states]
        return found

    def entries_of(self, note_id: str) -> list[Entry]:
        """The live entries that came from a note, in order."""
        self.refresh()
        return self._in_order(self._history.entries.index.of_note(note_id))

    def entry(self, entry_id: str) -> Entry:
        """A live entry. LogError where there is none, or none any more."""
        self.refresh()
        if entry_id not in self._history.entries.live:
            gone = " any more" if self._history.versions(entry_id) else ""
            raise LogError(f"there is no record '{entry_id}' in the log{gone}")
        return self._entry(entry_id)

    def versions(self, entry_id: str) -> list[tuple[Entry, Note]]:
        """What an entry was, first to last, each with the note that said so; also of one that was dropped."""
        self.refresh()
        found = self._history.versions(entry_id)
        if not found:
            raise LogError(f"there is no record '{entry_id}' in the log")
        return [(version.entry(), self.note(version.by or version.note.id)) for version in found]

    def _in_order(self, ids: Iterable[str]) -> list[Entry]:
        versions = map(self._history.entries.live.__getitem__, ids)
        return list(map(self._made_of, sorted(versions, key=attrgetter("place"))))

    def _entry(self, entry_id: str) -> Entry:
        return self._made_of(self._history.entries.live[entry_id])

    def _made_of(self, version: Version) -> Entry:
        """The entry of a version, made once."""
        made = self._made.get(version.id)
        if made is None or made[0] is not version:
            made = self._made[version.id] = version, version.entry()
        return made[1]


def _several(words: Words) -> Words:
    """A single word given where several may be is that one word."""
    return (words,) if isinstance(words, str) else words
