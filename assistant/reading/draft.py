"""A record in the making, and what the functions of kinds/ share."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from operator import attrgetter
from typing import Any, TypeVar

from assistant.reading.amounts import AmountSpan
from assistant.reading.items import Items
from assistant.reading.places import position
from assistant.reading.sketch import Clause, Item, Sketch
from assistant.reading.vocabulary import Vocabulary
from assistant.records import Amount, Price, State

T = TypeVar("T")
Target = tuple[str | None, int | None]
"""A bin and the position of a tier in it."""


@dataclass(slots=True)
class Draft:
    """A record before its places are shared out and its text is cut; `start` and `end` count words."""

    kind: str
    start: int
    end: int
    clause: Clause
    state: State = "done"
    item: str | None = None
    amount: Amount | None = None
    level: float | None = None
    price: Price | None = None
    where: tuple[Target, ...] | None = None
    to_tier: int | None = None
    spot: str | None = None
    day: str | None = None
    dated: bool = False
    whole: bool = False
    doubts: tuple[str, ...] = ()


@dataclass(slots=True)
class Context:
    """What a kind's function may look at: the note, the words, the clause's things, and what came before."""

    sketch: Sketch
    vocabulary: Vocabulary
    finder: Items
    clause: Clause
    items: list[Item]
    amounts: list[AmountSpan]
    drafts: list[Draft]
    index: int = 0
    taken: set[int] = field(default_factory=set)
    """Starts of the items that a record already speaks of."""
    _here: dict[str, tuple[Any, ...]] = field(default_factory=dict)
    _once: dict[str, Any] = field(default_factory=dict)

    @property
    def words(self) -> list[str]:
        """The note's words, lower case."""
        return self.sketch.words

    def position(self, rank: int, bin_: str | None) -> int | None:
        """The position that a rank ("bottom") means in a bin of the set-up, None where there is none."""
        tiers = next((b.tiers for b in self.sketch.setup if b.name == bin_), 0)
        return position(rank, tiers) if tiers > 1 else None

    def word(self, i: int) -> str:
        """The word at `i`, "" outside the note."""
        return self.sketch.words[i] if 0 <= i < len(self.sketch.words) else ""

    def here(self, layer: str) -> tuple[Any, ...]:
        """The clause's mentions of a layer; looked up once, for every kind asks."""
        found = self._here.get(layer)
        if found is None:
            found = self._here[layer] = tuple(self.sketch.within(layer, self.clause.start, self.clause.end))
        return found

    def once(self, what: str, find: Callable[[], T]) -> T:
        """What holds for the whole clause, worked out once, however many things ask for it."""
        if what not in self._once:
            self._once[what] = find()
        found: T = self._once[what]
        return found

    def marked(self, *marks: str) -> bool:
        """Whether a mark of one of these sorts stands in the clause."""
        return any(m.value in marks for m in self.here("mark"))

    def free(self) -> list[Item]:
        """The clause's things that no record speaks of yet."""
        return [item for item in self.items if item.start not in self.taken]

    def after(self, item: Item) -> Item | None:
        """The clause's next thing behind this one."""
        k = bisect_left(self.items, item.end, key=_start)
        return self.items[k] if k < len(self.items) else None

    def next_thing(self, i: int) -> int:
        """The word at which the clause's next thing starts, at `i` or after it; else the clause's end."""
        k = bisect_left(self.items, i, key=_start)
        return self.items[k].start if k < len(self.items) else self.clause.end

    def unused(self) -> list[AmountSpan]:
        """The clause's amounts that belong to no thing and no reading."""
        bound = {item.amount.start for item in self.items if item.amount}
        return [a for a in self.amounts if a.start not in bound and a.start not in self.clause.used]

    def use(self, amount: AmountSpan) -> None:
        """Mark an amount as spoken for."""
        self.clause.used.update(range(amount.start, amount.end))

    def has(self, words: frozenset[str], start: int | None = None, end: int | None = None) -> bool:
        """Whether one of `words` stands in the clause, or in the part of it given."""
        a = self.clause.start if start is None else start
        b = self.clause.end if end is None else end
        return any(w in words for w in self.sketch.words[a:b])


_start = attrgetter("start")


def quantity(span: AmountSpan | None, share: int = 1, unit: str | None = None) -> Amount | None:
    """The record's amount for a span: a bare number is a count of pieces; `share` divides it."""
    if span is None or span.currency:
        return None
    return Amount(span.low / share, span.best / share, span.high / share, unit or span.unit or "piece")


def cover(*spans: object) -> tuple[int, int]:
    """From the first start to the last end of what is given; None counts for nothing."""
    known = [s for s in spans if s is not None]
    return min(s.start for s in known), max(s.end for s in known)  # type: ignore[attr-defined]


def nearest(spans: Sequence[Item], start: int, end: int) -> Item | None:
    """The item nearest to words start..end."""
    return min(spans, key=lambda s: max(s.start - end, start - s.end), default=None)
