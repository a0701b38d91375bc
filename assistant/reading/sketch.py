"""What the reading knows of a note while it works: words, mentions, clauses. Stages add, none removes."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from operator import attrgetter
from typing import Any

from assistant.reading.amounts import AmountSpan
from assistant.reading.days import DaySpan
from assistant.records import SetUp


@dataclass(slots=True)
class Mention:
    """A run of words, `words[start:end]`, that the lexicon knows; `value` is what its `label` says it is."""

    start: int
    end: int
    label: str
    value: Any
    doubt: str = ""


@dataclass(slots=True)
class Place:
    """A bin or tiers named in `words[start:end]`.

    `tiers` are positions from the top, empty where only a bin is named; `step` is +1 for "the next one
    down", -1 for "the one above", 0 for a position of its own. `after` is the preposition before it, ""
    where it stands in front ("top tray the peels are ...").
    """

    start: int
    end: int
    bin: str | None = None
    tiers: tuple[int, ...] = ()
    step: int = 0
    after: str = ""
    spread: bool = False
    doubt: str = ""
    word: str = ""


@dataclass(slots=True)
class Item:
    """Something with its amount, as it stands in a clause; `topic` is the lexicon's, or "unknown"."""

    start: int
    end: int
    name: str
    topics: tuple[str, ...]
    amount: AmountSpan | None = None
    doubts: tuple[str, ...] = ()
    things: tuple[Any, ...] = ()
    denied: bool = False
    share: int = 1

    @property
    def topic(self) -> str:
        """The first topic the lexicon gives."""
        return self.topics[0]


@dataclass(slots=True)
class Clause:
    """A stretch of words that says one thing, `words[start:end]`, and what stands in it."""

    start: int
    end: int
    stance: str = "done"
    because: str = ""
    places: list[Place] = field(default_factory=list)
    bin: str | None = None
    where: tuple[tuple[str | None, int | None], ...] = ((None, None),)
    spot: str | None = None
    days: list[DaySpan] = field(default_factory=list)
    beside: frozenset[int] = frozenset()
    """Starts of the days that only describe a thing ("Thursday's eggplant") and date nothing."""
    used: set[int] = field(default_factory=set)
    doubts: tuple[str, ...] = ()

    def __contains__(self, i: int) -> bool:
        return self.start <= i < self.end


@dataclass(slots=True)
class Sketch:
    """One note on its way to records.

    `words` are lower case; `spans[i]` is where word `i` stands in the raw text, in characters.
    """

    text: str
    words: list[str]
    spans: list[tuple[int, int]]
    now: datetime
    setup: SetUp
    layers: dict[str, list[Mention]] = field(default_factory=dict)
    amounts: list[AmountSpan] = field(default_factory=list)
    days: list[DaySpan] = field(default_factory=list)
    places: list[Place] = field(default_factory=list)
    clauses: list[Clause] = field(default_factory=list)
    mends: dict[int, str] = field(default_factory=dict)
    mending: int | None = None
    """The word from which on the text corrects what stands before it."""
    walk: Any = None
    """The `where.Walk` that settled the places; later stages ask it for the targets of a place."""

    metric: bool | None = None
    """Whether bare degrees are Celsius; `scale.metric` finds it once."""

    _units: frozenset[str] | None = None
    _tables: dict[tuple[str, str], tuple[Any, dict[int, Any]]] = field(default_factory=dict)

    def starting(self, layer: str, i: int) -> Any | None:
        """The mention of a layer (or the amount, day, place) that starts at word `i`."""
        return self._table(layer, "start").get(i)

    def ending(self, layer: str, i: int) -> Any | None:
        """The one that ends just before word `i`."""
        return self._table(layer, "end").get(i)

    def covering(self, layer: str, i: int) -> Any | None:
        """The one that word `i` belongs to."""
        return self._table(layer, "cover").get(i)

    def _table(self, layer: str, by: str) -> dict[int, Any]:
        """A layer by position; made once for each state of the layer, so that long notes stay quick."""
        spans = self._spans(layer)
        known = self._tables.get((layer, by))
        if known is None or known[0] is not spans:
            if by == "cover":
                table = {i: m for m in spans for i in range(m.start, m.end)}
            else:
                table = {getattr(m, by): m for m in reversed(spans)}
            known = self._tables[layer, by] = (spans, table)
        return known[1]

    @property
    def units(self) -> frozenset[str]:
        """The units of the note's amounts; they are settled when the first record asks."""
        if self._units is None:
            self._units = frozenset(a.unit for a in self.amounts if a.unit)
        return self._units

    def _spans(self, layer: str) -> Any:
        if layer == "amount":
            return self.amounts
        if layer == "day":
            return self.days
        return self.places if layer == "place" else self.layers.setdefault(layer, [])

    def within(self, layer: str, start: int, end: int) -> list[Mention]:
        """The mentions of a layer that stand inside `words[start:end]`."""
        return inside(self.layers.get(layer, ()), start, end)

    def raw(self, start: int, end: int) -> tuple[str, int, int]:
        """The raw text of `words[start:end]` and where it stands in the note."""
        a, b = self.spans[start][0], self.spans[min(max(start, end - 1), len(self.spans) - 1)][1]
        return self.text[a:b], a, b


def inside(spans: Sequence[Any], start: int, end: int) -> list[Any]:
    """Those of `spans` (with `.start` and `.end`, in order) that lie inside start..end."""
    found = []
    for k in range(bisect_left(spans, start, key=_start), len(spans)):
        if spans[k].start >= end:
            break
        if spans[k].end <= end:
            found.append(spans[k])
    return found


_start = attrgetter("start")
