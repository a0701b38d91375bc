"""How much, how many, how often: sums, counts, rates and money."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise
from statistics import median

from assistant.answers.answer import Found, Value
from assistant.answers.facts import Facts
from assistant.answers.levels import level
from assistant.answers.query import Query, Spot
from assistant.answers.recall import found, ids, occasion, silent
from assistant.answers.sums import Total, total, total_words
from assistant.answers.wording import (
    SAID,
    cap,
    count_words,
    guessed,
    joined,
    kinds_words,
    lines,
    period_words,
    place_words,
)
from assistant.balance.wording import amount_words, figure, times_words
from assistant.records import READINGS, Entry


def whole(query: Query, facts: Facts) -> Found:
    """How much in all, or for each bin, tray, item, week or month."""
    if query.asks in ("got", "paid", "money"):
        return money(query, facts)
    entries = found(query, facts)
    if not entries:
        return silent(query, facts)
    if all(e.record.kind in READINGS and not e.record.amount for e in entries):
        return level(query, facts)
    if query.by or query.spots:
        return _each(query, facts, entries)
    summed = total(entries, facts, query.unit)
    tail = f"{_where_when(query, facts)}.{guessed(query.taken)}"
    words = total_words(summed, facts, SAID[query.kinds[0]][0] if query.kinds else "record")
    if summed.amount is None:
        records = ids(entries)
        return Found(f"The log does not say how much: {words}{tail}", records=records)
    text = f"{cap(words)}: {kinds_words(query.kinds, query.items, query.state)}{tail}{_span(entries)}"
    text += f"\n{cap(summed.how)}." if summed.how else ""
    a = summed.amount
    return Found(text, a.best, a.unit, a.low, a.high, (*summed.counted, *summed.uncounted), summed.sources)


def _where_when(query: Query, facts: Facts) -> str:
    parts = [place_words(query.bin, tier, facts.bins) for tier in query.tiers or (None,)]
    parts.append(period_words(query.first, query.last))
    return "".join(f", {part}" for part in parts if part)


def _span(entries: Sequence[Entry]) -> str:
    first, last = entries[0].day, entries[-1].day
    return f"\n{times_words(len(entries))}, from {first} to {last}" if first < last else f"\non {first}"


def groups(query: Query, facts: Facts, entries: Sequence[Entry]) -> dict[str, list[Entry]]:
    """Entries by what a query tells apart; of bins and tiers that were not touched, an empty list."""
    spots = query.spots or (tuple(Spot(b.name) for b in facts.setup) if query.by == "bin" else ())
    by: dict[str, list[Entry]] = {}
    if query.by in ("bin", "tier", ""):
        by = {_name(spot, query, facts): [] for spot in spots}
    wanted = {spot.bin for spot in query.spots}
    parts: dict[Hashable, list[Entry]] = {}
    key = KEYS[query.by or "bin"]
    for entry in entries:
        if not wanted or entry.record.bin in wanted:
            parts.setdefault(key(entry), []).append(entry)
    for held in parts.values():
        by.setdefault(_group_name(held[0], query, facts), []).extend(held)
    return by


KEYS: dict[str, Callable[[Entry], Hashable]] = {
    "bin": lambda e: e.record.bin,
    "tier": lambda e: (e.record.bin, e.record.tier),
    "item": lambda e: e.record.item,
    "month": lambda e: e.day[:7],
    "week": lambda e: _monday(e.day),
}
"""What a query tells apart -> what two entries of one group have alike."""


def _group_name(entry: Entry, query: Query, facts: Facts) -> str:
    """What a group is called in the answer."""
    if query.by == "tier":
        return place_words(entry.record.bin, entry.record.tier, facts.bins) or "no bin named"
    alike = KEYS[query.by or "bin"](entry)
    return str(alike) if alike else "no bin named" if query.by in ("bin", "") else "not named"


def _name(spot: Spot, query: Query, facts: Facts) -> str:
    return spot.bin or "" if query.by in ("bin", "") else place_words(spot.bin, spot.tier, facts.bins)


def _monday(day: str) -> str:
    moment = date.fromisoformat(day)
    return date.fromordinal(moment.toordinal() - moment.weekday()).isoformat()


def _each(query: Query, facts: Facts, entries: Sequence[Entry]) -> Found:
    """A total for each bin, tray, item, week or month, all in one unit where that can be."""
    by = groups(query, facts, entries)
    every = [entry for held in by.values() for entry in held]
    summed = total(every, facts, query.unit)
    unit = query.unit or (summed.amount.unit if summed.amount else None)
    values: list[Value] = []
    told = []
    for name, held in by.items():
        one = total(held, facts, unit)
        values.append(_row(name, one, unit))
        told.append(f"\n{name}: {total_words(one, facts, 'feeding') if held else 'not mentioned'}")
    if summed.how:
        told.append(f"\n{cap(summed.how)}.")
    head = f"{kinds_words(query.kinds, query.items)}{_where_when(query, facts)}"
    return Found(f"{cap(head)}:{''.join(told)}{guessed(query.taken)}", list(values), unit, records=ids(every))


def _row(name: str, one: Total, unit: str | None) -> Value:
    if one.amount is None:
        return [name, None, unit]
    return [name, round(one.amount.best, 4), one.amount.unit]


def count(query: Query, facts: Facts) -> Found:
    """How many times. Visits are counted by the day."""
    if query.unknown:
        return silent(query, facts)
    if query.asks == "different":
        return _different(query, facts)
    visits = not query.kinds and not query.items
    entries = found(query, facts)
    if not entries:
        return silent(query, facts)
    if query.by or query.spots:
        by = groups(query, facts, entries)
        values: list[Value] = [[name, len(_times(held, visits))] for name, held in by.items()]
        told = "".join(f"\n{name}: {len(_times(held, visits))}" for name, held in by.items())
        return Found(
            f"{kinds_words(query.kinds, query.items).capitalize()}{_where_when(query, facts)}:{told}",
            values,
            records=ids(entries),
        )
    times = _times(entries, visits)
    said = "day on record" if visits else SAID[query.kinds[0]][0] if len(query.kinds) == 1 else "record"
    if len(times) != 1:
        said = "days on record" if visits else SAID[query.kinds[0]][1] if len(query.kinds) == 1 else "records"
    text = (
        f"{len(times)} "
        f"{said}{': ' + joined(query.items) if query.items else ''}{_where_when(query, facts)}."
        f"{guessed(query.taken)}"
    )
    return Found(text + lines(entries, facts.bins), float(len(times)), None, records=ids(entries))


def _different(query: Query, facts: Facts) -> Found:
    """How many different things."""
    entries = found(query, facts)
    names = list(dict.fromkeys(e.record.item for e in entries if e.record.item))
    if not names:
        return silent(query, facts)
    return Found(
        f"{len(names)}: {joined(names)}{_where_when(query, facts)}.", float(len(names)), records=ids(entries)
    )


def _times(entries: Sequence[Entry], visits: bool) -> list[object]:
    """Once a day and place: several foods of one feeding are one time. Visits are counted by the day."""
    return list(dict.fromkeys(e.day if visits else occasion(e) for e in entries))


def rate(query: Query, facts: Facts) -> Found:
    """How often, or how much a day, week or month."""
    entries = found(query, facts)
    days = sorted({e.day for e in entries})
    if not entries:
        return silent(query, facts)
    first = query.first or date.fromisoformat(days[0])
    last = min(query.last or facts.now.date(), facts.now.date())
    length = max(1, (last - first).days + 1)
    if query.asks == "every":
        gaps = [
            date.fromisoformat(b).toordinal() - date.fromisoformat(a).toordinal() for a, b in pairwise(days)
        ]
        if not gaps:
            return Found(f"Only once: {days[0]}.", records=ids(entries))
        middle = float(median(gaps))
        weekly = len(days) * facts.terms.limits["week"] / length
        text = (
            f"Every {figure(middle)} days in the middle, {min(gaps)} to {max(gaps)}: "
            f"{len(days)} days in {length}, about {figure(weekly)} a week."
        )
        return Found(
            text + lines(entries, facts.bins), middle, "day", float(min(gaps)), float(max(gaps)), ids(entries)
        )
    per = query.topic or "week"
    summed = total(entries, facts, query.unit)
    if summed.amount is None:
        return Found(
            f"The log does not say how much: {count_words(len(entries), query.kinds)} with no amount.",
            records=ids(entries),
        )
    a = summed.amount.scaled((facts.terms.limits[per] if per != "day" else 1) / length)
    text = f"{amount_words(a)} a {per}: {total_words(summed, facts, 'feeding')} in {length} days."
    return Found(text, a.best, f"{a.unit} per {per}", a.low, a.high, ids(entries), summed.sources)


def money(query: Query, facts: Facts) -> Found:
    """What came in by sales, went out for purchases, or both."""
    wanted = {"got": ("sell",), "paid": ("buy",), "money": ("sell", "buy")}[query.asks]
    entries = [e for e in facts.choose(replace(query, kinds=wanted)) if not query.unknown]
    if not entries and query.items == ("worms",):  # "what have the worms brought in" asks for all
        entries = facts.choose(replace(query, kinds=wanted, items=()))
    priced = [e for e in entries if e.record.price]
    if not priced:
        return (
            silent(replace(query, kinds=wanted), facts)
            if not entries
            else Found(
                f"The log does not say: {count_words(len(entries), wanted)} with no price.",
                records=ids(entries),
            )
        )
    sums: dict[str, dict[str, float]] = {}
    for entry in priced:
        price = entry.record.price
        assert price is not None
        held = sums.setdefault(price.currency, {"sell": 0.0, "buy": 0.0})
        held[entry.record.kind] += price.value
    told = "; ".join(_money_words(held, currency, query.asks) for currency, held in sums.items())
    missing = len(entries) - len(priced)
    told += f", and {count_words(missing, wanted)} with no price" if missing else ""
    if len(sums) > 1:
        return Found(
            f"{told}.{lines(entries, facts.bins)}",
            [[c, h["sell"] - h["buy"]] for c, h in sums.items()],
            records=ids(entries),
        )
    currency, held = next(iter(sums.items()))
    value = {"got": held["sell"], "paid": held["buy"], "money": held["sell"] - held["buy"]}[query.asks]
    return Found(
        f"{told}{_where_when(query, facts)}.{lines(entries, facts.bins)}",
        value,
        currency,
        records=ids(entries),
    )


def _money_words(held: dict[str, float], currency: str, asks: str) -> str:
    got, paid = f"{held['sell']:.2f} {currency} got", f"{held['buy']:.2f} {currency} paid"
    return {"got": got, "paid": paid}.get(asks, f"{got}, {paid}")
