"""What a check sees: the balances of a day, and one bin of them. And what a check finds: something due."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal, NamedTuple, TypeAlias

from assistant.balance.rules import Limit
from assistant.balance.state import WHOLE, Balances, BinState, Event, Place

Promises: TypeAlias = frozenset[tuple[str, int | None]]
"""What the keeper means to do: kinds, each with its tier or None."""

DueKind: TypeAlias = Literal["promised", "expected", "drifting", "overdue"]


@dataclass(frozen=True, slots=True)
class Due:
    """Something that asks for the keeper: `what` to do and `why`, in plain words.

    `day` is ISO, None where none was said. `records` are the ids it rests on; `source` is the code of the
    rule in lexicon/sources.csv, empty for what the keeper planned.
    """

    what: str
    bin: str | None
    tier: int | None
    day: str | None
    why: str
    records: tuple[str, ...]
    kind: DueKind
    source: str = ""


class View(NamedTuple):
    """One bin on a day (`today`, an ordinal).

    `ruled_out` has the last day on which each kind was ruled out, `promised` what the keeper means to do
    anyway, as (kind, tier or None).
    """

    books: Balances
    bin: BinState
    today: int
    ruled_out: dict[str, int]
    promised: Promises

    @property
    def places(self) -> list[Place]:
        """Trays from the top, then the bin as a whole."""
        return [*(self.bin.places[id_] for id_ in self.bin.order), self.bin.places[WHOLE]]

    @property
    def species(self) -> tuple[str, ...]:
        """Every name of the worms that the set-up says are in it, for looking up rules."""
        find = self.books.trade.converter.thing
        known = [(said, find(said.lower(), ("organism",))) for said in self.bin.applies_to()]
        return tuple(name for said, thing in known for name in (said, *(thing.forms if thing else ())))

    def rule(self, name: str, *applies: str) -> Limit:
        """A rule of lexicon/rules.csv; LexiconError where it is missing."""
        return self.books.trade.rules.need(name, applies)

    def will(self, kind: str, place: Place | None = None) -> bool:
        """Whether the keeper has a plan of this kind that takes in this place, or any of the bin."""
        tier = self.bin.tier_of(place) if place else None
        return any(one == kind and (at is None or tier is None or at == tier) for one, at in self.promised)

    def events(self, *kinds: str) -> list[Event]:
        """Everything of these kinds done to the bin, oldest first."""
        found = [event for place in self.places for kind in kinds for event in place.events.get(kind, ())]
        return sorted(found, key=lambda event: event.day)

    def due(
        self,
        what: str,
        why: str,
        records: tuple[str, ...],
        kind: DueKind,
        source: str,
        place: Place | None = None,
    ) -> Due:
        """Something due today in this bin, or in one of its places."""
        tier = self.bin.tier_of(place) if place else None
        day = date.fromordinal(self.today).isoformat()
        return Due(what, self.bin.name, tier, day, why, records, kind, source)


Check: TypeAlias = Callable[[View], Iterator[Due]]
