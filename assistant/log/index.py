"""Finds entries by bin, kind, item, note and day without looking at all of them."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Collection, Iterable
from typing import Any, TypeAlias

from assistant.log.versions import Version

Ids: TypeAlias = set[str]

FIELDS = ("bin", "kind", "item")


class Index:
    """Sets of entry ids by what the last version of an entry says."""

    def __init__(self) -> None:
        self._by: dict[str, defaultdict[Any, Ids]] = {field: defaultdict(set) for field in FIELDS}
        self._fields = tuple(self._by.items())
        self._of_note: defaultdict[str, list[str]] = defaultdict(list)
        self._by_day: defaultdict[str, Ids] = defaultdict(set)
        self._days: list[str] | None = None
        """The days in order; None where a new one came since they were sorted."""

    def add(self, version: Version) -> None:
        """Take in an entry that is not in the index."""
        id, said = version.id, version.record.get
        for field, found in self._fields:
            found[said(field)].add(id)
        self._of_note[version.note.id].append(id)
        if when := said("when"):
            day = when[:10]
            if day not in self._by_day:
                self._days = None
            self._by_day[day].add(id)

    def discard(self, version: Version) -> None:
        """Take out an entry, by the version that was added."""
        id, said = version.id, version.record.get
        for field, found in self._fields:
            found[said(field)].discard(id)
        self._of_note[version.note.id].remove(id)
        if when := said("when"):
            self._by_day[when[:10]].discard(id)

    def having(self, field: str, values: Collection[Any]) -> Ids:
        """The entries whose bin, kind or item is one of `values`."""
        found = self._by[field]
        return _union(found[value] for value in values if value in found)

    def of_note(self, note_id: str) -> list[str]:
        """The entries that came from a note."""
        return self._of_note.get(note_id, [])

    def between(self, first: str | None, last: str | None) -> Ids:
        """The entries with a day from `first` to `last` (ISO dates, both inclusive, None: open)."""
        if self._days is None:
            self._days = sorted(self._by_day)
        start = bisect_left(self._days, first) if first else 0
        stop = bisect_right(self._days, last) if last else len(self._days)
        return _union(self._by_day[day] for day in self._days[start:stop])


def _union(sets: Iterable[Ids]) -> Ids:
    sets = list(sets)
    return sets[0] if len(sets) == 1 else set().union(*sets)
