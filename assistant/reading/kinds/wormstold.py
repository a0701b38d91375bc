"""Worms just told of, and where they went: "... which I put in number four", "settled them in the barrel"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft, Target, quantity
from assistant.reading.items import readable
from assistant.reading.kinds.denials import denied
from assistant.reading.recordday import day_for
from assistant.reading.sketch import Clause, Mention, Place
from assistant.records import Amount

IN = frozenset("empty add went back worms bring move get have pour release settle give drop start".split())
"""Acts that may put worms in."""

NOT_ALL = ("juvenile", "escaping", "dead")
"""Worms by a state: young, leaving or dead."""

_THEM = frozenset(("them", "em", "those", "'em"))
_WORMS = frozenset(("worms", "escaping worms", "red wigglers", "adult worms"))
_UP_TO = frozenset("in into to on onto up".split())
_SOME = 2.0
_ALL = frozenset(("all", "everything", "them", "straight", "and", "they"))
_CARRIED = frozenset(("went", "move", "back"))
_WITH_THEM = (["with", "them"], ["with", "em"], ["with", "those"], ["with", "these"])


def following(c: Context, verbs: list[tuple[Mention, str]]) -> Iterator[Draft]:
    """ "... which I put in number four", "settled them in the barrel", "in they went": worms just told of."""
    if any("worms" in i.topics for i in c.items):
        return
    within = _to_another_tier(c, verbs)
    if within is not None:
        yield within
        return
    told = last_told(c)
    if told is None:
        return
    name, amount, removed, before = told
    if removed and (now := _now_in(c)) is not None:
        where = c.sketch.walk.targets(now)
        yield Draft("worms_added", c.clause.start, now.end, c.clause, item=name, amount=amount, where=where)
        return
    if not verbs and c.word(c.clause.start) in _ALL and (all_to := _all_to(c)) is not None:
        where = _targets(c, all_to)
        yield Draft(
            "worms_added", c.clause.start, all_to.end, c.clause, item=name, amount=amount, where=where
        )
        return
    for v, act in verbs:
        if c.items and c.word(v.end) not in _THEM and c.items[0].start < v.end + 4:
            continue
        to = next((p for p in c.clause.places if p.start >= v.start), None)
        if act not in IN or denied(c, v.start) or not _said_to_go_in(c, v, act, to, removed):
            continue
        where = _targets(c, to) or (_elsewhere(c) if removed else None)
        end = max(v.end, to.end) if to else v.end + (c.word(v.end) in _THEM)
        left = c.sketch.clauses[c.index - 1].where if act in _CARRIED and amount and not removed else None
        if left and left[0][0] and where and left[0][0] != where[0][0]:
            yield Draft("worms_removed", v.start, end, c.clause, item=name, amount=amount, where=left)
        added = Draft("worms_added", v.start, end, c.clause, item=name, amount=amount, where=where)
        _same_day(c, added, before)
        yield added
        return


def _same_day(c: Context, draft: Draft, before: Clause) -> None:
    """ "on Saturday I took half a pound out of A | and settled them in B": one sentence, one day."""
    if c.clause.days or not before.days or "." in c.words[before.end : c.clause.start]:
        return
    day, _ = day_for(before, "done", c.sketch.now.date(), c.sketch.words)
    draft.day, draft.dated = day, day is not None


def _to_another_tier(c: Context, verbs: list[tuple[Mention, str]]) -> Draft | None:
    """ "some worms in it | I'll flick those back up into the middle tray": they stay in their bin."""
    seen = next((d for d in reversed(c.drafts[-2:]) if d.kind == "sighting" and d.item in _WORMS), None)
    if seen is None or not seen.level or seen.clause not in c.sketch.clauses[max(0, c.index - 2) : c.index]:
        return None
    verb = next((v for v, act in verbs if act != "see" and not denied(c, v.start)), None)
    if verb is None or not (_THEM | {"which"}) & set(c.words[c.clause.start : verb.end + 2]):
        return None
    place = next((p for p in c.clause.places if p.tiers and p.after in _UP_TO), None)
    left, to = seen.where or seen.clause.where, _targets(c, place)
    if place is None or not to or left[0][0] != to[0][0] or None in (left[0][1], to[0][1]) or left == to:
        return None
    draft = Draft("move", verb.start, place.end, c.clause, item="worms", amount=seen.amount, where=left)
    draft.to_tier = to[0][1]
    if seen.level == _SOME:  # "some worms still in it": told only to be moved
        seen.kind, seen.start, seen.end, seen.level = "move", draft.start, draft.end, None
        seen.where, seen.to_tier, seen.item = left, draft.to_tier, "worms"
        return None
    return draft


def _all_to(c: Context) -> Place | None:
    """ "7 kg of worms recovered | all into bed 3"."""
    return next((p for p in c.clause.places if p.after in ("to", "into", "in", "onto")), None)


def _now_in(c: Context) -> Place | None:
    """ "they're in A now"."""
    for place in c.clause.places:
        if "they" in c.words[c.clause.start : place.start] and place.after == "in" and not c.here("verb"):
            return place
    return None


def _elsewhere(c: Context) -> tuple[Target, ...]:
    """Where worms go that were taken out of a bin, where no place is named: a bin just set up, or unsaid."""
    fresh = next((d.where for d in reversed(c.drafts) if d.kind == "start" and d.where), None)
    return fresh or ((None, None),)


def _said_to_go_in(c: Context, v: Mention, act: str, to: Place | None, removed: bool) -> bool:
    """Whether the worms go in: a place is named, or they go "in" and are the verb's only matter."""
    if act == "start":
        return removed and c.clause.end > v.end and c.words[c.clause.end - 2 : c.clause.end] in _WITH_THEM
    theirs = c.word(v.end) in _THEM or c.word(v.start - 1) in ("they", "these", "those")
    given = act == "give" and c.word(v.end + 1) == "to"
    if removed and to is not None and not given:
        return True
    if act == "give" or not (theirs or (v.start == c.clause.start and act in ("went", "back"))):
        return False
    inward = bool({"in", "into", "onto", "on"} & set(c.words[v.start : v.end + 3])) or c.words[
        v.start - 2 : v.start
    ] == ["in", "they"]
    return to is not None or inward


def last_told(c: Context) -> tuple[str | None, Amount | None, bool, Clause] | None:
    """The worms that the two clauses before tell of: taken out, bought, or only named with a measure."""
    first = max(0, c.index - 2)
    since = c.sketch.clauses[first].start
    drafts = [d for d in c.drafts if d.start >= since and d.clause is not c.clause]
    last = next(
        (d for d in reversed(drafts) if d.kind in ("worms_removed", "worms_added", "give", "sell")), None
    )
    if last is not None and last.kind == "worms_removed":
        return last.item, last.amount, True, last.clause
    if any(d.kind in ("worms_added", "give", "sell", "remove") for d in drafts):
        return None
    for clause in reversed(c.sketch.clauses[first : c.index]):
        if clause.stance != "done":
            continue
        for item in c.finder.of(clause, readable(c.sketch.amounts, clause), False):
            plain = "worms" in item.topics and not any(state in item.name for state in NOT_ALL)
            if plain and item.amount is not None:
                return item.name, quantity(item.amount), False, clause
    return None


def _targets(c: Context, place: Place | None) -> tuple[Target, ...] | None:
    """The targets of one place of the clause."""
    if place is None:
        return None
    targets: tuple[Target, ...] = c.sketch.walk.targets(place)
    return targets
