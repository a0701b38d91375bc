"""Worms that go from one bin to another: out there and in here (contract 5.18)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.reading.draft import Context, Draft, Target, quantity
from assistant.reading.kinds.denials import state_at
from assistant.reading.kinds.governing import act_of
from assistant.reading.kinds.near import before, together
from assistant.reading.ranks import iter_bins
from assistant.reading.sketch import Item, Mention, Place
from assistant.records import State

_OUT = frozenset("take takeout takeoff pick scoop sieve harvest collect takeoff".split())
_IN = frozenset("add went back worms bring move get have pour release settle give drop".split())
_IN_FOR_SURE = _IN - {"have", "get", "give"}
_SOME = frozenset(("half", "most", "all", "some", "rest"))
_FROM = frozenset(("from", "of", "off"))
_NOT_ALL = ("juvenile", "escaping", "dead")
_ENDS = frozenset(("", ",", ".", "with"))
_THEM = frozenset(("them", "em", "those", "'em"))


@dataclass(slots=True)
class _Move:
    """Worms on their way: the verbs that take them out and put them in, and the place they leave."""

    item: Item
    out: Mention | None
    into: Mention | None
    source: Place | None


def moved(c: Context) -> Iterator[Draft]:
    """A removal, an adding, or both, for the worms of a clause or for those the clause before took out."""
    items = [i for i in c.free() if "worms" in i.topics and not any(state in i.name for state in _NOT_ALL)]
    verbs = [(v, act_of(c, v)) for v in c.here("verb")]
    for item in items:
        move = _Move(
            item,
            next((v for v, act in verbs if act in _OUT), None),
            next((v for v, act in verbs if act in _IN_FOR_SURE), None),
            next((p for p in c.clause.places if p.after in _FROM), None),
        )
        if not _counted(c, move):
            continue
        if not verbs and _dropped_in(c, item):
            c.taken.add(item.start)
            first = item.amount.start if item.amount else item.start
            yield _draft(c, "worms_added", item, first, item.end + 1)
            continue
        sifted = any(act == "get" for _, act in verbs) and any("castings" in i.topics for i in c.items)
        if not (move.out or move.into or sifted or (move.source and item.amount)):
            continue
        c.taken.add(item.start)
        if sifted and move.out is None:
            move.out = verbs[0][0]
        yield from _drafts(c, move)
    if not items:
        yield from _following(c, verbs)


def _counted(c: Context, move: _Move) -> bool:
    """Whether it is said how many worms go, or at least whence or where: "moved half the worms to B"."""
    some = move.out and _SOME & set(before(c, move.item.start, 3))
    return move.item.amount is not None or bool(c.clause.places and (move.into or some))


def _dropped_in(c: Context, item: Item) -> bool:
    """ "500 worms in": no verb."""
    return item.amount is not None and c.word(item.end) == "in" and c.word(item.end + 1) in _ENDS


def _drafts(c: Context, move: _Move) -> Iterator[Draft]:
    """The removal and the adding that one move is."""
    start, end = together(move.item)
    if move.out is not None or move.source:
        where = _targets(c, move.source)
        yield _draft(c, "worms_removed", move.item, start, end, where, _state(c, move.out))
    if move.into is None:
        return
    if _out_of_the_bin_before(c, move, move.into):
        here = c.sketch.clauses[c.index - 1].where if c.index else c.clause.where
        yield _draft(c, "worms_removed", move.item, start, end, here)
    to = _destination(c, move.into)
    if move.out is None and not c.clause.places and move.into.value == "back":
        yield _draft(c, "worms_added", move.item, start, end)
        return
    yield _draft(c, "worms_added", move.item, start, end, _targets(c, to), _state(c, move.into))


def _out_of_the_bin_before(c: Context, move: _Move, into: Mention) -> bool:
    """ "a pound of worms went into B", told of A: they came out of A, though no verb says so."""
    unsaid = move.out is None and move.source is None and move.item.amount is not None
    if not unsaid or act_of(c, into) not in ("back", "went"):
        return False
    here = c.sketch.clauses[c.index - 1].where if c.index else c.clause.where
    bins = {t for p in c.clause.places for t in ([p.bin] if p.bin else list(iter_bins(p.word)))}
    told = any(d.kind == "worms_removed" for d in c.drafts[-2:])
    return bool(bins) and here[0][0] is not None and here[0][0] not in bins and not told


def _destination(c: Context, into: Mention) -> Place | None:
    behind = (p for p in c.clause.places if p.start > into.start)
    return next((p for p in behind if p.after not in _FROM), None)


def _draft(
    c: Context,
    kind: str,
    item: Item,
    start: int,
    end: int,
    where: tuple[Target, ...] | None = None,
    state: State = "done",
) -> Draft:
    amount = quantity(item.amount)
    return Draft(kind, start, end, c.clause, item=item.name, amount=amount, where=where, state=state)


def _state(c: Context, verb: Mention | None) -> State:
    return "done" if verb is None else state_at(c, verb.start)


def _targets(c: Context, place: Place | None) -> tuple[Target, ...] | None:
    """The targets of one place of the clause."""
    if place is None:
        return None
    targets: tuple[Target, ...] = c.sketch.walk.targets(place)
    return targets


def _following(c: Context, verbs: list[tuple[Mention, str]]) -> Iterator[Draft]:
    """ "... which I put in number four", "settled them in the barrel": the worms just taken out."""
    last = c.drafts[-1] if c.drafts else None
    if any("worms" in i.topics for i in c.items) or last is None or last.kind != "worms_removed":
        return
    if last.clause.start < c.sketch.clauses[max(0, c.index - 2)].start:
        return
    for v, act in verbs:
        if c.items and c.word(v.end) not in _THEM:
            continue
        to = next((p for p in c.clause.places if p.start >= v.end), None)
        if act in _IN and to is not None:
            where, amount = _targets(c, to), last.amount
            yield Draft("worms_added", v.start, to.end, c.clause, item=last.item, amount=amount, where=where)
            return
