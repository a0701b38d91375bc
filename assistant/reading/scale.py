"""Fahrenheit or Celsius, where the note does not say which (contract 5.16)."""

from __future__ import annotations

from assistant.reading.amounts import AmountSpan
from assistant.reading.sketch import Sketch

_US_UNITS = frozenset(("degF", "lb", "oz", "quart", "gallon", "inch", "pint", "cup"))
_METRIC_UNITS = frozenset(("degC", "g", "kg", "litre", "ml", "cm"))
_FREEZING = 32
"""No bed with living worms in it is colder than that, in Fahrenheit."""
_SCALDING = 50
"""No bed with living worms in it, and no room, is warmer than that, in Celsius."""
_LEAST = 4
_THERMOMETERS = frozenset("temp temps temperature temperatures thermometer probe".split())
_BED_WORDS = frozenset("bed bedding core inside".split())
_STANDING = frozenset("sitting holding stood standing running hovering".split())
_CHANGES = frozenset("up down by rose risen fell fallen dropped gained lost climbed of only".split())
_BESIDE = 5  # words


def metric(sketch: Sketch) -> bool:
    """Whether bare degrees of the note are Celsius: by its settings, its measures, or a bed's own figure."""
    if sketch.metric is None:
        sketch.metric = _metric(sketch)
    return sketch.metric


def scale(sketch: Sketch, span: AmountSpan) -> str:
    """The scale of a figure that has no letter."""
    if span.best > _SCALDING and "degC" not in sketch.units:
        return "degF"
    return "degC" if metric(sketch) else "degF"


def _metric(sketch: Sketch) -> bool:
    units = sketch.units
    if "degC" in units or "degF" in units:
        return "degF" not in units
    if any(_bed_in_celsius(sketch, a) for a in sketch.amounts):
        return True
    if units & _US_UNITS:
        return False
    return bool(units & _METRIC_UNITS) or sketch.now.tzname() == "metric"


def _bed_in_celsius(sketch: Sketch, span: AmountSpan) -> bool:
    """ "bed temp 12", "16 degrees in the bath": too cold for a bed on the other scale."""
    if span.unit not in (None, "degree") or span.currency or not _LEAST <= span.best < _FREEZING:
        return False
    first = max(0, span.start - _BESIDE)
    near = range(first, min(len(sketch.words), span.end + _BESIDE) if span.unit else span.start)
    before = sketch.words[first : span.start]
    if sketch.words[span.end : span.end + 1] == ["bed"]:
        return True
    if _CHANGES & set(before[-1:]) or any(_room(sketch, i) for i in near):
        return False
    if sketch.words[span.end : span.end + 1] == ["in"] and _bin_at(sketch, span.end + 1):
        return True  # "34 on the terrace and 27 in the bath"
    if _STANDING & set(before[-1:]) or (before[-1:] in (["at"], ["on"]) and _STANDING & set(before)):
        return True
    told = _THERMOMETERS & set(before) and span.unit is None and span.end - span.start <= 2
    return bool(told or span.unit == "degree" or _BED_WORDS & set(before[-1:]))


def _bin_at(sketch: Sketch, i: int) -> bool:
    return any(sketch.starting("place", k) is not None for k in (i, i + 1))


def _room(sketch: Sketch, i: int) -> bool:
    """Whether a room is named at word `i`; "in here" may be the bin."""
    room = sketch.starting("room", i)
    return room is not None and sketch.words[i : i + 2] != ["in", "here"]
