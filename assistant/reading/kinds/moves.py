"""What is left of a harvest and goes to another tray: "the rest went back in the upper tray"."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.before import lately
from assistant.reading.kinds.denials import denied
from assistant.reading.kinds.figures import claim
from assistant.reading.kinds.governing import act_of

_LEFT = frozenset("rest remainder leftovers remains".split())
_CARRYING = frozenset("went back move add give".split())
_INTO = frozenset("in into to on onto up".split())
_REACH = 4  # words from the start of the clause to what is left


def rest_moved(c: Context) -> Iterator[Draft]:
    """A move of what no sieve let through, from the tray just harvested to another of its bin."""
    harvest = next((d for d in reversed(c.drafts[-3:]) if d.kind == "harvest" and lately(c, d, 3)), None)
    if harvest is None or c.items:
        return
    said = c.words[c.clause.start : c.clause.start + _REACH]
    verb = next((v for v in c.here("verb") if act_of(c, v) in _CARRYING and not denied(c, v.start)), None)
    place = next((p for p in c.clause.places if p.tiers and p.after in _INTO), None)
    if verb is None or place is None or not _LEFT & set(said):
        return
    left, to = (harvest.where or harvest.clause.where)[0], c.sketch.walk.targets(place)[0]
    if left[0] != to[0] or left[1] == to[1] or to[1] is None:
        return
    c.clause.used.update(range(verb.start, verb.end))
    amount = quantity(claim(c, lambda a: a.unit and not a.currency))
    draft = Draft("move", c.clause.start, place.end, c.clause, amount=amount, where=(left,))
    draft.to_tier = to[1]
    yield draft
