"""What comes out of a bin with nothing named: a measure taken out, a tray emptied or pulled."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds import liquids
from assistant.reading.kinds.before import POINTING
from assistant.reading.kinds.denials import denied, state_at
from assistant.reading.kinds.drafting import NAMED
from assistant.reading.kinds.figures import MASSES, READINGS, VOLUMES, claim
from assistant.reading.kinds.governing import act_of, aside
from assistant.reading.sketch import Mention

_OUT = frozenset("out off from sieve screen fine finished sifted".split())
_TRAY = POINTING | {"tray", "one", "thing", "lot"}
_READY = 0.75  # of the way from food to castings, as the levels of progress tell it


def measure_out(c: Context, verb: Mention) -> Draft | None:
    """ "got ~3 qt out of it", "pulled five cups": a measure taken out with nothing named is castings."""
    near = (a for a in c.unused() if a.unit in VOLUMES | MASSES and 0 <= a.start - verb.end <= 8)
    span = next(near, None)
    if span is None or not (c.has(_OUT, verb.start) or verb.value in ("take", "yield", "collect")):
        return None
    c.use(span)
    draft = Draft("harvest", verb.start, span.end, c.clause, state_at(c, verb.start), amount=quantity(span))
    if span.unit in VOLUMES and liquids.leachate_before(c):
        draft.kind = "drain"
    else:
        draft.doubts = ("nothing was named: taken as castings",)
    draft.item = NAMED[draft.kind]
    return draft


def emptied(c: Context) -> Iterator[Draft]:
    """A tray emptied or pulled is a harvest, a sump a drain; litres "with the hose" are water."""
    loose = any(not aside(c, i) for i in c.free())
    for verb in c.here("verb"):
        if verb.start in c.clause.used or denied(c, verb.start):
            continue
        act = act_of(c, verb)
        out = None if loose else liquids.sump_emptied(c, verb, act) or _tray_out(c, verb, act)
        draft = out or liquids.hosed(c, verb, act)
        if draft is not None:
            yield draft
            return


def _tray_out(c: Context, verb: Mention, act: str) -> Draft | None:
    """ "emptied it, three gallons", "tray one is done | so I took it out"."""
    if liquids.sump_here(c) or not (_emptying(c, verb, act) or _pulling(c, act)) or not _of_a_tray(c, verb):
        return None
    kind = "drain" if act == "empty" and liquids.wet_before(c) else "harvest"
    span = claim(c, lambda a: a.unit and not a.currency and a.unit not in READINGS)
    return Draft(kind, verb.start, verb.end, c.clause, item=NAMED[kind], amount=quantity(span))


def _emptying(c: Context, verb: Mention, act: str) -> bool:
    """Whether the verb is "empty" itself, and no other of its sort."""
    return act == verb.value == "empty" and c.words[verb.start].startswith("empt")


def _pulling(c: Context, act: str) -> bool:
    """Whether something is taken that was just told to be ready."""
    if act not in ("take", "takeout", "harvest", "comeout") and not (
        act == "add" and "out" in c.words[c.clause.start : c.clause.end]
    ):
        return False
    return any(d.kind == "progress" and (d.level or 0) >= _READY for d in c.drafts[-2:])


def _of_a_tray(c: Context, verb: Mention) -> bool:
    """ "emptied it", "got emptied", "emptied tray two"."""
    led = verb.value == "comeout" and c.has(_TRAY, c.clause.start, verb.start)
    if led or c.has(_TRAY, verb.end, verb.end + 4) or c.word(verb.start - 1) in ("got", "gets", "be", "was"):
        return True
    return any(p.tiers for p in c.clause.places)
