"""What answers are given from: the entries of the log in time order, found by kind, bin, item and day."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property

from assistant.answers.query import Query
from assistant.answers.terms import Terms, terms_of
from assistant.balance import BalanceRow, Balances, fold_with, in_time_order, rows
from assistant.outlook import Due, due
from assistant.records import Bin, Entry, SetUp
from lexicon import Lexicon

WINDOW = 512
"""So many entries are looked at together on the way back to the latest."""


@dataclass
class Facts:
    """The entries of a log with its set-up, the keeper's clock `now`, and what the trade knows.

    Everything else is worked out when first asked for, and kept: hold on to one `Facts` while the log stays
    the same.
    """

    entries: Sequence[Entry]
    setup: SetUp
    now: datetime
    lexicon: Lexicon

    @cached_property
    def terms(self) -> Terms:
        """What the lexicon says."""
        return terms_of(self.lexicon)

    @cached_property
    def ordered(self) -> list[Entry]:
        """The entries by the day they happened, then by when they were said."""
        return in_time_order(self.entries)

    @cached_property
    def place(self) -> dict[str, int]:
        """Where each entry stands in `ordered`."""
        return {entry.id: i for i, entry in enumerate(self.ordered)}

    @cached_property
    def books(self) -> Balances:
        """The balances on the day of `now`."""
        return fold_with(self.ordered, self.setup, self.now.date(), self.terms.trade)

    @cached_property
    def due(self) -> list[Due]:
        """What asks for the keeper."""
        return due(self.ordered, self.setup, self.now.date(), self.lexicon, self.books)

    @cached_property
    def bins(self) -> SetUp:
        """The set-up, and after it the bins that only the entries name."""
        known = {one.name for one in self.setup}
        named = dict.fromkeys(e.record.bin for e in self.entries if e.record.bin not in known)
        return (*self.setup, *(Bin(name) for name in named if name))

    @cached_property
    def item_names(self) -> frozenset[str]:
        """Every item that the entries name."""
        return frozenset(e.record.item for e in self.entries if e.record.item)

    @cached_property
    def rows(self) -> list[BalanceRow]:
        """What each place holds on the day of `now`."""
        return rows(self.books)

    @cached_property
    def _runs(self) -> dict[tuple[str, str], _Run]:
        """The entries of each state and kind, in order; under the kind "" those of every kind."""
        runs: defaultdict[tuple[str, str], _Run] = defaultdict(_Run)
        for entry in self.ordered:
            state = entry.record.state
            day = entry.day
            runs[state, entry.record.kind].add(entry, day)
            runs[state, ""].add(entry, day)
        return dict(runs)

    def choose(
        self, query: Query, kinds: Sequence[str] | None = None, state: str | None = None
    ) -> list[Entry]:
        """The entries that a query speaks of, in time order; `kinds` and `state` instead of its own."""
        first = query.first.isoformat() if query.first else None
        last = query.last.isoformat() if query.last else None
        found = [run.between(first, last, query.bin) for run in self._of(query, kinds, state)]
        return self._narrowed(found[0] if len(found) == 1 else self._merged(found), query)

    def latest(self, query: Query, kinds: Sequence[str] | None = None) -> Entry | None:
        """The last of the entries that `choose` would give of any day, without looking at all of them."""
        lasts = []
        for run in self._of(query, kinds, None):
            entries = run.of_bin(query.bin)[1]
            for at in range(len(entries), 0, -WINDOW):
                held = self._narrowed(
                    entries[max(0, at - WINDOW) : at], replace(query, first=None, last=None)
                )
                if held:
                    lasts.append(held[-1])
                    break
        return max(lasts, key=lambda entry: self.place[entry.id], default=None)

    def _of(self, query: Query, kinds: Sequence[str] | None, state: str | None) -> list[_Run]:
        wanted = query.kinds if kinds is None else kinds
        held = query.state if state is None else state
        return [self._runs[held, kind] for kind in wanted or ("",) if (held, kind) in self._runs]

    def _merged(self, found: Iterable[list[Entry]]) -> list[Entry]:
        every = [entry for run in found for entry in run]
        every.sort(key=lambda entry: self.place[entry.id])
        return every

    def _narrowed(self, entries: list[Entry], query: Query) -> list[Entry]:
        """Those of some entries that are of the query's bin, tiers, items, level, and between its records."""
        if query.bin is not None:
            lone = len(self.setup) == 1 and query.bin == self.setup[0].name
            bins = (query.bin, None) if lone else (query.bin,)
            entries = [e for e in entries if e.record.bin in bins]
        if query.tiers:
            entries = [e for e in entries if e.record.tier in query.tiers]
        if query.items:
            items = {item for item in self.item_names if self.terms.like(item, query.items)}
            entries = [e for e in entries if e.record.item in items]
        if query.level:
            low, high = query.level
            entries = [e for e in entries if e.record.level is not None and low <= e.record.level <= high]
        if query.after or query.before:
            after = self.place[query.after] if query.after else -1
            before = self.place[query.before] if query.before else len(self.ordered)
            entries = [e for e in entries if after < self.place[e.id] < before]
        return entries

    @cached_property
    def kinds_of_item(self) -> dict[str, tuple[str, ...]]:
        """The kinds of record that name each item."""
        found: dict[str, dict[str, None]] = {}
        for entry in self.entries:
            if entry.record.item:
                found.setdefault(entry.record.item, {})[entry.record.kind] = None
        return {item: tuple(kinds) for item, kinds in found.items()}

    def entry(self, id_: str) -> Entry:
        """An entry by its id; KeyError where there is none."""
        return self.ordered[self.place[id_]]

    @cached_property
    def spoken_of(self) -> str | None:
        """The bin that was named last in the log."""
        named = [e for e in self.entries if e.record.bin]
        return max(named, key=lambda e: e.said_on).record.bin if named else None

    @cached_property
    def metric(self) -> bool:
        """Whether the keeper writes in metric units more often than in US ones."""
        counts = {"kg": 0, "g": 0, "litre": 0, "ml": 0, "degC": 0, "lb": 0, "oz": 0, "gallon": 0, "degF": 0}
        for entry in self.entries:
            amount = entry.record.amount
            if amount and amount.unit in counts:
                counts[amount.unit] += 1
        ours = sum(counts[unit] for unit in ("kg", "g", "litre", "ml", "degC"))
        return ours > sum(counts[unit] for unit in ("lb", "oz", "gallon", "degF"))


class _Run:
    """Entries in time order with their days, all together and by bin."""

    def __init__(self) -> None:
        self.all: tuple[list[str], list[Entry]] = ([], [])
        self.by_bin: dict[str | None, tuple[list[str], list[Entry]]] = {}

    def add(self, entry: Entry, day: str) -> None:
        """Take an entry that is not before those already here."""
        for days, entries in (self.all, self.by_bin.setdefault(entry.record.bin, ([], []))):
            days.append(day)
            entries.append(entry)

    def of_bin(self, bin_: str | None) -> tuple[list[str], list[Entry]]:
        """Those of a bin; of every bin where none is named, or where some records name none."""
        return self.all if bin_ is None or None in self.by_bin else self.by_bin.get(bin_, ([], []))

    def between(self, first: str | None, last: str | None, bin_: str | None) -> list[Entry]:
        """Those from day to day (ISO, inclusive), of a bin as in `of_bin`."""
        return _cut(*self.of_bin(bin_), first, last)


def _cut(days: list[str], entries: list[Entry], first: str | None, last: str | None) -> list[Entry]:
    start = bisect_left(days, first) if first else 0
    stop = bisect_right(days, last) if last else len(days)
    return entries[start:stop]
