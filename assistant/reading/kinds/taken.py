"""What comes out of a bin with nothing named: a measure taken out, a tray emptied or pulled."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft, quantity
from assistant.reading.kinds import liquids
from assistant.reading.kinds.before import POINTING, lately
from assistant.reading.kinds.denials import denied, state_at
from assistant.reading.kinds.drafting import NAMED
from assistant.reading.kinds.figures import READINGS, VOLUMES, claim
from assistant.reading.kinds.governing import act_of, aside
from assistant.reading.kinds.near import verb_values
from assistant.reading.sketch import Mention

_OUT = frozenset("out off from sieve screen fine finished sifted".split())
_TRAY = POINTING | {"tray", "one", "thing", "lot"}
_NO_CASTINGS = READINGS | {"piece", "spray", "min", "pH", "slice", "sheet"}
_AMOUNTING = frozenset("it that is was 's came made weighed makes comes call all".split())
_SUMMING = (["i", "make"], ["came", "to"], ["comes", "to"], ["in", "all"], ["all", "told"], ["makes", "it"])
_WEIGHING = frozenset("weigh measureact arrive see bring other".split())
_EMPTY_ONE = tuple([noun, w] for noun in ("one", "tray") for w in ("back", "on", "goes", "now", "up", "went"))
_REACH = 8  # words between a verb and its measure
_READY = 0.75  # of the way from food to castings, as the levels of progress tell it


def measure_out(c: Context, verb: Mention) -> Draft | None:
    """ "got ~3 qt out of it", "pulled five cups": a measure taken out with nothing named is castings."""
    span = next((a for a in c.unused() if _loose(a) and _near(c, a, verb)), None)
    if span is None or not (c.has(_OUT, verb.start) or verb.value in ("take", "yield", "collect", "give")):
        return None
    c.use(span)
    draft = Draft("harvest", verb.start, span.end, c.clause, state_at(c, verb.start), amount=quantity(span))
    if span.unit in VOLUMES and liquids.leachate_before(c):
        draft.kind = "drain"
    else:
        draft.doubts = ("nothing was named: taken as castings",)
    draft.item = NAMED[draft.kind]
    return draft


def _loose(span: AmountSpan) -> bool:
    """Whether an amount may be one of castings: a measure, and no reading."""
    return span.unit is not None and span.unit not in _NO_CASTINGS and not span.currency


def _near(c: Context, span: AmountSpan, verb: Mention) -> bool:
    """ "pulled five cups", "three pints fell out", "1 kg sieved off"."""
    if span.end == verb.start:
        return verb.value in ("yield", "sieve") or c.word(verb.end) in _OUT
    return 0 <= span.start - verb.end <= _REACH


def came_to(c: Context) -> Iterator[Draft]:
    """ "... out it came | it's two gallons I'd say", "came to 14 kg": how much the harvest just told was."""
    last = next((d for d in reversed(c.drafts[-3:]) if d.kind == "harvest"), None)
    said = c.words[max(0, c.clause.start - 2) : c.clause.end]
    summed = any(said[k : k + 2] in _SUMMING for k in range(len(said)))
    if last is None or last.amount is not None or not lately(c, last, 8 if summed else 2):
        return
    if any(i.topic != "castings" for i in c.items):
        return
    if not (_AMOUNTING & set(said)) or set(verb_values(c)) - _WEIGHING:
        return
    span = claim(c, _loose)
    if span is not None:
        last.amount = quantity(span)
    yield from ()


def put_off(c: Context) -> Iterator[Draft]:
    """ "tray four is ready | but that'll have to wait for Saturday": a harvest to come."""
    ready = next((d for d in reversed(c.drafts[-2:]) if d.kind == "progress" and lately(c, d, 2)), None)
    if ready is None or (ready.level or 0) < _READY or c.items or not c.clause.days:
        return
    said = c.words[c.clause.start : c.clause.end]
    waits = "wait" in said or "waits" in said
    for_then = (
        not c.here("verb") and said[:1] in (["that"], ["it"], ["this"], ["so"], ["but"]) and "for" in said
    )
    if (waits or for_then) and {"that", "it", "this", "that'll", "it'll"} & set(said):
        where = ready.where or ready.clause.where
        yield Draft(
            "harvest", c.clause.start, c.clause.end, c.clause, "planned", NAMED["harvest"], where=where
        )


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
    if c.words[verb.start] == "empty" and c.words[verb.end : verb.end + 2] in _EMPTY_ONE:
        return False  # "empty one back on top"
    return (act == verb.value == "empty" and c.words[verb.start].startswith("empt")) or tray_tipped(c, verb)


def tray_tipped(c: Context, verb: Mention) -> bool:
    """ "tipped out the bottom tray": no liquid is let off."""
    tipped = c.words[verb.start].startswith("tip") and verb.value in ("drain", "empty")
    return tipped and any(p.tiers and 0 <= p.start - verb.end <= 1 for p in c.clause.places)


def _pulling(c: Context, act: str) -> bool:
    """Whether something is taken that was just told to be ready."""
    if act not in ("take", "takeout", "harvest", "comeout") and not (
        act == "add" and "out" in c.words[c.clause.start : c.clause.end]
    ):
        return False
    return any(d.kind == "progress" and (d.level or 0) >= _READY for d in c.drafts[-2:])


def _of_a_tray(c: Context, verb: Mention) -> bool:
    """ "emptied it", "got emptied", "emptied tray two"."""
    led = verb.value == "comeout" and c.has(_TRAY, c.clause.start, verb.end)
    if led or c.has(_TRAY, verb.end, verb.end + 4) or c.word(verb.start - 1) in ("got", "gets", "be", "was"):
        return True
    return any(p.tiers for p in c.clause.places)
