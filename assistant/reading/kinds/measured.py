"""Readings with a figure: pH, temperature, moisture in percent, worms counted or guessed."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.reading.amounts import AmountSpan
from assistant.reading.draft import Context, Draft
from assistant.records import Amount

_DEGREES = frozenset(("degF", "degC", "degree"))
_HEAT = frozenset(
    "temp temperature temperatures thermometer thermostat probe probe's degrees gauge reading reads reads warm cold hot heat core "
    "celsius fahrenheit holding steady read".split()
)
_INSIDE = frozenset("inside core bedding bed probe bin tower tray heart middle center centre".split())
_GUESS = frozenset(
    "guess estimate est estimated figure reckon think counted count census worth population weighed about".split()
)


def ph(c: Context) -> Iterator[Draft]:
    """A pH: the word with the number nearest after it."""
    for i in range(c.clause.start, c.clause.end):
        if c.words[i] not in ("ph", "acidity"):
            continue
        span = next(
            (
                a
                for a in c.amounts
                if a.end > i and a.start <= i + 8 and a.unit in (None, "pH") and 0 < a.best <= 14
            ),
            None,
        )
        if span is None:
            continue
        c.use(span)
        yield Draft(
            "ph",
            min(i, span.start),
            max(i + 1, span.end),
            c.clause,
            amount=Amount(span.low, span.best, span.high, "pH"),
        )


def acidity_strip(c: Context) -> Iterator[Draft]:
    """ "the strip read 6.6": a strip's figure is a pH."""
    if not c.has(_STRIPS) or (c.has(frozenset(("ph", "litmus"))) and c.clause.used):
        return
    span = next(
        (
            a
            for a in c.amounts
            if a.unit is None and 3 <= a.best <= 10 and a.start not in c.clause.used and not a.currency
        ),
        None,
    )
    told = (
        any(
            c.vocabulary.role(w, "copula") or w in ("showed", "read", "turned", "went")
            for w in c.words[c.clause.start : span.start]
        )
        if span
        else False
    )
    if span is None or not told:
        return
    c.use(span)
    yield Draft("ph", c.clause.start, span.end, c.clause, amount=Amount(span.low, span.best, span.high, "pH"))


_STRIPS = frozenset(("strip", "litmus", "strips"))


def moisture_figure(c: Context) -> Iterator[Draft]:
    """Moisture in percent, said of moisture or of a meter."""
    for span in c.amounts:
        if span.unit != "percent" or not c.has(_WET):
            continue
        c.use(span)
        start = next((i for i in range(c.clause.start, span.start) if c.words[i] in _WET), span.start)
        yield Draft(
            "moisture", start, span.end, c.clause, amount=Amount(span.low, span.best, span.high, "percent")
        )


_WET = frozenset("moisture moist mst humidity meter wet damp water".split())


def temperature(c: Context) -> Iterator[Draft]:
    """Degrees of the bed or of the room; a bare number where an instrument or a room is named beside it."""
    for span in c.amounts:
        if span.start in c.clause.used or span.currency:
            continue
        degrees = span.unit in _DEGREES
        if not degrees and not (span.unit is None and _bare(c, span)):
            continue
        unit = "degF" if span.unit in (None, "degree") else str(span.unit)
        if span.unit in (None, "degree") and metric(c):
            unit = "degC"
        c.use(span)
        air = _of_the_air(c, span)
        start, end = _stretch(c, span)
        yield Draft(
            "temperature",
            start,
            end,
            c.clause,
            item="air" if air else "bed",
            amount=Amount(span.low, span.best, span.high, unit),
            whole=air,
        )


def metric(c: Context) -> bool:
    """Whether the note's own measures are metric: then bare degrees are Celsius (contract 5.16)."""
    units = {a.unit for a in c.sketch.amounts}
    if "degC" in units and "degF" not in units:
        return True
    if units & {"degF", "lb", "oz", "quart", "gallon", "inch", "pint", "cup"}:
        return False
    return bool(units & {"degC", "g", "kg", "litre", "ml", "cm"}) or c.sketch.now.tzname() == "metric"


_MOVES = frozenset(
    "dropped fallen fell risen rose climbed cooled warmed gone got down up back come gotten dropping crept".split()
)


def _bare(c: Context, span: AmountSpan) -> bool:
    cold = c.has(frozenset(("night", "overnight", "below", "freezing"))) and span.best > -40
    if (
        (not 20 <= span.best <= 120
        and not cold
        and not (-30 < span.best < 60 and metric(c)))
        or span.high - span.low > 15
    ):
        return False
    if any(
        item.amount is span
        and not (item.things and item.things[0].name == "bedding" and item.end <= span.start)
        for item in c.items
    ):
        return False
    after, before = c.word(span.end), c.word(span.start - 1)
    if any(i.start == span.end for i in c.sketch.layers.get("thing", ())) or after in ("of", "worms", "%"):
        return False
    if c.here("instrument") or c.has(_HEAT) or _still_measuring(c, span):
        return True
    rooms = c.here("room")
    near = any(abs(m.start - span.end) <= 4 or abs(span.start - m.end) <= 3 for m in rooms)
    if near and (
        before
        in (
            "'s",
            "is",
            "was",
            "at",
            "reading",
            "steady",
            "stood",
            "in",
            "rm",
            "room",
            "out",
            "of",
            "to",
            "down",
            "up",
            "around",
            "about",
            "still",
            "holding",
            "only",
            "near",
        )
        or after in ("in", "out", "outside", "on", "down", "here", "up")
        or _leads(c, span)
        or after == ""
        or any(m.start == span.end or m.end == span.start for m in rooms)
    ):
        return True
    if after == "inside" and span.best >= 38:
        return True
    inside_ = after in ("in", "inside") and c.word(span.end + 1) in (
        "there",
        "here",
        "bin",
        "the",
        "bed",
        "tray",
        "it",
        "tier",
    )
    place = any(p.end == span.start for p in c.clause.places) and after in ("", ",", ".", "in")
    if (
        before == ":"
        and after in (",", ".", "", ";")
        and c.clause.end - c.clause.start < 9
        and span.best >= 38
    ):
        return True
    moved = before == "to" and any(
        w in _MOVES for w in c.words[max(c.clause.start, span.start - 4) : span.start - 1]
    )
    near = c.words[max(c.clause.start, span.start - 9) : span.start]
    if (
        {"bed", "bedding", "core", "heart"} & set(near)
        and (span.best >= 45 or metric(c) or span.best % 1)
        and not any(i.end <= span.start and i.amount is None and i.topic == "food" for i in c.items)
    ):
        return True
    if moved and (span.best >= 38 or metric(c) or c.has(frozenset(("night", "overnight")))):
        return True
    if before in ("bed", "bedding", "core", "inside", "center") and (span.best >= 38 or metric(c)):
        return True
    if (
        before in ("fine", "good", "ok", "okay", "steady", "perfect", "nice")
        and span.best >= 45
        and c.clause.places
        and after in ("", ",", ".")
    ):
        return True
    hot = before in ("hot", "cold", "warm", "cool", "at") and c.word(span.start - 2) in (
        "hot",
        "cold",
        "running",
        "sitting",
        "holding",
        "steady",
        "down",
        "up",
    )
    return inside_ or place or hot


def _leads(c: Context, span: AmountSpan) -> bool:
    """Whether only openers stand before the figure in its clause."""
    return all(
        c.vocabulary.role(w, "opener", "filler", "conj", "and") for w in c.words[c.clause.start : span.start]
    )


def _still_measuring(c: Context, span: AmountSpan) -> bool:
    """ "stuck the probe in | and it's ninety four": "it is" with a figure, where an instrument or the bed stood just before."""
    if c.index == 0 or (c.word(span.end) not in ("", ",", ".", "in", "now") and span.end < c.clause.end):
        return False
    lead = [
        w
        for w in c.words[c.clause.start : span.start]
        if not c.vocabulary.role(w, "opener", "filler", "and", "adverb")
    ]
    before = c.sketch.clauses[c.index - 1]
    told = c.sketch.within("instrument", before.start, before.end) or (
        _INSIDE - {"middle", "tray", "bin", "tower"}
    ) & set(c.words[before.start : before.end])
    return lead in (
        ["it", "said"],
        ["it", "read"],
        ["it", "says"],
        ["it", "reads"],
        ["it", "showed"],
        ["it", "'s"],
        ["it", "is"],
        ["it", "was"],
        ["that", "'s"],
    ) and bool(told)


def elliptical(c: Context) -> Iterator[Draft]:
    """ "ph control seven point one, treatment six point three": a place and a figure repeat the reading before."""
    if c.index == 0 or not c.clause.places or len(c.amounts) != 1 or c.items:
        return
    span, before = c.amounts[0], c.sketch.clauses[c.index - 1]
    words = (
        c.clause.end
        - c.clause.start
        - (span.end - span.start)
        - sum(p.end - p.start for p in c.clause.places)
    )
    if (
        words > 2
        or span.start in c.clause.used
        or span.unit not in (None, "pH", "percent")
        or before.end < c.clause.start - 1
    ):
        return
    last = next((d for d in c.drafts[-1:] if d.kind in ("ph", "moisture", "temperature") and d.amount), None)
    kind = "ph" if c.words[before.end - 1] == "ph" else last.kind if last and last.clause is before else None
    if (
        kind is None
        or (kind == "ph"
        and span.best > 14)
        or (kind == "moisture"
        and span.unit != "percent")
        or (kind == "temperature"
        and span.best < 5)
    ):
        return
    unit = (
        "pH"
        if kind == "ph"
        else "percent"
        if kind == "moisture"
        else last.amount.unit
        if last and last.amount
        else "degF"
    )
    c.use(span)
    item = "bed" if kind == "temperature" else None
    yield Draft(
        kind,
        c.clause.start,
        span.end,
        c.clause,
        item=item,
        amount=Amount(span.low, span.best, span.high, unit),
    )


def _of_the_air(c: Context, span: AmountSpan) -> bool:
    """Whether the figure is the room's: the nearest word for a room or for the bed decides."""
    if (
        c.word(span.end) in ("in", "on", "under", "out")
        and any(m.start - span.end in (1, 2) for m in c.here("room"))
        and not any(p.start - span.end in (1, 2) for p in c.clause.places)
    ):
        return True
    places = {i for p in c.clause.places for i in range(p.start, p.end)}
    best, air = 99, False
    for i in range(c.clause.start, c.clause.end):
        distance = i - span.end + 1 if i >= span.end else span.start - i
        if i in range(span.start, span.end) or distance >= best:
            continue
        if i in places or c.words[i] in _INSIDE:
            if c.words[i] in ("middle", "bin") and any(m.start <= i < m.end for m in c.here("room")):
                continue
            best, air = distance, False
        elif any(m.start <= i < m.end for m in c.here("room")):
            best, air = distance, True
    if best == 99:
        return c.has(frozenset("below zero frost weather night overnight".split()))
    return air


def _stretch(c: Context, span: AmountSpan) -> tuple[int, int]:
    start = span.start
    for m in [*c.here("instrument"), *c.here("room"), *c.clause.places]:
        if m.end <= span.start and span.start - m.end <= 4:
            start = min(start, m.start)
    return start, span.end


_GUESSING = frozenset(
    "guess estimate est estimated figure reckon counted count census population think".split()
)
_HELD = frozenset("there here it left altogether total strong around has have about got".split())


def _guessed_before(c: Context) -> bool:
    """ "I think | there's like two hundred worms in there"."""
    if c.index == 0:
        return False
    before = c.sketch.clauses[c.index - 1]
    return before.end - before.start <= 4 and bool(_GUESSING & set(c.words[before.start : before.end]))


def worm_estimate(c: Context) -> Iterator[Draft]:
    """How many worms are thought to be in there: a weight or count of worms with a word for guessing."""
    if any(
        v.value
        in (
            "take",
            "takeout",
            "takeoff",
            "add",
            "move",
            "sell",
            "give",
            "giveaway",
            "buy",
            "worms",
            "back",
            "went",
            "scoop",
        )
        for v in c.here("verb")
    ):
        return
    for item in c.free():
        if (
            "worms" not in item.topics
            or item.amount is None
            or "escaping" in item.name
            or "dead" in item.name
            or "juvenile" in item.name
        ):
            continue
        amount = item.amount
        if amount.unit not in (None, "piece", "lb", "oz", "g", "kg", "cup", "handful"):
            continue
        weighed = amount.unit not in (None, "piece")
        if (
            not c.has(_GUESSING)
            and not _guessed_before(c)
            and not (weighed and c.has(_HELD))
            and not (amount.best >= 50 and c.has(_HELD))
        ):
            continue
        c.taken.add(item.start)
        yield Draft(
            "worm_estimate",
            min(amount.start, item.start),
            max(amount.end, item.end),
            c.clause,
            item=item.name,
            amount=Amount(amount.low, amount.best, amount.high, amount.unit or "piece"),
        )


def bare_estimate(c: Context) -> Iterator[Draft]:
    """ "est 1500 left in A", "I'd guess | the annex holds 300": a count with nothing named is of worms."""
    guessing = c.has(_GUESSING - {"think", "figure", "counted"}) or _guessed_before(c)
    if not guessing or any(i.topic == "organism" for i in c.items):
        return
    acting = any(v.value not in ("count", "have", "get", "see") for v in c.here("verb"))
    for span in c.unused():
        if acting and not _GUESSING & set(c.words[max(c.clause.start, span.start - 2) : span.start]):
            continue
        if span.unit in (None, "lb", "kg") and (span.best >= 50 or span.unit) and not span.currency:
            c.use(span)
            yield Draft(
                "worm_estimate",
                span.start,
                span.end,
                c.clause,
                item="worms",
                amount=Amount(span.low, span.best, span.high, span.unit or "piece"),
                doubts=("what was counted is not said: taken as worms",),
            )
            return
