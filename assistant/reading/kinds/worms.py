"""Worms that go from one bin to another: out there and in here (contract 5.18)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft, Target, quantity
from assistant.reading.kinds.before import lately
from assistant.reading.kinds.denials import state_at
from assistant.reading.kinds.governing import act_of
from assistant.reading.kinds.near import before, together
from assistant.reading.kinds.wormstold import IN, NOT_ALL, following, last_told
from assistant.reading.ranks import BOTTOM, TOP
from assistant.reading.sketch import Item, Mention, Place
from assistant.records import State

_OUT = frozenset("take takeout takeoff pick scoop sieve harvest collect".split())
_IN_FOR_SURE = IN - {"have", "get", "give", "start", "empty"}
_TRADING = frozenset(("sell", "buy", "giveaway"))
_CARRYING = frozenset("move went back bring give".split())
"""Acts by which what goes in has come out of another bin, though no verb says so."""

_RECEIVING = frozenset(("get", "have", "give"))
_SOME = frozenset(("half", "most", "all", "some", "rest"))
_FROM = frozenset("from of off out outta frm".split())
_INTO = frozenset("to into in onto on".split())
_ENDS = frozenset(("", ",", ".", "with", "for", "today"))
_SIZES = frozenset("small little big fat large tiny good".split())
_THOSE = frozenset(("those", "these", "the"))
_MANY = 10  # from this bare count on, a figure may be one of worms
_MEASURES = frozenset((None, "lb", "oz", "kg", "g", "handful", "cup", "piece"))


@dataclass(slots=True)
class _Move:
    """Worms on their way: what goes, the verbs that take it out and put it in, and both ends."""

    name: str
    amount: AmountSpan | None
    start: int
    end: int
    out: Mention | None = None
    into: Mention | None = None
    act: str = ""
    source: Place | None = None
    to: Place | None = None
    head: Place | None = None


def moved(c: Context) -> Iterator[Draft]:
    """A removal, an adding, or both, for the worms of a clause or for those the clause before took out."""
    verbs = [(v, act_of(c, v)) for v in c.here("verb")]
    found = False
    for item in c.free():
        if "worms" not in item.topics or _stays(c, item, verbs):
            continue
        found = True
        drafts = list(_of_item(c, item, verbs))
        if drafts:
            c.taken.add(item.start)
            yield from drafts
    more = _elliptical(c, verbs)
    yield from more or (() if found else following(c, verbs))


def _stays(c: Context, item: Item, verbs: list[tuple[Mention, str]]) -> bool:
    """Whether the worms are traded, or are told of by their state and not moved with a count."""
    if any(act in _TRADING and v.start < item.start for v, act in verbs):
        return True
    if any(act == "give" and v.start < item.start and not _to_a_bin(c, v, item) for v, act in verbs):
        return True
    if not any(state in item.name for state in NOT_ALL):
        return False
    going = any(act in _OUT | _IN_FOR_SURE and 0 <= item.start - v.end <= 4 for v, act in verbs)
    return not (going and item.amount is not None and "juvenile" in item.name)


def _to_a_bin(c: Context, verb: Mention, item: Item) -> bool:
    """ "gave bin two a pound of worms", "gave two handfuls to B", "bin A gave a pound"."""
    subject = any(p.end == verb.start for p in c.clause.places)
    return subject or any(verb.end <= p.start < item.start or p.after == "to" for p in c.clause.places)


def _of_item(c: Context, item: Item, verbs: list[tuple[Mention, str]]) -> Iterator[Draft]:
    start, end = together(item)
    name = "worms" if _SIZES & set(c.words[item.start : item.end]) else item.name
    move = _ends(c, _Move(name, item.amount, start, end), verbs)
    if not _counted(c, move, item):
        return
    within = _within_a_bin(c, move)
    if within is not None:
        yield within
    elif not verbs and (_dropped(c, item, "in") or c.words[item.end : item.end + 2] == ["back", "from"]):
        yield _draft(c, "worms_added", move, None)
    elif not verbs and _dropped(c, item, "out"):
        yield _draft(c, "worms_removed", move, None)
    else:
        yield from _drafts(c, move, _sifted(c, verbs))


def _ends(c: Context, move: _Move, verbs: list[tuple[Mention, str]]) -> _Move:
    """The move with its verbs and its two ends."""
    places = c.clause.places
    move.source = next((p for p in places if _leaves(c, p)), None)
    move.out = next((v for v, act in verbs if act in _OUT), None)
    going = next(((v, act) for v, act in verbs if act in _IN_FOR_SURE), None)
    if going is not None:
        move.into, move.act = going
    arrow = _arrow(c, move.end)
    move.to = arrow or next((p for p in places if p is not move.source and _reached(p, move)), None)
    others = [p for p in places if p not in (move.source, move.to) and p.start < move.start]
    move.head = next((p for p in others if p.after in ("", "object")), None)
    if going is None and move.head is not None:
        received = next(((v, act) for v, act in verbs if act in _RECEIVING), None)
        move.into, move.act = received or (None, "")
    if not verbs and move.to is not None and move.to.after in ("to", "into"):
        move.act = "move"  # "A: 300 worms to C"
    if arrow is not None:
        move.act = "move"
        if move.source is None and move.head is None:
            move.source = c.sketch.starting("place", move.end)
    return move


def _leaves(c: Context, place: Place) -> bool:
    """ "out of A", "from A": not "half of A"."""
    return place.after in _FROM and (
        place.after != "of" or c.word(place.start - 2) in ("out", "off", "the", "of")
    )


def _reached(place: Place, move: _Move) -> bool:
    if place.after not in _INTO:
        return False
    led = move.into is not None and move.into.end <= place.start  # "I put in the top one | 150 worms"
    return place.start >= move.end or (led and move.source is not None)


def _arrow(c: Context, i: int) -> Place | None:
    """ "500 worms A -> B"."""
    source = c.sketch.starting("place", i)
    i = source.end if source else i
    arrow = next((n for n in (1, 2) if "".join(c.words[i : i + n]) in ("->", ">", "→")), None)
    to: Place | None = c.sketch.starting("place", i + arrow) if arrow else None
    return to


def _counted(c: Context, move: _Move, item: Item) -> bool:
    """Whether it is said how many worms go, or where to: "moved half the worms to B", "those went into B"."""
    if item.amount is not None:
        return bool(move.out or move.into or move.source or move.to or not c.here("verb"))
    some = bool(_SOME & set(before(c, item.start, 3)))
    if move.source is None and move.to is None and move.head is None:
        return False
    return (move.into is not None and bool(move.to or move.source)) or (some and move.out is not None)


def _sifted(c: Context, verbs: list[tuple[Mention, str]]) -> bool:
    """ "got 4 lb of castings and a pound of worms": both came out of the bin."""
    got = any(act in ("get", "yield") for _, act in verbs) or (
        any(act == "give" for _, act in verbs) and any(p.after == "" for p in c.clause.places)
    )
    return got and any("castings" in i.topics for i in c.items)


def _within_a_bin(c: Context, move: _Move) -> Draft | None:
    """ "50 worms moved up to it from the bottom": they stay in their bin."""
    if move.into is None or move.act not in ("move", "add", "went", "back"):
        return None
    source = _targets(c, move.source) if move.source else _bare_end(c) or _told_before(c, move)
    to = _targets(c, move.to or move.head) if move.to or move.head else c.clause.where
    if not source or not to or source[0][0] != to[0][0] or source == to or None in (source[0][1], to[0][1]):
        return None
    draft = _draft(c, "move", move, source, _state(c, move.into))
    draft.to_tier = to[0][1]
    return draft


def _told_before(c: Context, move: _Move) -> tuple[Target, ...] | None:
    """ "up into the second tray", told of the third: whence is where the note just was."""
    carried = move.act in ("move", "went", "back") and move.to is not None
    return _here_before(c) if carried else None


def _here_before(c: Context) -> tuple[Target, ...]:
    """The place that held before this clause."""
    return c.sketch.clauses[c.index - 1].where if c.index else c.clause.where


def _bare_end(c: Context) -> tuple[Target, ...] | None:
    """ "moved up to it from bottom": a tier named with no article."""
    bin_ = c.clause.where[0][0]
    for i in range(c.clause.start, c.clause.end - 1):
        rank = {"top": TOP, "bottom": BOTTOM}.get(c.words[i + 1])
        if c.words[i] == "from" and rank:
            return ((bin_, c.position(rank, bin_)),)
    return None


def _dropped(c: Context, item: Item, way: str) -> bool:
    """ "500 worms in", "200 worms out for bait": no verb."""
    return item.amount is not None and c.word(item.end) == way and c.word(item.end + 1) in _ENDS


def _drafts(c: Context, move: _Move, sifted: bool) -> Iterator[Draft]:
    """The removal and the adding that one move is."""
    out = _targets(c, move.source)
    if out is None and move.out is not None and move.to is not None:
        out = _targets(c, move.head) or _here_before(c)  # "7 kg recovered, all into bed 3"
    if move.source or move.out or sifted:
        yield _draft(c, "worms_removed", move, out, _state(c, move.out or move.into))
    elif (left := _left_unsaid(c, move)) is not None:
        yield _draft(c, "worms_removed", move, left, _state(c, move.into))
    to = _targets(c, move.to)
    if to is not None and (move.into or move.out or move.source or move.act):
        yield _draft(c, "worms_added", move, to, _state(c, move.into))
    elif move.source and move.into is None and (fresh := _just_started(c)) is not None:
        yield _draft(c, "worms_added", move, fresh)
    elif move.into is not None and not sifted and (move.act != "move" or move.source or move.head):
        here = _targets(c, move.head) or (_here_before(c) if move.source else c.clause.where)
        if here != out:
            yield _draft(c, "worms_added", move, here, _state(c, move.into))


def _just_started(c: Context) -> tuple[Target, ...] | None:
    """ "started bin C: coir, a pound of worms out of A": they go into the new bin."""
    return next(
        (d.where or d.clause.where for d in c.drafts[-6:] if d.kind == "start" and lately(c, d, 2)), None
    )


def _left_unsaid(c: Context, move: _Move) -> tuple[Target, ...] | None:
    """ "bin A: 200 worms moved to C", "60 lb of worms off the screen went to B": whence is told before."""
    told = move.amount is not None or (_SOME | _THOSE) & set(before(c, move.start, 3))
    if move.to is None or move.act not in _CARRYING or not told:
        return None
    if any(d.kind == "worms_removed" and lately(c, d, 2) for d in c.drafts[-3:]):
        return None
    left, to = _targets(c, move.head) or _here_before(c), _targets(c, move.to)
    return left if left[0][0] is not None and to and left[0][0] != to[0][0] else None


def _elliptical(c: Context, verbs: list[tuple[Mention, str]]) -> list[Draft]:
    """ "2 lb from bin 5", "pulled 500 -> hatch bin": of worms spoken of just before."""
    last = next((d for d in reversed(c.drafts[-3:]) if d.kind in _OF_WORMS and lately(c, d, 2)), None)
    if last is None or last.item is None or c.free() or any(act in _TRADING for _, act in verbs):
        return []
    for span in c.unused():
        if span.unit not in _MEASURES or span.currency or (span.unit is None and span.best < _MANY):
            continue
        move = _ends(c, _Move(last.item, span, span.start, span.end), verbs)
        move.source = next((p for p in c.clause.places if _leaves(c, p) and 0 < p.start - span.end < 4), None)
        if not (move.source or move.to) or (verbs and not (move.out or move.into)):
            continue
        c.use(span)
        return list(_drafts(c, move, False))
    return []


_OF_WORMS = frozenset(("worms_removed", "worms_added", "worm_estimate"))


def _draft(
    c: Context, kind: str, move: _Move, where: tuple[Target, ...] | None, state: State = "done"
) -> Draft:
    amount = quantity(move.amount)
    told = last_told(c) if amount is None and c.word(move.start - 1) in _THOSE else None
    amount = told[1] if told else amount
    return Draft(
        kind, move.start, move.end, c.clause, item=move.name, amount=amount, where=where, state=state
    )


def _state(c: Context, verb: Mention | None) -> State:
    return "done" if verb is None else state_at(c, verb.start)


def _targets(c: Context, place: Place | None) -> tuple[Target, ...] | None:
    """The targets of one place of the clause."""
    if place is None:
        return None
    targets: tuple[Target, ...] = c.sketch.walk.within(place, c.clause)
    return targets
