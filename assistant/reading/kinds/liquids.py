"""Water in and leachate out, where no thing is named: a tap, a sump, a hose, sprays."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds.before import POINTING, clause_before
from assistant.reading.kinds.denials import denied, state_at
from assistant.reading.kinds.drafting import NAMED
from assistant.reading.kinds.figures import SPRAY, VOLUMES, amount_for, claim
from assistant.reading.sketch import Item, Mention

# Words that only turn the reading of an act, not names of things: hence here and not in the lexicon.
_SUMP = frozenset("tap spigot sump reservoir valve spout collector catch".split())
_PAN = _SUMP | {"pan", "drip"}
_LIQUID = frozenset(
    "tap spigot sump reservoir pan tray liquid juice drain leachate base collector valve tea bottom".split()
)
_WET = _PAN | {"liquid", "leachate", "jug"}
_STILL = _SUMP | {"pan", "liquid"}
_HOSES = frozenset("hose barrel tank watering tap rain sprayer".split())
_POURED = VOLUMES | {"oz"}
_GIVING = frozenset(("give", "pour", "went"))
_LETTING = frozenset("comeout have get yield drain pour empty collect".split())


def drained(c: Context) -> Iterator[Draft]:
    """Liquid out of a tap or found in a sump, with no verb for it: "400 ml out the tap"."""
    sump = next((i for i in range(c.clause.start, c.clause.end) if c.words[i] in _SUMP), None)
    if sump is None and _after_the_tap(c):
        sump = c.clause.start
    if sump is None and not any(v.value == "drain" for v in c.here("verb")):  # "leachate 1/2 pint"
        sump = next((i.start for i in c.free() if "leachate" in i.topics and i.amount), None)
    if sump is None or not _lets(c, sump):
        return
    told = [i.amount for i in c.free() if i.amount and _a_liquid(i)]
    spans = [a for a in (*c.unused(), *told) if a.unit in _POURED - {"bucket", "scoop"}]
    span = min(spans, key=lambda a: abs(a.start - sump), default=None)
    if span is not None:
        c.use(span)
        c.taken.update(i.start for i in c.items if i.amount is span)
        yield Draft(
            "drain", span.start, span.end, c.clause, item=NAMED["drain"], amount=amount_for("drain", span)
        )


def _lets(c: Context, sump: int) -> bool:
    """Whether the clause tells of letting liquid off: by its verb, by none, or by a tap that gave it."""
    verbs = c.here("verb")
    given = any(v.value in _GIVING and v.start > sump for v in verbs)
    return not verbs or given or any(v.value in _LETTING for v in verbs)


def _after_the_tap(c: Context) -> bool:
    """ "opened the tap | and got two cups of tea", "dripping into the jar | about 400 ml"."""
    before = clause_before(c)
    if before is None or not any(c.words[i] in _SUMP for i in range(before.start, before.end)):
        return False
    if any(d.kind in ("drain", "water") and d.clause is before for d in c.drafts):
        return False
    others = [i for i in c.free() if not _a_liquid(i)]
    return not others and all(v.value in _LETTING | _GIVING for v in c.here("verb"))


def _a_liquid(item: Item) -> bool:
    return "leachate" in item.topics or (bool(item.things) and item.things[0].klass in ("tea", "drink"))


def sprays(c: Context) -> Iterator[Draft]:
    """Sprays and squirts with no verb are water: "mid dry -> 6 sprays"."""
    while span := claim(c, lambda a: a.unit == SPRAY):
        state = state_at(c, span.start)
        yield Draft("water", span.start, span.end, c.clause, state, NAMED["water"], quantity(span))


def sump_emptied(c: Context, verb: Mention, act: str) -> Draft | None:
    """ "emptied the drip pan, two cups"."""
    if act != "empty" or not c.has(_PAN):
        return None
    span = claim(c, lambda a: a.unit in VOLUMES)
    return Draft("drain", verb.start, verb.end, c.clause, item=NAMED["drain"], amount=quantity(span))


def hosed(c: Context, verb: Mention, act: str) -> Draft | None:
    """ "gave them 2 litres with the hose"."""
    if act not in ("give", "add", "pour") or c.free() or not c.has(_HOSES, verb.end):
        return None
    span = claim(c, lambda a: a.unit in VOLUMES and abs(a.start - verb.end) <= 5)
    if span is None:
        return None
    return Draft("water", verb.start, span.end, c.clause, item=NAMED["water"], amount=quantity(span))


def tipped_out(c: Context, verb: Mention) -> Draft | None:
    """ "the drip tray had a pint in it | I dumped that"."""
    before = clause_before(c)
    if before is None or denied(c, verb.start) or c.word(verb.end) not in POINTING or c.items:
        return None
    if not c.has(_PAN | {"drain", "drip"}, before.start, before.end) and liquid_before(c) is None:
        return None
    told = (*c.unused(), *(a for a in c.sketch.amounts if a.start in before))
    poured = (a for a in told if a.unit in _POURED)
    span = next(poured, None)
    if span is None and liquid_before(c) is None:
        return None
    return Draft("drain", verb.start, verb.end + 1, c.clause, item=NAMED["drain"], amount=quantity(span))


def liquid_here(c: Context) -> bool:
    """Whether the clause speaks of a liquid or of where it gathers."""
    return c.has(_LIQUID) or any(a.unit in _POURED for a in c.amounts)


def sump_here(c: Context) -> bool:
    """Whether the clause speaks of what is drained, so that nothing in it is a harvest."""
    return c.has(_STILL)


def liquid_before(c: Context) -> Item | None:
    """ "there's half a cup of liquid in it | so I'm pouring that off"."""
    before = clause_before(c)
    if before is None:
        return None
    spans = [a for a in c.sketch.amounts if a.start in before]
    found = [i for i in c.finder.of(before, spans, False) if "leachate" in i.topics]
    return found[-1] if found else None


def wet_before(c: Context) -> bool:
    """ "the pan was full | so I emptied it": whether the clause before (the first: this one) is wet."""
    before = clause_before(c) or c.clause
    return c.has(_WET, before.start, before.end)


def leachate_before(c: Context) -> bool:
    """Whether the clause before (the first: this one) names leachate."""
    before = clause_before(c) or c.clause
    if c.has(_SUMP, before.start, before.end):
        return True  # "opened the spigot | and got a pint out"
    things = c.sketch.within("thing", before.start, before.end)
    return any(c.vocabulary.topic(t) == "leachate" for m in things for t in m.value)
