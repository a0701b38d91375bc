"""Records in time order, folded into balances; and one more record, cheaply."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from functools import cache

from assistant.balance.state import WHOLE, Balances, BinState, Doubt, Event, Place
from assistant.balance.steps import PLACELESS, STEPS
from assistant.balance.steps.post import Post, tray
from assistant.balance.trade import Trade
from assistant.records import ACTIONS, Bin, Entry, SetUp
from lexicon import Lexicon


def moment(entry: Entry) -> tuple[str, str]:
    """When it happened, for sorting: the day, then when it was said."""
    return entry.day, entry.said_on


def in_time_order(entries: Iterable[Entry]) -> list[Entry]:
    """Entries by the day they happened, then by when they were said; those of one note keep their order."""
    return sorted(entries, key=moment)


def fold(entries: Iterable[Entry], setup: SetUp, now: date, lexicon: Lexicon) -> Balances:
    """The balances of all done records up to and on the day `now`. `entries` are in time order.

    `setup` is the set-up as it stands now; a tray that the records add was not there before.
    """
    return fold_with(entries, setup, now, Trade.of(lexicon))


def fold_with(entries: Iterable[Entry], setup: SetUp, now: date, trade: Trade) -> Balances:
    """As `fold`, with a trade made ready before."""
    done = [entry for entry in entries if entry.record.state == "done"]
    books = Balances(setup, now, trade)
    added = _trays_added(done, setup)
    for known in setup:
        books.bins[known.name] = _new_bin(known.name, known, known.tiers - added.get(known.name, 0))
    for entry in done:
        _post(books, entry)
    return books


def with_entry(books: Balances, entry: Entry) -> Balances:
    """New balances with one more record; `books` stay as they are, and so does the set-up.

    ValueError where the record happened before the latest one folded: then fold them all again.
    """
    if entry.record.state != "done":
        return books
    if moment(entry) < books.last:
        raise ValueError("a record from before the latest one: fold all records again")
    after = replace(
        books,
        bins=dict(books.bins),
        stocks={name: list(flows) for name, flows in books.stocks.items()},
        money={currency: list(paid) for currency, paid in books.money.items()},
        room=list(books.room),
        doubts=list(books.doubts),
    )
    name = _bin_name(after, entry)
    if name in after.bins:
        after.bins[name] = after.bins[name].copy()
    _post(after, entry)
    return after


def _post(books: Balances, entry: Entry) -> None:
    """Take one done record into the books."""
    record = entry.record
    day_said = entry.day
    day = _ordinal(day_said)
    books.last = max(books.last, (day_said, entry.said_on))
    if day > books.now.toordinal():
        if entry.said_on[:10] <= books.now.isoformat():
            books.doubts.append(
                Doubt(
                    f"said as done on {day_said}, which is still to come: not counted yet",
                    (entry.id,),
                    record.bin,
                )
            )
        return
    bin_ = _bin(books, entry)
    place = tray(bin_, record.tier) if bin_ else None
    if place and record.kind in ACTIONS:
        event = Event(day, entry.id, record.item, record.amount)
        place.events.setdefault(record.kind, []).append(event)
    STEPS[record.kind](Post(books, entry, record, day, bin_, place))


@cache
def _ordinal(day: str) -> int:
    return date.fromisoformat(day).toordinal()


def _bin_name(books: Balances, entry: Entry) -> str | None:
    """The bin a record belongs to: as named, else the only one there is; None for none in particular."""
    record = entry.record
    if record.bin is None and len(books.setup) == 1:
        return books.setup[0].name
    return record.bin


def _bin(books: Balances, entry: Entry) -> BinState | None:
    name = _bin_name(books, entry)
    record = entry.record
    if name is None and (record.kind in PLACELESS or (record.kind, record.item) == ("temperature", "air")):
        return None
    if name not in books.bins:
        books.bins[name] = _new_bin(name, None, 1)
    return books.bins[name]


def _new_bin(name: str | None, known: Bin | None, tiers: int) -> BinState:
    order = [str(position) for position in range(1, max(1, tiers) + 1)]
    places = {id_: Place(id_) for id_ in (*order, WHOLE)}
    return BinState(name, known, order, places)


def _trays_added(done: Iterable[Entry], setup: SetUp) -> dict[str, int]:
    """By bin: trays that the records add less those that they take off."""
    only = setup[0].name if len(setup) == 1 else None
    added: dict[str, int] = {}
    for entry in done:
        record = entry.record
        name = record.bin or only
        if record.kind == "restack" and name and (record.tier is None) != (record.to_tier is None):
            added[name] = added.get(name, 0) + (1 if record.tier is None else -1)
    return added
