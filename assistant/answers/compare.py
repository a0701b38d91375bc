"""One place against another, one period against another, now against last time. All that differs is told."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from statistics import fmean

from assistant.answers.answer import Found
from assistant.answers.facts import Facts
from assistant.answers.levels import figures, looks
from assistant.answers.query import Query, Spot
from assistant.answers.recall import found, ids, seen, silent
from assistant.answers.sums import total, total_words
from assistant.answers.totals import groups
from assistant.answers.wording import (
    SAID,
    ago,
    aside,
    cap,
    day_words,
    joined,
    kinds_words,
    lines,
    period_words,
    place_words,
    since,
    tell,
    where_words,
)
from assistant.balance.wording import amount_words, figure
from assistant.records import READINGS, Entry
from assistant.wording import what

SIGNS: tuple[tuple[str, tuple[str, ...], float, bool], ...] = (
    ("moisture", (), 3.0, False),
    ("sighting", ("juvenile worms", "cocoons", "worms"), 4.0, False),
    ("sighting", ("pests",), 0.0, False),
    ("sighting", ("escaping worms", "dead worms", "sick worms"), 0.0, False),
    ("progress", (), 1.0, False),
    ("leftover", (), 0.0, False),
)
"""Signs of how a bin does: kind, items, and the level that is best (contract, section 4)."""
BAD_SMELLS = frozenset(("sour", "ammonia", "rotten"))


def compare(query: Query, facts: Facts) -> Found:
    """Which of several has more, or is better off; now against before.

    Where it is asked whether the first has more than the second, the value is true or false.
    """
    if query.unknown:
        return silent(query, facts)
    if query.asks == "before":
        return _before(query, facts)
    if query.asks == "effort":
        return _effort(query, facts)
    if query.asks == "item":
        return _items(query, facts)
    if query.asks in ("common", "largest"):
        return (_common if query.asks == "common" else _largest)(query, facts)
    names, told = _sides(query, facts)
    if query.asks != "more" or len(names) < 2 or not isinstance(told.value, str):
        return told
    value = told.value == names[0]
    return replace(told, value=value, text=f"{'Yes' if value else 'No'}. {told.text}")


def _sides(query: Query, facts: Facts) -> tuple[list[str], Found]:
    """The names of what is held against each other, and which of them it is."""
    if query.periods:
        return [period_words(*p) for p in query.periods], _periods(query, facts)
    if not query.kinds and not query.items:
        return [_spot_name(s, facts) for s in query.spots], _doing(query, facts)
    given = _given(query, facts)
    if len(given) > 1 and not query.spots:
        return given, _beside(query, facts)
    if query.kinds == ("temperature",) and len(query.items) > 1:
        return list(query.items), _places(replace(query, by="item", asks=""), facts)
    if query.asks == "more" and len(query.spots) < 2:
        return [], Found("I can't tell what to hold it against: name two bins, two trays or two periods.")
    return [_spot_name(s, facts) for s in query.spots], _places(query, facts)


def _given(query: Query, facts: Facts) -> list[str]:
    """The beddings and foods that are held against each other, one name for all the words for one thing."""
    named = [
        t.name for i in query.items for t in facts.terms.things.get(i, ()) if t.topic in ("bedding", "food")
    ]
    return list(dict.fromkeys(named))


def _beside(query: Query, facts: Facts) -> Found:
    """Two materials by how the places did that got only one of them."""
    places: dict[str, set[Spot]] = {}
    records: list[str] = []
    for item in _given(query, facts):
        put = facts.choose(Query("list", kinds=("bed", "feed", "refresh"), items=(item,)))
        places[item] = {Spot(e.record.bin, e.record.tier) for e in put if e.record.bin}
        records += ids(put)
    items = list(places)
    own = {
        item: held - set().union(*(places[o] for o in items if o != item)) for item, held in places.items()
    }
    if not all(own.values()):
        missing = [item for item in items if not own[item]]
        return Found(
            f"The log does not say: it has no place that got only {joined(missing)}.", records=tuple(records)
        )
    spots = tuple(sorted(own[item], key=str)[0] for item in items)
    found_ = _doing(replace(query, items=(), kinds=(), spots=spots), facts)
    names = {_spot_name(s, facts): item for s, item in zip(spots, items, strict=True)}
    where = "; ".join(f"{item}: {name}" for name, item in names.items())
    value = names.get(str(found_.value), found_.value)
    return replace(found_, value=value, text=f"{found_.text}\n{where}. Other things differed as well.")


def _spot_name(spot: Spot, facts: Facts) -> str:
    return place_words(spot.bin, spot.tier, facts.bins) if spot.tier else spot.bin or ""


def _before(query: Query, facts: Facts) -> Found:
    """The last look against the one before it, on another day and in the same place."""
    held = looks(query, facts)
    numbers = figures(held, query, facts)
    if not numbers:
        return silent(query, facts)
    last, now, _ = numbers[-1]
    earlier = [
        one
        for one in numbers[:-1]
        if one[0].day < last.day
        and one[0].record.bin == last.record.bin
        and one[0].record.tier == last.record.tier
    ]
    if not earlier:
        return Found(f"The log does not say: one look only.{lines([last], facts.bins)}", records=(last.id,))
    before, then, _ = earlier[-1]
    value = now < then if query.pick == "least" else now > then
    same = "the same" if now == then else "higher" if now > then else "lower"
    place = where_words(last.record, facts.bins)
    head = (
        f"{'Yes' if value else 'No'}, {same}: {what(last.record)} "
        f"{ago(last.day, facts.now.date())}, {what(before.record)} on "
        f"{day_words(before.day)}{aside(place)}."
    )
    return Found(head, value, records=(before.id, last.id))


def _periods(query: Query, facts: Facts) -> Found:
    """More in one period than in another."""
    query = replace(query, kinds=query.kinds or ("feed",))
    held = [found(replace(query, periods=(), first=a, last=b), facts) for a, b in query.periods]
    every = [entry for one in held for entry in one]
    if not all(held):
        return silent(query, facts)
    unit = _unit(query, facts, every)
    sizes = [_size(query, facts, one, unit) for one in held]
    told = "; ".join(
        f"{period_words(*p)}: {words}" for p, (_, words) in zip(query.periods, sizes, strict=True)
    )
    value = (
        period_words(*query.periods[0 if sizes[0][0] > sizes[1][0] else 1])
        if sizes[0][0] != sizes[1][0]
        else "the same"
    )
    return Found(
        f"More in {value}: {told}." if value != "the same" else f"The same: {told}.",
        value,
        records=ids(every),
    )


def _unit(query: Query, facts: Facts, entries: Sequence[Entry]) -> str | None:
    amount = total(entries, facts, query.unit).amount
    return amount.unit if amount else None


def _size(query: Query, facts: Facts, entries: Sequence[Entry], unit: str | None) -> tuple[float, str]:
    """How much there is of some entries, and in words: the last look, or their mean "
    "in a period; amounts, else a count."""
    if query.kinds and all(kind in READINGS for kind in query.kinds):
        if not query.first:
            for last in reversed(entries):
                if told := figures([last], query, facts):
                    return told[0][1], f"{what(last.record)}, {last.day}"
        told = figures(entries, query, facts)
        if not told:
            return float("-inf"), "no look on record"
        mean = fmean(value for _, value, _ in told)
        return mean, f"{figure(mean)} on average of {len(told)} looks"
    if unit is None:
        return float(len(entries)), f"{len(entries)} on record, no amounts"
    summed = total(entries, facts, unit)
    return (summed.amount.best if summed.amount else 0.0), total_words(
        summed, facts, SAID[query.kinds[0]][0] if query.kinds else "record"
    )


def _places(query: Query, facts: Facts) -> Found:
    """Which bin or tray has more, or less, of something."""
    if query.asks == "bin" and not query.spots and query.by != "tier":
        query = replace(query, by="bin")
    by = _by_spot(query, facts)
    every = [entry for held in by.values() for entry in held]
    if not every:
        return silent(query, facts)
    unit = _unit(query, facts, every) if not all(kind in READINGS for kind in query.kinds) else None
    sizes = {name: _size(query, facts, held, unit) for name, held in by.items() if held}
    untold = [name for name, held in by.items() if not held]
    pick = min if query.pick == "least" else max
    best = pick(sizes, key=lambda name: sizes[name][0])
    even = [name for name in sizes if sizes[name][0] == sizes[best][0]]
    told = "; ".join(f"{name}: {words}" for name, (_, words) in sizes.items())
    told += f"; not mentioned: {joined(untold)}" if untold else ""
    value = best if len(even) == 1 else "the same"
    return Found(
        f"{cap(value)} ({kinds_words(query.kinds, query.items)}). {told}.",
        value,
        records=ids(every),
    )


def _by_spot(query: Query, facts: Facts) -> dict[str, list[Entry]]:
    if not query.spots:
        return groups(query, facts, [e for e in facts.choose(query)])
    return {_spot_name(s, facts): facts.choose(_at(query, s)) for s in query.spots}


def _at(query: Query, spot: Spot) -> Query:
    return replace(query, bin=spot.bin, tiers=(spot.tier,) if spot.tier else (), spots=())


def _common(query: Query, facts: Facts) -> Found:
    """What there was of most often."""
    entries = [e for e in found(query, facts) if e.record.item]
    counts = Counter(e.record.item for e in entries)
    if not counts:
        return silent(query, facts)
    told = "; ".join(f"{item}: {often}" for item, often in counts.most_common(5))
    best = str(counts.most_common(1)[0][0])
    return Found(f"{cap(best)}, by how often. {told}.", best, records=ids(entries))


def _largest(query: Query, facts: Facts) -> Found:
    """The largest single one by amount, all brought to one unit."""
    entries = [e for e in found(query, facts) if e.record.amount]
    whole = total(entries, facts, query.unit).amount
    sizes = [(one.best, e) for e in entries if whole and (one := total([e], facts, whole.unit).amount)]
    if not whole or not sizes:
        return silent(query, facts)
    size, entry = max(sizes, key=lambda one: one[0])
    return Found(
        f"{cap(tell([entry], facts.bins))}, {since(entry.day, facts.now.date())}.",
        size,
        whole.unit,
        records=(entry.id,),
    )


def _effort(query: Query, facts: Facts) -> Found:
    """Which bin takes the most work: by days on record, as minutes are not."""
    days = {
        one.name: {e.day for e in facts.choose(replace(query, bin=one.name), kinds=())} for one in facts.setup
    }
    if not any(days.values()):
        return silent(query, facts)
    pick = min if query.pick == "least" else max
    best = pick(days, key=lambda name: len(days[name]))
    told = "; ".join(f"{name}: {len(held)} days on record" for name, held in days.items())
    return Found(
        f"{cap(best)}, by the days on which it was seen to; the log has no minutes. {told}.",
        best,
    )


def _doing(query: Query, facts: Facts) -> Found:
    """How bins do, sign by sign; the one nearer to right in more of them is named, with all the signs."""
    spots = query.spots or tuple(Spot(one.name) for one in facts.setup)
    if query.bin and len(spots) < 2:
        spots = tuple(Spot(one.name) for one in facts.setup)
    names = [_spot_name(s, facts) for s in spots]
    ahead = dict.fromkeys(names, 0)
    told: list[str] = []
    records: list[str] = []
    signs = 0
    for label, rows in _signs(query, facts, spots, names):
        told.append(f"\n{label}: " + "; ".join(f"{name} {what(e.record)}, {e.day}" for name, _, e in rows))
        records += [e.id for _, _, e in rows]
        if len(rows) < 2:
            continue
        signs += 1
        nearest = min(off for _, off, _ in rows)
        leading = [name for name, off, _ in rows if off == nearest]
        if len(leading) < len(rows):
            for name in leading:
                ahead[name] += 1
    if not signs:
        return Found(
            "The log does not say: there is no sign on record for more than one of "
            f"{joined(names)}.{''.join(told)}",
            records=tuple(records),
        )
    best = max(ahead.values())
    leading = [name for name in names if ahead[name] == best]
    value = leading[0] if len(leading) == 1 else "the same"
    head = (
        f"Nearer to right in {best} of {signs} signs: {value}"
        if len(leading) == 1
        else f"No difference over {signs} signs"
    )
    return Found(f"{head}. What was seen last:{''.join(told)}", value, records=tuple(dict.fromkeys(records)))


def _signs(
    query: Query, facts: Facts, spots: Sequence[Spot], names: Sequence[str]
) -> Iterator[tuple[str, list[tuple[str, float, Entry]]]]:
    """For each sign on record: the last look in each place, and how far it is from right."""
    for kind, items, right, _ in SIGNS:
        rows = []
        for spot, name in zip(spots, names, strict=True):
            last = facts.latest(replace(_at(query, spot), kinds=(kind,), items=items))
            if last and last.record.level is not None:
                rows.append((name, abs(last.record.level - right), last))
        if rows:
            yield (joined(items) if items else kind), rows
    rows = []
    for spot, name in zip(spots, names, strict=True):
        last = facts.latest(replace(_at(query, spot), kinds=("smell",), items=()))
        if last:
            rows.append((name, float(last.record.item in BAD_SMELLS), last))
    if rows:
        yield "smell", rows


def _items(query: Query, facts: Facts) -> Found:
    """Which bedding, food or other thing went with more of what was seen where it was put in."""
    given = tuple(kind for kind in query.kinds if kind not in READINGS) or ("bed",)
    creatures = tuple(
        i for i in query.items if any(t.topic == "organism" for t in facts.terms.things.get(i, ()))
    )
    if not creatures:
        return _places(replace(query, kinds=given, by="item", asks="", spots=()), facts)
    marks: dict[str, list[tuple[float, Entry]]] = {}
    looked = [
        e
        for e in facts.choose(replace(query, kinds=("sighting",), items=creatures))
        if e.record.level is not None
    ]
    put: dict[tuple[str | None, int | None], str] = {}
    for entry in facts.ordered:
        record = entry.record
        if record.state != "done":
            continue
        if record.kind in given and record.item:
            put[record.bin, record.tier] = record.item
        elif entry in looked and record.level is not None:
            item = put.get((record.bin, record.tier)) or put.get((record.bin, None))
            if item:
                marks.setdefault(item, []).append((record.level, entry))
    if len(marks) < 2:
        return Found(
            "The log does not say: it needs looks after at least two of them in their own places.",
            records=ids(looked),
        )
    means = {item: fmean(level for level, _ in held) for item, held in marks.items()}
    best = max(means, key=lambda item: means[item])
    told = "; ".join(
        f"{item}: level {figure(mean)} over {len(marks[item])} looks" for item, mean in means.items()
    )
    used = [entry for held in marks.values() for _, entry in held]
    return Found(
        f"{best.capitalize()}, by what was seen after it: {told}. Other things differed as well.",
        best,
        records=ids(used),
    )


__all__ = ["amount_words", "compare", "seen"]
