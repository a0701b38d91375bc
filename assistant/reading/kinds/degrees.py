"""Whether a bare number is a temperature: "bed temp 74", "it's ninety four in there"."""

from __future__ import annotations

from collections.abc import Callable

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context
from assistant.reading.kinds.near import before, is_of
from assistant.reading.scale import metric

_HEAT = frozenset(
    "temp temperature temperatures thermometer thermostat probe probe's degrees gauge reading reads "
    "warmer cooler colder hotter "
    "warm cold hot heat core celsius fahrenheit holding steady read t tmp".split()
)
_COLD = frozenset(("night", "overnight", "below", "freezing"))
_NIGHT = frozenset(("night", "overnight"))
_COUNTING = frozenset(("odd", "of", "worms", "%"))
_SAID = frozenset(("'s", "is", "was", "at", "rm"))
_ENDS = frozenset(("", ",", "."))
_STANDING = frozenset(
    "'s is was at reading steady stood in rm room out of to down up around about still holding only "
    "near".split()
)
_OUT_AND_IN = frozenset("in out outside on down here up".split()) | {""}
_IN_THE_BED = frozenset("there here bin the bed tray it tier".split())
_MOVES = frozenset(
    "dropped fallen fell risen rose climbed cooled warmed gone got down up back come gotten dropping "
    "crept".split()
)
_BED = frozenset(("bed", "bedding", "core", "heart"))
_IN_FRONT = frozenset(("bed", "bedding", "core", "inside", "center"))
_CONTENT = frozenset("fine good ok okay steady perfect nice".split())
_TOWARDS = frozenset("under below at to over above around near".split())
_WARMTH = frozenset(("hot", "cold", "warm", "cool", "cooler", "warmer", "chilly"))
_FELT = frozenset(("hot", "cold", "warm", "cool", "at", "on", "around"))
_POINTED = frozenset("it that this one middle core centre center heart end".split())
_GOES_ON = frozenset("in today now this right so which and but again".split())
_HOLDING = frozenset("hot cold running sitting holding steady down up".split())
_PROBED = frozenset("inside core bedding bed probe heart center centre".split())
_SAYING_IT = tuple(
    said.split()
    for said in (
        "it said",
        "it read",
        "it says",
        "it reads",
        "it showed",
        "it 's",
        "it is",
        "it was",
        "they 're",
        "they are",
        "they were",
        "that 's",
    )
)
_WIDEST = 0.45
"""A range wider than that share of its middle is of no bed; "about" is two fifths wide (contract 5.7)."""
_PASSED_OVER = ("opener", "filler", "and", "adverb", "conj")
_HE_SHE_IT = frozenset("it she he they that this".split())
_OUT = frozenset(("out", "outside", "outdoors"))
_SHORT = 4
_CHILLY = 10
_FEW = 4
"""Number words below this count things or stand for them: "a quick one", "plus two"."""
_LEAD = 5
_APART = 5
_SPREAD = 30
_STANDS = frozenset(
    "at on to stood settled sitting sits sat standing holding held hovering running dropped fell rose crept "
    "climbed cooled warmed down up around steady reads says showing by and had".split()
)
_WARM, _HOT = 38, 45
"""Figures from here on (degF) are likelier a temperature than a count."""


def bare_degrees(c: Context, span: AmountSpan) -> bool:
    """Whether a number with no unit is a temperature: something beside it says so."""
    if not _plausible(c, span) or _counts(c, span):
        return False
    return any(sign(c, span) for sign in _SIGNS)


def _plausible(c: Context, span: AmountSpan) -> bool:
    """Whether a bin or a room can be as warm or as cold as that."""
    if span.high - span.low > _WIDEST * max(span.best, 1):
        return False
    if 0 < span.best < 1 or (0 <= span.best < _FEW and not c.word(span.start)[:1].isdecimal()):
        return False
    cold = (c.has(_COLD) or (c.here("room") and not _FEW <= span.best < _CHILLY)) and span.best > -40
    return 20 <= span.best <= 120 or cold or (-30 < span.best < 60 and metric(c.sketch))


def _counts(c: Context, span: AmountSpan) -> bool:
    """Whether the number counts things; "bedding 74" does not."""
    if c.word(span.start - 1) in _SAID and c.sketch.ending("room", span.start - 1) is not None:
        return False  # "basement's 58, bedding ..."
    if any(i.amount is span and not (is_of(i, "bedding") and i.end <= span.start) for i in c.items):
        return True
    return c.sketch.starting("thing", span.end) is not None or not _COUNTING.isdisjoint(
        c.words[span.end - 1 : span.end + 1]
    )


def paired(c: Context, span: AmountSpan) -> bool:
    """ "T 72/68": the room's figure, behind the bed's."""
    if c.word(span.start - 1) != "/":
        return False
    return any(d.kind == "temperature" and d.end == span.start - 1 for d in c.drafts[-1:])


def _by_instrument(c: Context, span: AmountSpan) -> bool:
    return bool(c.here("instrument")) or c.has(_HEAT) or _still_measuring(c, span)


def _still_measuring(c: Context, span: AmountSpan) -> bool:
    """ "stuck the probe in | and it's ninety four": "it is", just after an instrument."""
    if c.index == 0 or (c.word(span.end) not in _ENDS | {"in", "now"} and span.end < c.clause.end):
        return False
    passed_over = ("opener", "filler", "and", "adverb")
    placed = {i for p in c.clause.places for i in range(p.start, p.end)}
    front = max(placed, default=-1)
    lead = [
        c.words[i]
        for i in range(c.clause.start, span.start)
        if i not in placed
        and not c.vocabulary.role(c.words[i], *passed_over)
        and not (i < front and c.vocabulary.role(c.words[i], "prep", "det"))
    ]
    while len(lead) > 2 and lead[-1] in _STANDS:
        lead.pop()  # "it's settled on eighty four"
    last = c.sketch.clauses[c.index - 1]
    told = bool(c.sketch.within("instrument", last.start, last.end))
    told = told or any(d.kind == "temperature" and d.clause is last for d in c.drafts[-1:])
    return lead in _SAYING_IT and bool(told or (_PROBED | _WARMTH) & set(c.words[last.start : last.end]))


def _by_room(c: Context, span: AmountSpan) -> bool:
    """ "garage 54", "54 out in the garage": a room stands beside the number and nothing comes between."""
    rooms = c.here("room")
    if not any(abs(m.start - span.end) <= 4 or abs(span.start - m.end) <= 3 for m in rooms):
        return False
    touching = any(m.start == span.end or m.end == span.start for m in rooms)
    joined = c.word(span.start - 1) in _STANDING or c.word(span.end) in _OUT_AND_IN
    return touching or joined or _leads(c, span)


def _leads(c: Context, span: AmountSpan) -> bool:
    """Whether only openers stand before the figure in its clause."""
    lead = c.words[c.clause.start : span.start]
    return all(c.vocabulary.role(w, "opener", "filler", "conj", "and") for w in lead)


def _inside(c: Context, span: AmountSpan) -> bool:
    """ "62 inside", "58 in the bed"."""
    following = c.word(span.end)
    if following == "inside" and span.best >= _WARM:
        return True
    if following == "at" and span.end + 1 < c.clause.end:  # "15 at the heart of it"
        return bool(_PROBED & set(c.words[span.end + 1 : min(span.end + 4, c.clause.end)]))
    return following in ("in", "inside") and c.word(span.end + 1) in _IN_THE_BED


def _last(c: Context, span: AmountSpan) -> bool:
    """Whether nothing more is told after the figure in its clause."""
    return span.end >= c.clause.end or c.word(span.end) in _ENDS


def _after_place(c: Context, span: AmountSpan) -> bool:
    """ "top tray 71", "north is seventy two"."""
    ended = _last(c, span) or c.word(span.end) == "in"
    named = span.start - (c.vocabulary.role(c.word(span.start - 1), "copula") and span.best >= _WARM)
    return ended and any(p.end in (span.start, named) for p in c.clause.places)


def _after_colon(c: Context, span: AmountSpan) -> bool:
    """ "A: 71, B: 69"."""
    short = c.clause.end - c.clause.start < 9
    listed = c.word(span.start - 1) == ":" and c.word(span.end) in _ENDS | {";"}
    return short and listed and span.best >= _WARM


def _moved(c: Context, span: AmountSpan) -> bool:
    """ "dropped to 48"."""
    lead = c.words[max(c.clause.start, span.start - 4) : span.start - 1]
    if c.word(span.start - 1) != "to" or not _MOVES & set(lead):
        return False
    return span.best >= _WARM or metric(c.sketch) or c.has(_NIGHT)


def _of_bed(c: Context, span: AmountSpan) -> bool:
    """ "the bed was 72 this morning", "core 64"."""
    if c.word(span.start - 1) in _IN_FRONT and (span.best >= _WARM or metric(c.sketch)):
        return True
    if not _BED & set(before(c, span.start, 9)):
        return False
    fed = any(i.end <= span.start and i.amount is None and i.topic == "food" for i in c.items)
    return not fed and bool(span.best >= _HOT or metric(c.sketch) or span.best % 1)


def _content(c: Context, span: AmountSpan) -> bool:
    """ "tray one fine, 71"."""
    told = c.word(span.start - 1) in _CONTENT and _last(c, span)
    return told and span.best >= _HOT and bool(c.clause.places)


def _foreseen(c: Context, span: AmountSpan) -> bool:
    """ "I'd expect it under thirty by Monday", just after a temperature."""
    if c.clause.stance != "expected" or c.word(span.start - 1) not in _TOWARDS:
        return False
    floor = c.sketch.clauses[max(0, c.index - 2)].start
    return any(d.kind == "temperature" and d.clause.start >= floor for d in c.drafts)


def _felt(c: Context, span: AmountSpan) -> bool:
    """ "running hot 88", "sitting at 60", "the tub's at 70"."""
    last, lead = c.word(span.start - 1), c.word(span.start - 2)
    if (last in _FELT and lead in _HOLDING) or (last == "at" and lead in _CONTENT and c.clause.places):
        return True
    placed = any(p.end <= span.start - 2 for p in c.clause.places) or c.word(span.start - 3) in _POINTED
    standing = last == "at" and c.vocabulary.role(lead, "copula") and placed
    return standing and span.best >= _WARM and (_last(c, span) or c.word(span.end) in _GOES_ON)


def _outside(c: Context, span: AmountSpan) -> bool:
    """ "it's nine out", "39 outside"."""
    said = c.vocabulary.role(c.word(span.start - 1), "copula") or _leads(c, span)
    return said and c.word(span.end) in _OUT and _nothing_counted(c, span.end + 1)


def _standing(c: Context, span: AmountSpan) -> bool:
    """ "the tub stood at 47", "crate 68 with the mat under it": said of a bin and nothing else."""
    least = 8 if metric(c.sketch) else _WARM
    if span.best < least or span.unit is not None or not _nothing_counted(c, span.end):
        return False
    i = span.start - 1
    while i >= c.clause.start and span.start - i <= _LEAD and _leads_on(c, i):
        i -= 1
    place = c.sketch.covering("place", i)
    return place is not None and (i < span.start - 1 or span.best >= _HOT or metric(c.sketch))


def _pronoun(c: Context, span: AmountSpan) -> bool:
    """ "the tote was at 65 yesterday | and it's 69 today", "Mabel first | she's 64"."""
    least = 8 if metric(c.sketch) else _HOT
    lead = [w for w in c.words[c.clause.start : span.start] if not c.vocabulary.role(w, *_PASSED_OVER)]
    while len(lead) > 2 and lead[-1] in _STANDS:
        lead.pop()
    said = len(lead) == 2 and lead[0] in _HE_SHE_IT and c.vocabulary.role(lead[1], "copula")
    if not said or span.best < least or span.unit is not None or not _nothing_counted(c, span.end):
        return False
    last = c.sketch.clauses[max(0, c.index - 1)]
    told = any(d.kind == "temperature" and d.clause is last for d in c.drafts[-4:])
    return told or bool(last.places and last.end - last.start <= _SHORT)


def _leads_on(c: Context, i: int) -> bool:
    """Whether a word may stand between a bin and its figure."""
    return c.word(i) in _STANDS or c.vocabulary.role(c.word(i), "copula", "adverb", "filler")


def _nothing_counted(c: Context, i: int) -> bool:
    """Whether what follows a figure is no noun that it could count."""
    word = c.word(i)
    if i >= c.clause.end or not word.isalpha() or c.sketch.starting("place", i) is not None:
        return True
    return c.vocabulary.role(word, "prep", "and", "conj", "subject", "adverb", "filler", "det", "pronoun")


def _another(c: Context, span: AmountSpan) -> bool:
    """ "29 at the top, 25 down deep", "73 against 69": one more, just after a temperature."""
    told = next(
        (d for d in reversed(c.drafts[-2:]) if d.kind == "temperature" and d.clause is c.clause), None
    )
    if told is None or told.amount is None or span.start - told.end > _APART or span.unit is not None:
        return False
    near = abs(span.best - told.amount.best) <= _SPREAD
    return near and _nothing_counted(c, span.end)


def _alone(c: Context, span: AmountSpan) -> bool:
    """ "64/58": the bed's and the room's, with no other word."""
    pair = c.word(span.end) == "/" and c.sketch.starting("amount", span.end + 1) is not None
    return pair and span.start == c.clause.start and span.best >= _WARM and c.clause.end - span.end <= 2


def _at_another_time(c: Context, span: AmountSpan) -> bool:
    """ "the tub is at 48, | was 52 on Monday"."""
    told = any(d.kind == "temperature" and d.clause.end >= c.clause.start - 1 for d in c.drafts[-1:])
    return told and span.start == c.clause.start + 1 and c.words[c.clause.start] in ("was", "were")


_SIGNS: tuple[Callable[[Context, AmountSpan], bool], ...] = (
    paired,
    _at_another_time,
    _alone,
    _another,
    _standing,
    _pronoun,
    _outside,
    _by_instrument,
    _by_room,
    _inside,
    _after_place,
    _after_colon,
    _of_bed,
    _moved,
    _content,
    _felt,
    _foreseen,
)
