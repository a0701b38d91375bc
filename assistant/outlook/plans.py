"""What the keeper planned or expected, and whether it has come about since."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from assistant.balance.state import Balances
from assistant.balance.wording import item_words
from assistant.outlook.view import Due, Promises
from assistant.records import READINGS, Entry, Record

VERBS = {
    "feed": "feed",
    "bed": "add bedding",
    "water": "water",
    "drain": "drain",
    "amend": "add",
    "move": "move",
    "remove": "take out",
    "turn": "turn",
    "harvest": "harvest",
    "cover": "cover with",
    "treat": "set up",
    "restack": "move the tray",
    "start": "start the bin",
    "refresh": "renew the bedding",
    "worms_added": "put in worms:",
    "worms_removed": "take out worms:",
    "prepare": "make ready",
    "buy": "buy",
    "sell": "sell",
    "give": "give away",
    "check": "look at",
}
"""What a planned record asks for, before its amount and item."""


class _Log:
    """The records of a log by bin and kind, to see what a plan came to."""

    def __init__(self, entries: Iterable[Entry], books: Balances) -> None:
        self.books = books
        self._by: dict[tuple[str | None, str], list[Entry]] = {}
        for entry in entries:
            self._by.setdefault((self.bin_of(entry.record), entry.record.kind), []).append(entry)

    def bin_of(self, record: Record) -> str | None:
        """The bin a record belongs to; the only one there is where none is named."""
        return record.bin if record.bin or len(self.books.setup) != 1 else self.books.setup[0].name

    def tray_of(self, record: Record, day: str) -> str | None:
        """The identity of the tray that stood at the record's position on a day (ISO)."""
        bin_ = self.books.bins.get(self.bin_of(record))
        if bin_ is None or record.tier is None:
            return None
        order = bin_.order_on(date.fromisoformat(day).toordinal())
        return order[record.tier - 1] if record.tier <= len(order) else None

    def settled(self, plan: Entry) -> bool:
        """Whether a later note did it, called it off, or put another plan in its place."""
        record = plan.record
        kinds = READINGS | {"check"} if record.kind == "check" else {record.kind}
        return any(
            self._settles(later, plan)
            for kind in kinds
            for later in self._by.get((self.bin_of(record), kind), ())
        )

    def _settles(self, later: Entry, plan: Entry) -> bool:
        if later.note == plan.note or later.said_on < plan.said_on:
            return False
        new_plan = later.record.state in ("planned", "expected")
        if new_plan and later.record.state != plan.record.state:
            return False
        if later.record.state == "done" and later.day < plan.said_on[:10]:
            return False
        return self._same_place(later, plan) and self._same_item(later, plan)

    def _same_place(self, later: Entry, plan: Entry) -> bool:
        """The same tray, wherever it stands by then; the whole bin stands for each of its trays."""
        planned = self.tray_of(plan.record, plan.said_on[:10])
        day = later.day if later.record.state == "done" else later.said_on[:10]
        done = self.tray_of(later.record, day)
        return planned is None or done is None or planned == done

    def _same_item(self, later: Entry, plan: Entry) -> bool:
        planned, done = plan.record.item, later.record.item
        if planned is None or done is None or plan.record.kind == "restack":
            return planned is None or plan.record.kind != "check" or planned == later.record.kind
        converter = self.books.trade.converter
        return planned == later.record.kind or converter.like(planned, done, converter.topic_of(planned, ""))


def plans(entries: Sequence[Entry], books: Balances) -> Iterator[Due]:
    """What was planned and not done since; and what was expected, once its day has come."""
    log, today = _Log(entries, books), books.now.isoformat()
    for entry in _open(log, entries):
        when = entry.record.when
        if entry.record.state == "planned":
            yield _promised(log, entry, today)
        elif when and when[:10] <= today:
            yield _expected(log, entry)


def promised(entries: Sequence[Entry], books: Balances) -> dict[str | None, Promises]:
    """By bin: the kinds and tiers of what is planned and not done yet."""
    log = _Log(entries, books)
    meant: dict[str | None, set[tuple[str, int | None]]] = {}
    for entry in _open(log, entries):
        if entry.record.state == "planned":
            held = meant.setdefault(log.bin_of(entry.record), set())
            held.add((entry.record.kind, _tier_now(log, entry)))
    return {name: frozenset(held) for name, held in meant.items()}


def _open(log: _Log, entries: Iterable[Entry]) -> Iterator[Entry]:
    """What was planned or expected up to now and is not settled."""
    today = log.books.now.isoformat()
    for entry in entries:
        coming = entry.record.state in ("planned", "expected") and entry.said_on[:10] <= today
        if coming and not log.settled(entry):
            yield entry


def _promised(log: _Log, entry: Entry, today: str) -> Due:
    record = entry.record
    day = record.when[:10] if record.when else None
    late = day is not None and day < today
    return Due(
        _what(record),
        log.bin_of(record),
        _tier_now(log, entry),
        day,
        _said(entry),
        (entry.id,),
        "overdue" if late else "promised",
    )


def _expected(log: _Log, entry: Entry) -> Due:
    record = entry.record
    assert record.when is not None
    about = record.item or record.kind
    return Due(
        f"look whether it came about: {about}",
        log.bin_of(record),
        _tier_now(log, entry),
        record.when[:10],
        _said(entry),
        (entry.id,),
        "expected",
    )


def _tier_now(log: _Log, entry: Entry) -> int | None:
    """Where the tray that was meant stands now; the position as said where it is not known."""
    record = entry.record
    bin_ = log.books.bins.get(log.bin_of(record))
    tray = log.tray_of(record, entry.said_on[:10])
    return bin_.tier_of(bin_.places[tray]) if bin_ and tray else record.tier


def _what(record: Record) -> str:
    """What is to be done, in plain words."""
    verb = VERBS.get(record.kind, f"note the {record.kind}")
    if record.kind == "restack":
        return f"{verb} to position {record.to_tier}" if record.to_tier else f"{verb} off the stack"
    said = item_words(record.amount, None if record.kind == record.item else record.item)
    return (
        f"{verb} {said}".rstrip(": ")
        if said
        else "have a look"
        if record.kind == "check"
        else verb.rstrip(":")
    )


def _said(entry: Entry) -> str:
    return f"you said on {entry.said_on[:10]}: {entry.record.text}".rstrip(": ")
