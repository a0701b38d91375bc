"""Worms that go from one bin to another: out there and in here (contract 5.18)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.reading.draft import Context, Draft, Target, quantity
from assistant.reading.items import readable
from assistant.reading.kinds.denials import denied, state_at
from assistant.reading.kinds.governing import act_of
from assistant.reading.kinds.near import before, together
from assistant.reading.ranks import BOTTOM, TOP, iter_bins
from assistant.reading.sketch import Item, Mention, Place
from assistant.records import Amount, State

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
        if not verbs and item.amount is not None and (arrow := _arrow(c, item)):
            c.taken.add(item.start)
            yield from arrow
            continue
        within = _within_a_bin(c, move)
        if within is not None:
            c.taken.add(item.start)
            yield within
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


def _arrow(c: Context, item: Item) -> list[Draft]:
    """ "500 worms A -> B"."""
    i = item.end
    source = c.sketch.starting("place", i)
    i = source.end if source else i
    arrow = next((n for n in (1, 2) if "".join(c.words[i : i + n]) in ("->", ">", "→")), None)
    to = c.sketch.starting("place", i + arrow) if arrow else None
    if to is None:
        return []
    start, end = together(item)
    out = _targets(c, source) or c.clause.where
    return [
        _draft(c, "worms_removed", item, start, end, out),
        _draft(c, "worms_added", item, start, end, _targets(c, to)),
    ]


def _within_a_bin(c: Context, move: _Move) -> Draft | None:
    """ "50 worms moved up to it from the bottom": they stay in their bin."""
    if move.into is None or act_of(c, move.into) != "move":
        return None
    named = [p for p in c.clause.places if p is not move.source]
    source = _targets(c, move.source) if move.source else _bare_end(c)
    to = _targets(c, named[0]) if named else c.clause.where
    if not source or not to or source[0][0] != to[0][0] or source == to or None in (source[0][1], to[0][1]):
        return None
    start, end = together(move.item)
    draft = _draft(c, "move", move.item, start, end, source, _state(c, move.into))
    draft.to_tier = to[0][1]
    return draft


def _bare_end(c: Context) -> tuple[Target, ...] | None:
    """ "moved up to it from bottom": a tier named with no article."""
    bin_ = c.clause.where[0][0]
    for i in range(c.clause.start, c.clause.end - 1):
        rank = {"top": TOP, "bottom": BOTTOM}.get(c.words[i + 1])
        if c.words[i] == "from" and rank:
            return ((bin_, c.position(rank, bin_)),)
    return None


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
    targets: tuple[Target, ...] = c.sketch.walk.within(place, c.clause)
    return targets


def _following(c: Context, verbs: list[tuple[Mention, str]]) -> Iterator[Draft]:
    """ "... which I put in number four", "settled them in the barrel", "in they went": worms just told of."""
    if any("worms" in i.topics for i in c.items):
        return
    told = _told(c)
    if told is None:
        return
    name, amount, removed = told
    for v, act in verbs:
        if c.items and c.word(v.end) not in _THEM and c.items[0].start < v.end + 4:
            continue
        to = next((p for p in c.clause.places if p.start >= v.start), None)
        if act not in _IN or denied(c, v.start) or not _said_to_go_in(c, v, act, to, removed):
            continue
        where = _targets(c, to) or (_elsewhere(c) if removed else None)
        end = max(v.end, to.end) if to else v.end + (c.word(v.end) in _THEM)
        yield Draft("worms_added", v.start, end, c.clause, item=name, amount=amount, where=where)
        return


def _elsewhere(c: Context) -> tuple[Target, ...]:
    """Where worms go that were taken out of a bin, where no place is named: a bin just set up, or unsaid."""
    fresh = next((d.where for d in reversed(c.drafts) if d.kind == "start" and d.where), None)
    return fresh or ((None, None),)


def _said_to_go_in(c: Context, v: Mention, act: str, to: Place | None, removed: bool) -> bool:
    """Whether the worms go in: a place is named, or they go "in" and are the verb's only matter."""
    theirs = c.word(v.end) in _THEM or c.word(v.start - 1) in ("they", "these", "those")
    given = act == "give" and c.word(v.end + 1) == "to"
    if removed and to is not None and not given:
        return True
    if act == "give" or not (theirs or (v.start == c.clause.start and act in ("went", "back"))):
        return False
    inward = "in" in c.words[v.start : v.end + 2] or c.words[v.start - 2 : v.start] == ["in", "they"]
    return to is not None or inward


def _told(c: Context) -> tuple[str | None, Amount | None, bool] | None:
    """The worms that the two clauses before tell of: taken out, bought, or only named with a measure."""
    first = max(0, c.index - 2)
    since = c.sketch.clauses[first].start
    drafts = [d for d in c.drafts if d.start >= since]
    last = drafts[-1] if drafts else None
    if last is not None and last.kind == "worms_removed":
        return last.item, last.amount, True
    if any(d.kind in ("worms_added", "give", "sell", "remove") for d in drafts):
        return None
    for clause in reversed(c.sketch.clauses[first : c.index]):
        if clause.stance != "done":
            continue
        for item in c.finder.of(clause, readable(c.sketch.amounts, clause), False):
            plain = "worms" in item.topics and not any(state in item.name for state in _NOT_ALL)
            if plain and item.amount is not None:
                return item.name, quantity(item.amount), False
    return None
