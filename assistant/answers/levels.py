"""How wet, how warm, how many seen: the last look, or the mean, the most or the least of several."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from statistics import fmean

from assistant.answers.answer import Found, Value
from assistant.answers.facts import Facts
from assistant.answers.query import Query
from assistant.answers.recall import ids, moved, silent
from assistant.answers.sums import convert
from assistant.answers.wording import aside, cap, day_words, guessed, lines, since, where_words
from assistant.balance.spread import Spread
from assistant.balance.wording import figure, spread_words, unit_words
from assistant.records import READINGS, Entry
from assistant.wording import what


def looks(query: Query, facts: Facts) -> list[Entry]:
    """The readings that a query speaks of. Where the bed was not measured, the room stands in."""
    if query.unknown:
        return []
    if query.kinds == ("temperature",) and query.items in ((), ("bed",)):
        inside = facts.choose(replace(query, items=("bed",)))
        return inside or facts.choose(replace(query, items=("air",)))
    if query.kinds == ("temperature",):  # the room is the same for every bin
        return facts.choose(query) or facts.choose(replace(query, bin=None, tiers=()))
    kinds = tuple(kind for kind in query.kinds if kind in READINGS) or ("sighting",)
    return facts.choose(query, kinds)


def level(query: Query, facts: Facts) -> Found:
    """What the last look showed, in its own scale or unit."""
    held = looks(query, facts)
    if not held:
        return silent(query, facts)
    if query.asks == "average" or query.pick in ("most", "least"):
        return _of_many(query, facts, held)
    last = held[-1]
    value, unit, spread = reading(last, query, facts)
    words = what(last.record)
    place = where_words(last.record, facts.bins)
    day = last.day
    when = f"last looked {since(str(day), facts.now.date())}"
    converted = _second(last, query, facts)
    head = f"{cap(words)}{converted}{aside(place)}; {when}."
    taken = guessed(query.taken)
    others = held[:-1] if query.first else []
    text = head + taken + moved(last, query, facts) + lines(others, facts.bins)
    return Found(text, value, unit, *spread, records=(last.id,))


def reading(
    entry: Entry, query: Query, facts: Facts
) -> tuple[Value, str | None, tuple[float | None, float | None]]:
    """The figure of a look: its level, else its amount in the unit asked for; the word of a smell."""
    record = entry.record
    if record.kind == "smell":
        return record.item, None, (None, None)
    if record.level is not None and not (record.amount and record.kind in ("moisture",)):
        return float(record.level), None, (None, None)
    if record.amount is None:
        return None, None, (None, None)
    a = record.amount
    brought = convert(a, query.unit, facts, record.item) if query.unit else None
    if brought and query.unit:
        return brought.spread.best, query.unit, (brought.spread.low, brought.spread.high)
    return a.best, a.unit, (a.low, a.high)


def _second(entry: Entry, query: Query, facts: Facts) -> str:
    """The other scale of a temperature, or the unit asked for."""
    amount = entry.record.amount
    if amount is None:
        return ""
    other = query.unit or {"degF": "degC", "degC": "degF"}.get(amount.unit)
    brought = convert(amount, other, facts, entry.record.item) if other and other != amount.unit else None
    return (
        f" ({spread_words(brought.spread)} {unit_words(other, brought.spread.best)})"
        if brought and other
        else ""
    )


def figures(entries: Sequence[Entry], query: Query, facts: Facts) -> list[tuple[Entry, float, str | None]]:
    """The looks that have a figure, all in the unit of the last one that does."""
    told = [(entry, *reading(entry, query, facts)[:2]) for entry in entries]
    numbers = [(entry, float(value), unit) for entry, value, unit in told if isinstance(value, float | int)]
    unit = numbers[-1][2] if numbers else None
    same = []
    for entry, value, own in numbers:
        if own == unit:
            same.append((entry, value, unit))
        elif own and unit and entry.record.amount:
            brought = convert(entry.record.amount, unit, facts, entry.record.item)
            if brought:
                same.append((entry, brought.spread.best, unit))
    return same


def _of_many(query: Query, facts: Facts, held: Sequence[Entry]) -> Found:
    """The mean, the highest or the lowest of the looks."""
    numbers = figures(held, query, facts)
    if not numbers:
        return silent(query, facts)
    unit = numbers[-1][2]
    if query.pick in ("most", "least") and query.asks != "average":
        pick = max if query.pick == "most" else min
        entry, value, _ = pick(numbers, key=lambda one: one[1])
        place = where_words(entry.record, facts.bins)
        text = f"{what(entry.record)}{aside(place)}, {day_words(entry.day)}."
        return Found(cap(text), value, unit, records=(entry.id,))
    values = [value for _, value, _ in numbers]
    mean = fmean(values)
    text = (
        f"{figure(mean)}{' ' + unit if unit else ''} on average of {len(values)} looks, "
        f"{figure(min(values))} to {figure(max(values))}."
    )
    return Found(
        text + lines([e for e, _, _ in numbers], facts.bins),
        mean,
        unit,
        min(values),
        max(values),
        ids([e for e, _, _ in numbers]),
    )


__all__ = ["Spread", "figures", "level", "looks", "reading"]
