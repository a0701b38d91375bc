"""The days that a question is about."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from assistant.reading.days import DaySpan
from assistant.reading.sketch import Sketch

Period = tuple[date | None, date | None]


def periods(sketch: Sketch, span: tuple[int, int], coming: bool) -> list[Period]:
    """The periods named in the sketch's words `span`, in order; `coming` where what is to come is asked for.

    A past period ends today at the latest, one to come begins today at the earliest.
    """
    today = sketch.now.date()
    found: list[Period] = []
    for day in sketch.days:
        if day.recurring or not span[0] <= day.start < span[1]:
            continue
        when = _reading(day, coming)
        if when is None:
            continue
        first, last = when
        if coming:
            found.append((first, last))
        else:
            found.append((first, today if day.since else max(first, min(last, today))))
    return _bounded(sketch, span, found)


def _reading(day: DaySpan, coming: bool) -> tuple[date, date] | None:
    return (day.coming or day.past) if coming else (day.past or day.coming)


def _bounded(sketch: Sketch, span: tuple[int, int], found: Sequence[Period]) -> list[Period]:
    """ "Before March" ends the day before it, "until Friday" with it, "after the 3rd" begins on the 4th."""
    bounded: list[Period] = []
    spans = [d for d in sketch.days if not d.recurring and span[0] <= d.start < span[1]]
    for day, (first, last) in zip(spans, found, strict=False):
        own = sketch.words[day.start]
        before = sketch.words[day.start - 1] if day.start else ""
        words = {own, before}
        if day.since or first is None or last is None:
            bounded.append((first, last))
        elif "before" in words:
            bounded.append((None, date.fromordinal(first.toordinal() - 1)))
        elif words & {"until", "till", "by"}:
            bounded.append((None, last))
        elif "after" in words:
            bounded.append((date.fromordinal(last.toordinal() + 1), None))
        else:
            bounded.append((first, last))
    return bounded
