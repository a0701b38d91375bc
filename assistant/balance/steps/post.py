"""A record on its way into the books: where it belongs, and what may be found there."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple, TypeAlias

from assistant.balance.portions import Role
from assistant.balance.state import WHOLE, Balances, BinState, Doubt, Flow, Place
from assistant.records import Entry, Record

ROLES: tuple[Role, ...] = ("food", "bedding", "amendment")


class Post(NamedTuple):
    """One done record with the day it happened, and the bin and place it belongs to, if any."""

    books: Balances
    entry: Entry
    record: Record
    day: int
    bin: BinState | None
    place: Place | None

    def doubt(self, text: str, *others: str) -> None:
        """Put down that this record (and `others`) does not add up."""
        records = (self.entry.id, *others)
        bin_, place = self.bin, self.place
        name = bin_.name if bin_ else None
        self.books.doubts.append(Doubt(text, records, name, place.id if place else None))

    def flow(self, sign: int) -> Flow:
        """This record as something that came in or went out."""
        record = self.record
        return Flow(self.day, self.entry.id, record.kind, sign, record.amount, record.bin)


Step: TypeAlias = Callable[[Post], None]


def nothing_more(post: Post) -> None:
    """The event itself is kept for every kind of record; some change nothing else."""


def tray(bin_: BinState, tier: int | None) -> Place:
    """The tray that stands at a position; the bin as a whole for None, unless it has but one tray.

    A position below the lowest tray is taken to mean that there are as many trays.
    """
    if tier is None:
        return bin_.places[bin_.order[0]] if len(bin_.order) == 1 else bin_.places[WHOLE]
    while len(bin_.order) < tier:
        new_tray(bin_, len(bin_.order) + 1, str(len(bin_.places)))
    return bin_.places[bin_.order[tier - 1]]


def new_tray(bin_: BinState, position: int, id_: str) -> Place:
    """Set a new, empty tray at a position; places are never dropped, so their count names a new one."""
    place = bin_.places[id_] = Place(id_)
    bin_.order.insert(position - 1, id_)
    return place


def places_near(post: Post) -> list[Place]:
    """Where something said of a place may lie: there, else where no tier was said, else in any tray."""
    assert post.bin is not None and post.place is not None
    near = [post.place, post.bin.places[WHOLE]]
    if post.record.tier is None:
        near += [post.bin.places[id_] for id_ in post.bin.order]
    return list({place.id: place for place in near}.values())


class Held(NamedTuple):
    """A name under which portions lie in a place."""

    place: Place
    role: Role
    name: str


def matching(post: Post, roles: Iterable[Role]) -> list[Held]:
    """The heaps that the record's item speaks of, in the nearest place with any; all for no item.

    A heap of that very name comes before those that the words may also mean.
    """
    converter, item = post.books.trade.converter, post.record.item
    wanted = tuple(roles)
    for place in places_near(post):
        heaps = [Held(place, role, name) for role in wanted for name in place.held[role]]
        named = [heap for heap in heaps if heap.name == converter.name_of(item, heap.role)] if item else []
        meant = named or [heap for heap in heaps if converter.like(item, heap.name, heap.role)]
        if meant:
            return meant
    return []


def known_before(post: Post) -> bool:
    """Whether the bin was fed on record before that day: else what lies there may be older than the log."""
    assert post.bin is not None
    feeds = (event for place in post.bin.places.values() for event in place.events.get("feed", ()))
    return any(event.day < post.day for event in feeds)
