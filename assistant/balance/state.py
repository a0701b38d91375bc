"""What the records add up to: trays with their contents, bins with their order, stocks, money."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import NamedTuple

from assistant.balance.portions import Portion, Role
from assistant.balance.trade import Trade
from assistant.records import Amount, Bin, SetUp

WHOLE = ""
"""The place of a bin that takes what was said with no tier."""


class Event(NamedTuple):
    """Something done, on a day (proleptic Gregorian ordinal)."""

    day: int
    record: str
    item: str | None
    amount: Amount | None


class Look(NamedTuple):
    """Something seen or measured: `value` is a level, a figure in the unit of `amount`, or a word."""

    day: int
    record: str
    value: float | str | None
    amount: Amount | None


class Flow(NamedTuple):
    """What came in (`sign` 1) or went out (`sign` -1), under a kind of record; the amount may not be said."""

    day: int
    record: str
    kind: str
    sign: int
    amount: Amount | None
    bin: str | None = None


class Money(NamedTuple):
    """Money got (`sign` 1) or paid (`sign` -1)."""

    day: int
    record: str
    sign: int
    value: float
    item: str | None


class Doubt(NamedTuple):
    """Something that does not add up, in plain words, and the records that say so."""

    text: str
    records: tuple[str, ...]
    bin: str | None = None
    tray: str | None = None
    """The identity of the tray it is about; None for the bin, or for no bin."""


class Gone(NamedTuple):
    """A portion, or a share of one, that was taken out for good, as it was that day."""

    day: int
    record: str
    kind: str
    portion: Portion


class Gap(NamedTuple):
    """What a look showed against what was reckoned: shares uneaten of one portion."""

    day: int
    record: str
    portion: str
    reckoned: float
    seen: float


class Clock(NamedTuple):
    """Days at the reference temperature: a reading makes them run faster or slower until day `until`."""

    since: int = 0
    shown: float = 0.0
    factor: float = 1.0
    until: int = 0

    def at(self, day: int) -> float:
        """What the clock shows on `day` (an ordinal, not before the last reading)."""
        passed = day - self.since
        warm = min(passed, max(0, self.until - self.since))
        return self.shown + self.factor * warm + (passed - warm)

    def read(self, day: int, factor: float, holds: int) -> Clock:
        """The clock after a reading on `day` that makes loss go `factor` times as fast for `holds` days."""
        return Clock(day, self.at(day), factor, day + holds)


@dataclass(slots=True)
class Place:
    """A tray, or the whole of a bin for what was said with no tier. Lists are in time order."""

    id: str
    held: dict[Role, dict[str, list[Portion]]] = field(
        default_factory=lambda: {"food": {}, "bedding": {}, "amendment": {}}
    )
    worked: list[Portion] = field(default_factory=list)
    """Portions of which nothing is left uneaten."""
    events: dict[str, list[Event]] = field(default_factory=dict)
    looks: dict[tuple[str, str], list[Look]] = field(default_factory=dict)
    """By kind of reading and item (the organism, `bed`, the food), empty where it has none."""
    water: list[Flow] = field(default_factory=list)
    castings: list[Flow] = field(default_factory=list)
    worms: dict[str, list[Flow]] = field(default_factory=dict)

    def copy(self) -> Place:
        """A place that can be changed without changing this one."""
        return Place(
            self.id,
            {role: {name: list(held) for name, held in names.items()} for role, names in self.held.items()},
            list(self.worked),
            {kind: list(events) for kind, events in self.events.items()},
            {key: list(looks) for key, looks in self.looks.items()},
            list(self.water),
            list(self.castings),
            {name: list(flows) for name, flows in self.worms.items()},
        )

    def portions(self, *roles: Role) -> list[Portion]:
        """Everything not yet used up in these roles (all of them, where none is named)."""
        return [
            portion for role in roles or self.held for held in self.held[role].values() for portion in held
        ]

    def put(self, portion: Portion) -> None:
        """Lay a portion in, beside others of its name."""
        self.held[portion.of.role].setdefault(portion.of.name, []).append(portion)

    def last_event(self, *kinds: str) -> Event | None:
        """The latest of the events of these kinds."""
        lasts = [self.events[kind][-1] for kind in kinds if self.events.get(kind)]
        return max(lasts, key=lambda event: event.day, default=None)

    def last_look(self, kind: str, item: str = "") -> Look | None:
        """The latest reading of a kind and item."""
        looks = self.looks.get((kind, item))
        return looks[-1] if looks else None


class Shift(NamedTuple):
    """Trays that change places together: one note's run of `restack` records, from the order before it."""

    note: str
    day: int
    before: tuple[str, ...]
    moves: tuple[tuple[int | None, int | None, str], ...]
    """(position before or None for a new tray, position after or None for a tray taken off, record id)."""

    @property
    def said(self) -> set[int]:
        """The positions before that the moves name."""
        return {was for was, _, _ in self.moves if was is not None}


@dataclass(slots=True)
class BinState:
    """A bin: its trays by identity, their order from the top, and what the order was before."""

    name: str | None
    known: Bin | None
    order: list[str]
    places: dict[str, Place]
    clock: Clock = field(default_factory=Clock)
    past: list[tuple[int, tuple[str, ...]]] = field(default_factory=list)
    """(day, the order until then), oldest first."""
    shift: Shift | None = None
    gone: list[Gone] = field(default_factory=list)
    gaps: list[Gap] = field(default_factory=list)
    started: int | None = None

    def copy(self) -> BinState:
        """A bin that can be changed without changing this one."""
        return BinState(
            self.name,
            self.known,
            list(self.order),
            {key: place.copy() for key, place in self.places.items()},
            self.clock,
            list(self.past),
            self.shift,
            list(self.gone),
            list(self.gaps),
            self.started,
        )

    def order_on(self, day: int) -> tuple[str, ...]:
        """The trays from the top as they stood at the end of `day`."""
        return next((order for until, order in self.past if day < until), tuple(self.order))

    def tier_of(self, place: Place, day: int | None = None) -> int | None:
        """The position of a tray, 1 = top, now or on `day`.

        None for the bin as a whole, the one tray of a bin that has no tiers, and a tray taken off.
        """
        order = self.order if day is None else self.order_on(day)
        if len(order) == 1:
            return None
        return order.index(place.id) + 1 if place.id in order else None

    def applies_to(self) -> tuple[str, ...]:
        """The species in it, for looking up rules."""
        return self.known.species if self.known else ()


@dataclass(slots=True)
class Balances:
    """Everything the done records add up to, on the day `now`: see `fold` and `with_entry`."""

    setup: SetUp
    now: date
    trade: Trade
    bins: dict[str | None, BinState] = field(default_factory=dict)
    """By name; None holds what was said of no bin in particular."""
    stocks: dict[str, list[Flow]] = field(default_factory=dict)
    money: dict[str, list[Money]] = field(default_factory=dict)
    """By currency."""
    room: list[Look] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    last: tuple[str, str] = ("", "")
    """The moment of the latest record folded: (day, said on)."""
