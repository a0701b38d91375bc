"""Temperature of the bed or of the room, and which of the two a figure is said of."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft
from assistant.reading.kinds.degrees import bare_degrees, paired
from assistant.reading.kinds.near import figure
from assistant.reading.scale import scale

_DEGREES = frozenset(("degF", "degC", "degree"))
_BED = frozenset("inside core bedding bed probe bin tower tray heart middle center centre".split())
_ALSO_OF_ROOMS = frozenset(("middle", "bin"))
_WEATHER = frozenset("below zero frost weather night overnight".split())
_LEADING_OUT = frozenset(("in", "on", "under", "out"))
_APART = frozenset(("and", ",", "but", "while"))
_CELSIUS = frozenset(("celsius", "centigrade"))
_FAHRENHEIT = frozenset(("fahrenheit",))
_WHERE = frozenset(("here", "there", "in", "at", "below"))
_BY = frozenset(("by",))
_MORE = frozenset(
    "warmer cooler colder hotter higher lower more less up down above below off difference apart".split()
)
_MOVED = frozenset("rose risen dropped fallen fell gained lost climbed slipped jumped swing".split())
_FAR = 99


def temperature(c: Context) -> Iterator[Draft]:
    """Degrees of the bed or of the room; a bare number where an instrument or a room is named beside it."""
    for span in c.amounts:
        if span.start in c.clause.used or span.currency:
            continue
        if span.unit not in _DEGREES and not (span.unit is None and bare_degrees(c, span)):
            continue
        if _cups(c, span):
            continue
        if _difference(c, span):
            c.use(span)
            continue
        c.use(span)
        air = _of_the_air(c, span)
        amount = figure(span, _scale(c, span))
        item = "air" if air else "bed"
        yield Draft("temperature", _start(c, span), span.end, c.clause, item=item, amount=amount, whole=air)


def _cups(c: Context, span: AmountSpan) -> bool:
    """ "sold 12c castings": cups."""
    counted = c.sketch.starting("thing", span.end) is not None
    return counted and span.unit == "degC" and c.word(span.end - 1)[-1:] == "c"


def _difference(c: Context, span: AmountSpan) -> bool:
    """ "warmer by about five degrees", "three degrees up on Sunday": a change, and no reading."""
    more = c.word(span.end) in _MORE and c.word(span.end + 1) not in _WHERE
    if c.word(span.start - 1) in _BY or more or _from_before(c, span):
        return True
    return c.word(span.start - 1) in _MOVED and c.word(span.start - 2) not in ("at", "is", "was")


def _from_before(c: Context, span: AmountSpan) -> bool:
    """ "72, up from 68": what it was, on a day that is not said."""
    was = c.words[max(0, span.start - 2) : span.start] in (["up", "from"], ["down", "from"])
    return was and not any(0 <= d.start - span.end <= 2 for d in c.clause.days)


def _scale(c: Context, span: AmountSpan) -> str:
    if span.unit in (None, "degree"):
        if c.has(_CELSIUS) or c.has(_FAHRENHEIT):
            return "degC" if c.has(_CELSIUS) else "degF"
        return scale(c.sketch, span)
    return str(span.unit)


def _of_the_air(c: Context, span: AmountSpan) -> bool:
    """Whether the figure is the room's: the nearest word for a room or for the bed decides."""
    if paired(c, span) or _out_there(c, span) or _room_is(c, span) or _about_us(c, span):
        return True
    places = {i for p in c.clause.places for i in range(p.start, p.end)}
    rooms = {i for m in c.here("room") for i in range(m.start, m.end)}
    best, air = _FAR, False
    clause = range(c.clause.start, c.clause.end)
    for i in clause:
        if i >= span.end and best < _FAR and c.words[i] in _APART:
            break
        distance = i - span.end + 1 if i >= span.end else span.start - i
        if span.start <= i < span.end or distance >= best:
            continue
        if i in places or c.words[i] in _BED:
            if not (c.words[i] in _ALSO_OF_ROOMS and i in rooms):
                best, air = distance, False
        elif i in rooms:
            best, air = distance, True
    if best == _FAR and c.index and _out_here(c):
        return True
    inside = best == _FAR and any(c.words[i : i + 2] == ["in", "there"] for i in clause)
    return (c.has(_WEATHER) and not inside) if best == _FAR else air


def _out_here(c: Context) -> bool:
    """ "it's hot out here | it's eighty eight": the clause before tells where."""
    last = c.sketch.clauses[c.index - 1]
    words = c.words[last.start : last.end]
    return any(words[i : i + 2] in (["out", "here"], ["out", "there"]) for i in range(len(words)))


def _room_is(c: Context, span: AmountSpan) -> bool:
    """ "the basement's 58": the room is the subject, and no bin is named by it."""
    i = span.start - 1
    room = c.sketch.ending("room", i) is not None
    return room and c.vocabulary.role(c.word(i), "copula") and c.sketch.covering("place", i - 1) is None


def _about_us(c: Context, span: AmountSpan) -> bool:
    """ "39 out", "it's nineteen down here": where the keeper stands."""
    told = c.words[span.end : min(span.end + 2, c.clause.end)]
    outside = told[:1] in (["outside"], ["outdoors"]) or (told[:1] == ["out"] and told[1:] != ["of"])
    here = told[1:] == ["here"] and told[0] in ("down", "out", "up", "over", "round")
    return outside or here


def _out_there(c: Context, span: AmountSpan) -> bool:
    """ "54 in the garage": the figure leads straight to a room, and to no bin."""
    return (
        c.word(span.end) in _LEADING_OUT
        and any(m.start - span.end in (1, 2) for m in c.here("room"))
        and not any(p.start - span.end in (1, 2) for p in c.clause.places)
    )


def _start(c: Context, span: AmountSpan) -> int:
    """Where what is told of a figure begins: at the instrument, room or bin just before it."""
    named = [*c.here("instrument"), *c.here("room"), *c.clause.places]
    near: list[int] = [m.start for m in named if m.end <= span.start and span.start - m.end <= 4]
    return min([span.start, *near])
