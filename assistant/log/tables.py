"""The side that TinyDB sees: the live entries as one table, filled from the journal and read only.

Leans on private names of TinyDB 4.9: `Table._update_table` and `_get_next_id`, through which all writes go.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, NoReturn

from tinydb import TinyDB
from tinydb.storages import Storage
from tinydb.table import Table

from assistant.errors import LogError
from assistant.log.index import Index
from assistant.log.versions import Document, Version


class Documents(Mapping[str, Document]):
    """The documents of the live entries, each made when it is first asked for: most never are."""

    def __init__(self, live: Mapping[str, Version]) -> None:
        self._live = live
        self._made: dict[str, tuple[Version, Document]] = {}

    def __getitem__(self, id: str) -> Document:
        version = self._live[id]
        made = self._made.get(id)
        if made is None or made[0] is not version:
            made = self._made[id] = version, version.document()
        return made[1]

    def __iter__(self) -> Iterator[str]:
        return iter(self._live)

    def __len__(self) -> int:
        return len(self._live)


class JournalStorage(Storage):
    """Hands TinyDB the documents in memory; only operations of the log change them."""

    def __init__(self, tables: dict[str, Any]) -> None:
        self._tables = tables

    def read(self) -> dict[str, Any]:
        """The tables, by name."""
        return dict(self._tables)

    def write(self, data: object) -> NoReturn:
        """LogError always."""
        raise LogError("the table of entries is read only: write through the log")


class EntryTable(Table):
    """A table whose document ids are the ids of entries."""

    document_id_class = str  # type: ignore[assignment]  # TinyDB's own hook, typed for its default alone

    def _update_table(self, updater: object) -> None:
        self._storage.write({})  # refuses, before the updater touches a document

    def _get_next_id(self) -> None:
        self._storage.write({})  # an insert asks for this first


class Entries(TinyDB):
    """The live entries: their last versions and their indexes."""

    table_class = EntryTable
    default_table_name = "entries"

    def __init__(self) -> None:
        self.live: dict[str, Version] = {}
        self._index: Index | None = None
        super().__init__({self.default_table_name: Documents(self.live)}, storage=JournalStorage)

    @property
    def index(self) -> Index:
        """Built when it is first asked for: to keep one note takes none."""
        if self._index is None:
            self._index = Index()
            for version in self.live.values():
                self._index.add(version)
        return self._index

    def put(self, version: Version) -> None:
        """Show an entry, new or changed."""
        if version.id in self.live:
            self.remove(version.id)
        self.live[version.id] = version
        if self._index:
            self._index.add(version)

    def remove(self, id: str) -> None:
        """Show an entry no longer."""
        old = self.live.pop(id, None)
        if old and self._index:
            self._index.discard(old)

    def entry_table(self) -> Table:
        """The table of entries, as TinyDB hands it out."""
        return self.table(self.default_table_name)
