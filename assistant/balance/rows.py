"""Balances as plain rows, one for each place that anything is on record of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from assistant.balance.contents import Heap, heap, standing, summed
from assistant.balance.makeup import Makeup, makeup
from assistant.balance.state import WHOLE, Balances, BinState, Doubt, Event, Look, Place
from assistant.balance.stocks import Population, population
from assistant.balance.wording import MOISTURE, SIGHTING, amount_words, figure, item_words
from assistant.records import READINGS


@dataclass(frozen=True, slots=True)
class Did:
    """Something done last: the day (ISO), how many days ago, what, and its record."""

    day: str
    ago: int
    what: str
    record: str


@dataclass(frozen=True, slots=True)
class Saw:
    """The last look of one sort: kind of reading, item, what was seen in words, the day, and its record."""

    kind: str
    item: str
    what: str
    day: str
    ago: int
    record: str


@dataclass(frozen=True, slots=True)
class BalanceRow:
    """What a place holds. `tier` is its position from the top today, None for a whole bin.

    `tray` is the identity of the tray, `off` whether it was taken off; `did` has what was
    last done of each kind, `looked` the last look of any sort.
    """

    bin: str | None
    tier: int | None
    tray: str
    off: bool
    did: dict[str, Did]
    looked: Saw | None
    saw: tuple[Saw, ...]
    food: Heap
    bedding: Heap
    amendments: Heap
    makeup: Makeup
    worms: tuple[Population, ...]
    doubts: tuple[Doubt, ...]
    records: tuple[str, ...]

    @property
    def last_fed(self) -> Did | None:
        """The last feeding."""
        return self.did.get("feed")

    @property
    def moisture(self) -> Saw | None:
        """The last look at how wet it is."""
        return next((saw for saw in self.saw if saw.kind == "moisture"), None)


def rows(books: Balances) -> list[BalanceRow]:
    """A row for each place that anything is on record of: bins as in the set-up, trays from the top."""
    return [_row(books, bin_, place) for bin_ in books.bins.values() for place in shown(bin_)]


def shown(bin_: BinState) -> Iterator[Place]:
    """The places of a bin in order: trays from the top (all of them), the bin as a whole, trays taken off."""
    for id_ in bin_.order:
        yield bin_.places[id_]
    for id_, place in bin_.places.items():
        if id_ not in bin_.order and any(
            (place.events, place.looks, place.worms, place.portions(), place.worked)
        ):
            yield place


def _row(books: Balances, bin_: BinState, place: Place) -> BalanceRow:
    least = books.trade.rules.need("food_gone").value
    now = standing(books, bin_, place)
    food, bedding, grit = (
        heap((one for one in now if one.of.role == role), least) for role in ("food", "bedding", "amendment")
    )
    tier = bin_.tier_of(place)
    saw = tuple(saws(books, place))
    did = {kind: found for kind in place.events if (found := last_done(books, place, kind))}
    worms = tuple(populations(books, place))
    doubts = tuple(_doubts(books, bin_, place))
    ids = [*food.records, *bedding.records, *grit.records, *(one.record for one in saw)]
    ids += [one.record for one in did.values()] + [id_ for one in worms for id_ in one.records]
    return BalanceRow(
        bin_.name,
        tier,
        place.id,
        place.id not in (*bin_.order, WHOLE),
        did,
        min(saw, key=lambda one: one.ago, default=None),
        saw,
        food,
        bedding,
        grit,
        makeup(books.trade, now, place),
        worms,
        doubts,
        tuple(dict.fromkeys(ids)),
    )


def _doubts(books: Balances, bin_: BinState, place: Place) -> Iterator[Doubt]:
    """The doubts about a place; those about no tray in particular stand with the first place of their bin."""
    first = next(shown(bin_))
    for doubt in books.doubts:
        if doubt.bin == bin_.name and (doubt.tray or first.id) == place.id:
            yield doubt


def populations(books: Balances, place: Place) -> Iterator[Population]:
    """The worms of a place by name."""
    names = dict.fromkeys([*place.worms, *(item for kind, item in place.looks if kind == "worm_estimate")])
    for name in names:
        yield population(books, name, place.worms.get(name, ()), place.last_look("worm_estimate", name))


def last_done(books: Balances, place: Place, kind: str) -> Did | None:
    """The last day on which something of a kind was done, with everything of that kind done that day."""
    events = place.events.get(kind)
    if not events:
        return None
    latest = max(event.day for event in events)
    that_day = [event for event in events if event.day == latest]
    by_item: dict[str | None, list[Event]] = {}
    for event in that_day:
        by_item.setdefault(event.item, []).append(event)
    words = [_done_words(item, events) for item, events in by_item.items()]
    return Did(_iso(latest), _ago(books, latest), ", ".join(filter(None, words)), that_day[-1].record)


def _done_words(item: str | None, events: Sequence[Event]) -> str:
    """What was done with one item that day, its amounts added up: "3 handfuls coffee grounds"."""
    said = [item_words(amount, item) for amount in summed(one.amount for one in events if one.amount)]
    if said and not all(event.amount for event in events):
        said.append("some")
    return " + ".join(said) or item or ""


def saws(books: Balances, place: Place) -> Iterator[Saw]:
    """The last look of each sort, in the order in which the sorts were first seen."""
    for (kind, item), looks in place.looks.items():
        look = looks[-1]
        if kind in READINGS:
            yield Saw(kind, item, look_words(kind, look), _iso(look.day), _ago(books, look.day), look.record)


def look_words(kind: str, look: Look) -> str:
    """What a look showed, in the words of its scale or in its own unit."""
    if isinstance(look.value, str):
        return look.value
    scale = {"moisture": MOISTURE, "sighting": SIGHTING}.get(kind)
    level = None if look.value is None or scale is None else scale.get(round(look.value))
    if look.amount:
        said = amount_words(look.amount)
        return f"{said} ({level})" if level and kind == "sighting" else said
    if level:
        return level
    if look.value is None:
        return "seen"
    return f"{figure(look.value * 100)} %" if kind in ("leftover", "progress") else figure(look.value)


def _iso(day: int) -> str:
    return date.fromordinal(day).isoformat()


def _ago(books: Balances, day: int) -> int:
    return books.now.toordinal() - day
