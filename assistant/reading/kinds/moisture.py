"""How wet a bin or tier is, in words or in percent."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.near import NEGATIONS, after, before, figure, graded, spend, spent
from assistant.reading.sketch import Mention

_WET = frozenset("moisture moist mst humidity meter wet damp water m mc".split())
_TOO_MUCH = frozenset(("too", "very", "that"))
_MEASURED = frozenset(("moisture", "moist", "mst", "humidity"))
_OF_ANOTHER = frozenset("temp temps temperature thermometer probe ph air room".split())
_OF_MOISTURE = {"low": 2.0, "lowish": 2.0, "high": 4.0, "highish": 4.0}
_DEPTH = frozenset("down under beneath below underneath deeper middle inside further inches inch".split())
_SHORT = 6
_TERSE = 8
_ENDS = frozenset((".", "!", "?", "\n"))
_OF_FOOD = frozenset("gone left eaten done finished castings cast there uneaten".split())
_AFTER = frozenset((",", ".", ";", "-", "–", "which", "so", "and"))
_WARM = 38
_DEGREES = frozenset(("degF", "degC", "degree"))
_DIAL = 10
_FINE = frozenset("good fine ok okay right perfect great ideal nice lovely spot gd".split())
_NOT_FINE = frozenset(("not", "n't", "too"))
_DESCRIBING = frozenset(
    "old little brown chopped shredded torn big fresh fallen crumbled fluffy -".split(),
)
_MATERIALS = frozenset(
    "bedding stuff paper cardboard leaves sponge cloth rag towel sheet sheets sack spot hands material "
    "browns weight ones food scraps ice bits skins pieces strands shreds flakes".split()
)
_SAID_OF_BIN_TOO = frozenset(("stuff", "hands", "cardboard"))
_WETTING = frozenset(("boiled", "ran", "squeezed", "wrung", "sucked"))
_PARTITIVE = frozenset(("of", "some", "with", "more", "a", "my"))
_LAID_OUT = frozenset(("dry", "left", "set", "out"))
_DRYING = frozenset(("dry", "drying", "soaking", "soaked", "damp", "wet"))
_REACH = 10
"""Words of moisture that are further apart than this are not told together."""


def moisture_figure(c: Context) -> Iterator[Draft]:
    """Moisture in percent, said of moisture or of a meter."""
    for span in c.amounts:
        if span.unit == "percent" and c.word(span.end) in _OF_FOOD:
            continue
        if span.unit == "percent" and c.has(_WET):
            start = next((i for i in range(c.clause.start, span.start) if c.words[i] in _WET), span.start)
        elif span.unit is None and (found := _metered(c, span)) is not None:
            start = found
        elif span.unit == "percent" and _beside_degrees(c, span):
            start = span.start
        else:
            continue
        c.use(span)
        if span.best > _DIAL or span.unit == "percent":  # a dial's figure, 1 to 10, is no percentage
            yield Draft("moisture", start, span.end, c.clause, amount=figure(span, "percent"))


def _beside_degrees(c: Context, span: AmountSpan) -> bool:
    """ "Row 1: 88 F, 60 %": a percentage of nothing else, next to the warmth of a bed."""
    if c.items or any(c.here(layer) for layer in ("leftover", "progress", "verb")):
        return False
    ended = span.end >= c.clause.end or c.word(span.end) in _AFTER
    warm = (a for a in c.amounts if a.unit in _DEGREES or (a.unit is None and a.best >= _WARM))
    return any(a.end == span.start or (ended and 0 <= span.start - a.end <= 2) for a in warm)


def _metered(c: Context, span: AmountSpan) -> int | None:
    """ "moisture 62", "the moisture meter's reading 64": where the word for it stands, if it is the last."""
    for i in range(span.start - 1, max(c.clause.start, span.start - _REACH) - 1, -1):
        if c.words[i] in _MEASURED:
            return i
        if c.sketch.covering("amount", i) is not None or c.words[i] in _OF_ANOTHER or c.words[i] == ",":
            return None
    return None


def moisture(c: Context) -> Iterator[Draft]:
    """The moisture words of the clause that are said of the bin, not of a material ("dry leaves")."""
    yield from _fine(c)
    if not c.here("moisture"):
        yield from _in_series(c)
    said = [m for m in c.here("moisture") if not (_of_material(c, m) or spent(c, m) or _to_be(c, m))]
    found = [m for m in said if _level(c, m) is not None]  # "damp, not soggy" is damp
    if not found:
        return
    best = _strongest(found, c.words)
    level = _level(c, best)
    spend(c, found[0])
    spend(c, best)
    last = found[-1] if found[-1].start - found[0].end <= _REACH else best
    yield Draft("moisture", found[0].start, last.end, c.clause, level=level)


def _to_be(c: Context, m: Mention) -> bool:
    """ "let it dry a bit": what is to come of it."""
    return c.word(m.start - 1) in ("it", "them") and c.word(m.start - 2) in ("let", "letting")


def _strongest(found: list[Mention], words: list[str]) -> Mention:
    """Of words told together the one furthest from "moist", the first of equals."""
    best = found[0]
    if "moisture" in words[best.start : best.end]:
        return best  # "moisture is good, maybe a little wet by the vents"
    for m in found[1:]:
        if m.start - best.end > _REACH:
            break
        if abs(m.value - 3) > abs(best.value - 3) and m.end > m.start:
            best = m
    return best


def _level(c: Context, m: Mention) -> float | None:
    """The level that a word says with the words before it; None where a denial leaves nothing."""
    level: float = m.value
    if level in (1.0, 5.0) and graded(c, m.start, "softly"):
        level = 2.0 if level == 1.0 else 4.0  # a step towards 3 (contract 5.26)
    if not NEGATIONS & set(before(c, m.start, 3)):
        return level
    too_much = c.word(m.start - 1) in _TOO_MUCH or c.words[m.start] == "too"
    return 3.0 if level != 3 and (too_much or level in (1.0, 2.0, 4.0)) else None


def _fine(c: Context) -> Iterator[Draft]:
    """ "moisture's just right", "moisture ok", "fine for moisture"."""
    for i in range(c.clause.start, c.clause.end):
        if c.words[i] != "moisture" or any(
            abs(m.start - i) <= 6 or i in _span(m) for m in c.here("moisture")
        ):
            continue
        around = set(before(c, i, 4) if c.word(i - 1) in ("for", "on") else after(c, i + 1, 5))
        denied = bool(_NOT_FINE & around)
        level = next((_OF_MOISTURE[w] for w in around if w in _OF_MOISTURE), None)
        if level is None and _FINE & around and not denied:
            level = 3.0
        if level is not None:
            yield Draft("moisture", i, min(i + 5, c.clause.end), c.clause, level=level)
            return


def _in_series(c: Context) -> Iterator[Draft]:
    """ "T1 wet, T2 good, T3 fine": a good word for a place whose neighbours tell their moisture."""
    if c.items or c.here("verb") or c.clause.end - c.clause.start > _SHORT:
        return
    start = c.clause.places[-1].end if c.clause.places else c.clause.start
    said = next((i for i in range(start, c.clause.end) if c.words[i] in _FINE), None)
    if said is None or _NOT_FINE & set(c.words[start:said]):
        return
    if _announced(c) or _deeper(c) or (c.clause.places and _beside_moisture(c)):
        yield Draft("moisture", c.clause.start, said + 1, c.clause, level=3.0)


def _deeper(c: Context) -> bool:
    """ "it's bone dry on top | but dig down a bit | and it's perfect": the moisture further in."""
    floor = c.sketch.clauses[max(0, c.index - 2)].start
    told = any(d.kind == "moisture" and d.start >= floor for d in c.drafts[-3:])
    return told and bool(_DEPTH & set(c.words[floor : c.clause.end]))


def _announced(c: Context) -> bool:
    """ "moisture wise | I'd say it's spot on": the clause before only says what is told of."""
    last = c.sketch.clauses[c.index - 1] if c.index else None
    named = last is not None and "moisture" in c.words[last.start : last.end]
    return named and not any(d.clause is last for d in c.drafts[-2:])


def _beside_moisture(c: Context) -> bool:
    """Whether the clause just before tells moisture, or the one behind does, in the same sentence."""
    clauses = c.sketch.clauses
    near = [k for k in (c.index - 1, c.index + 1) if 0 <= k < len(clauses)]
    for k in near:
        first, last = sorted((c.clause, clauses[k]), key=lambda one: one.start)
        terse = max(one.end - one.start for one in (first, last)) <= _TERSE
        if (terse or not _ENDS & set(c.words[first.end : last.start])) and (
            c.sketch.within("moisture", clauses[k].start, clauses[k].end)
            or any(d.kind == "moisture" and d.clause is clauses[k] for d in c.drafts)
        ):
            return True
    return False


def _span(m: Mention) -> range:
    return range(m.start, m.end)


def _of_material(c: Context, m: Mention) -> bool:
    """Whether the word describes a material, or is part of a saying about something else."""
    if _made_wet(c, m) or "air" in before(c, m.start, 4):
        return True
    i = m.end
    while i < c.clause.end and c.words[i] in _DESCRIBING:
        i += 1
    said = c.vocabulary.role(c.word(m.start - 1), "copula")
    if not said and any(x.start <= i < x.end for x in c.items):
        return True
    if c.word(i) in _MATERIALS:
        return not said or (m.end - m.start == 1 and c.word(i) in _SAID_OF_BIN_TOO)
    return _partitive(c, m, i) or _laid_out(c, m)


def _made_wet(c: Context, m: Mention) -> bool:
    """ "soaked the cardboard", "wrung dry": the word tells of watering something or making it ready."""
    copula = c.vocabulary.role(c.word(m.start - 1), "copula")
    acts = {v.value for v in c.here("verb") if v.start < m.end and m.start < v.end}
    made = "prepare" in acts and not copula and m.end - m.start < 3
    return "water" in acts or made or c.word(m.start - 1) in _WETTING


def _partitive(c: Context, m: Mention, i: int) -> bool:
    """ "some damp coir", "with a wet ...": one word before something; `i` is the word that it describes."""
    one = c.word(m.start - 1) in _PARTITIVE and m.end - m.start == 1
    return one and c.word(i) not in ("", "but", "and")


def _laid_out(c: Context, m: Mention) -> bool:
    """ "left out to dry", "set it to soak", "drying on the rack"."""
    joined = c.word(m.start - 1) in ("to", "and") and c.word(m.start - 2) in _LAID_OUT
    if c.words[m.start] in _DRYING and (joined or c.word(m.start - 1) == "to"):
        return True
    return c.words[m.start : m.end] == ["drying"] and c.word(m.end) in ("on", "in")
