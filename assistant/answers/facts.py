"""What answers are given from: the entries of the log in time order, found by kind, bin, item and day."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property

from assistant.answers.query import Query
from assistant.answers.wording import day_of
from assistant.balance import Balances, Trade, fold_with, in_time_order
from assistant.outlook import Due, due
from assistant.records import Bin, Entry, Note, SetUp
from lexicon import Lexicon, Row, Thing


@dataclass
class Facts:
    """The entries of a log with its set-up, the keeper's clock `now`, and what the trade knows.

    Everything else is worked out when first asked for, and kept: hold on to one `Facts` while the log stays
    the same. `changed` are ids of entries that have more than one version, `notes` the last notes.
    """

    entries: Sequence[Entry]
    setup: SetUp
    now: datetime
    lexicon: Lexicon
    changed: tuple[str, ...] = ()
    notes: Sequence[Note] = ()
    settings: dict[str, str] = field(default_factory=dict)

    @cached_property
    def ordered(self) -> list[Entry]:
        """The entries by the day they happened, then by when they were said."""
        return in_time_order(self.entries)

    @cached_property
    def place(self) -> dict[str, int]:
        """Where each entry stands in `ordered`."""
        return {entry.id: i for i, entry in enumerate(self.ordered)}

    @cached_property
    def trade(self) -> Trade:
        """Conversions and rules of the lexicon."""
        return Trade.of(self.lexicon)

    @cached_property
    def books(self) -> Balances:
        """The balances on the day of `now`."""
        return fold_with(self.ordered, self.setup, self.now.date(), self.trade)

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
    def things(self) -> dict[str, tuple[Thing, ...]]:
        """Every thing of the lexicon by each of its forms."""
        found: dict[str, tuple[Thing, ...]] = {}
        for by_name in self.lexicon.things.values():
            for thing in by_name.values():
                for form in thing.forms:
                    found[form] = (*found.get(form, ()), thing)
        return found

    @cached_property
    def measures(self) -> dict[str, Row]:
        """The rows of measures.csv by the name of the unit, US customary."""
        plain = (row for row in self.lexicon.table("measures") if " " not in row["dimension"])
        return {row["name"]: row for row in plain}

    @cached_property
    def limits(self) -> dict[str, float]:
        """The figures of answering.csv by name."""
        return {row["form"]: float(row["value"]) for row in self.lexicon.table("answering")}

    @cached_property
    def item_names(self) -> frozenset[str]:
        """Every item that the entries name."""
        return frozenset(e.record.item for e in self.entries if e.record.item)

    @cached_property
    def everything(self) -> frozenset[str]:
        """Names that stand for all of their topic ("food", "bedding"), by rules.csv."""
        rows = self.lexicon.table("rules")
        return frozenset(row["applies_to"] for row in rows if row["name"] == "speaks_of_all")

    @cached_property
    def plain_words(self) -> frozenset[str]:
        """Words of grammar, which name nothing."""
        rows = self.lexicon.table("function")
        return frozenset(form.strip().replace("'", "") for row in rows for form in row["form"].split(";"))

    @cached_property
    def ambiguous(self) -> frozenset[str]:
        """Words for things that the notes pass over where they stand alone."""
        return frozenset(form for row in self.lexicon.table("ambiguous") for form in row["form"].split(";"))

    @cached_property
    def groups(self) -> dict[str, frozenset[str]]:
        """Names that stand for whole classes of things."""
        return {row["form"]: frozenset(row["classes"].split(";")) for row in self.lexicon.table("groups")}

    @cached_property
    def _runs(self) -> dict[tuple[str, str], _Run]:
        """The entries of each state and kind, in order."""
        runs: dict[tuple[str, str], _Run] = {}
        for entry in self.ordered:
            key = entry.record.state, entry.record.kind
            run = runs.get(key)
            if run is None:
                run = runs[key] = _Run()
            run.add(entry)
        return runs

    @cached_property
    def _alike(self) -> dict[tuple[str, str], bool]:
        return {}

    def choose(
        self, query: Query, kinds: Sequence[str] | None = None, state: str | None = None
    ) -> list[Entry]:
        """The entries that a query speaks of, in time order. `kinds` and `state` stand in for the query's own."""
        wanted = query.kinds if kinds is None else kinds
        held = query.state if state is None else state
        runs = [run for (s, kind), run in self._runs.items() if s == held and (not wanted or kind in wanted)]
        first = query.first.isoformat() if query.first else None
        last = query.last.isoformat() if query.last else None
        found = [run.between(first, last, query.bin) for run in runs]
        chosen = found[0] if len(found) == 1 else self._merged(found)
        return list(self._narrowed(chosen, query))

    def _merged(self, found: Iterable[list[Entry]]) -> list[Entry]:
        every = [entry for run in found for entry in run]
        every.sort(key=lambda entry: self.place[entry.id])
        return every

    def _narrowed(self, entries: list[Entry], query: Query) -> Iterator[Entry]:
        lone = len(self.setup) == 1 and query.bin == self.setup[0].name
        after = self.place[query.after] if query.after else -1
        before = self.place[query.before] if query.before else len(self.ordered)
        bounded = query.after or query.before
        for entry in entries:
            record = entry.record
            if query.bin is not None and record.bin != query.bin and not (lone and record.bin is None):
                continue
            if query.tiers and record.tier not in query.tiers:
                continue
            if query.items and not self.like(record.item, query.items):
                continue
            if bounded and not after < self.place[entry.id] < before:
                continue
            if query.level and not _within(record.level, query.level):
                continue
            yield entry

    def like(self, item: str | None, wanted: Sequence[str]) -> bool:
        """Whether an entry's item is one that is asked for: by name, by another form of it, or by its class."""
        if item is None:
            return False
        return any(self._like(item, one) for one in wanted)

    def _like(self, item: str, wanted: str) -> bool:
        key = item, wanted
        known = self._alike.get(key)
        if known is None:
            known = self._alike[key] = (
                item == wanted or self._same(item, wanted) or self._member(item, wanted)
            )
        return known

    def _same(self, item: str, wanted: str) -> bool:
        mine, theirs = self.things.get(item, ()), self.things.get(wanted, ())
        if any(one.name == other.name for one in mine for other in theirs):
            return True
        return _words(wanted) <= _words(item)

    def _member(self, item: str, wanted: str) -> bool:
        classes = self.groups.get(wanted)
        return bool(classes) and any(thing.klass in (classes or ()) for thing in self.things.get(item, ()))

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

    def add(self, entry: Entry) -> None:
        """Take an entry that is not before those already here."""
        day = day_of(entry)
        for days, entries in (self.all, self.by_bin.setdefault(entry.record.bin, ([], []))):
            days.append(day)
            entries.append(entry)

    def between(self, first: str | None, last: str | None, bin_: str | None) -> list[Entry]:
        """Those from day to day (ISO, inclusive); of one bin and of none where a bin is named."""
        if bin_ is None:
            return _cut(*self.all, first, last)
        ours, none = (
            _cut(*self.by_bin[name], first, last) if name in self.by_bin else [] for name in (bin_, None)
        )
        return ours if not none else _cut(*self.all, first, last)


def _cut(days: list[str], entries: list[Entry], first: str | None, last: str | None) -> list[Entry]:
    start = bisect_left(days, first) if first else 0
    stop = bisect_right(days, last) if last else len(days)
    return entries[start:stop]


def _within(level: float | None, bounds: tuple[float, float]) -> bool:
    return level is not None and bounds[0] <= level <= bounds[1]


def _words(name: str) -> frozenset[str]:
    """The words of a name, a plural's s left off."""
    return frozenset(word[:-1] if word.endswith("s") and len(word) > 3 else word for word in name.split())
