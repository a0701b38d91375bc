"""Amounts added up: in the keeper's unit where all share one, else brought to one, and said how."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from assistant import formulas
from assistant.answers.facts import Facts
from assistant.balance.spread import NOTHING, Spread
from assistant.balance.wording import amount_words, amounts_words, figure, unit_words
from assistant.records import Amount, Entry

MASS, VOLUME = ("lb", "oz", "kg", "g", "ton", "tonne"), ("volume", "own")
SECOND = {
    "lb": "kg",
    "oz": "g",
    "kg": "lb",
    "g": "oz",
    "gallon": "litre",
    "quart": "litre",
    "cup": "litre",
    "pint": "litre",
    "litre": "quart",
    "inch": "cm",
    "cm": "inch",
    "degF": "degC",
    "degC": "degF",
    "fl_oz": "ml",
    "ml": "fl_oz",
}
"""The unit that is said second, beside the keeper's own."""
TOPIC = {
    "feed": "food",
    "bed": "bedding",
    "amend": "amendment",
    "leftover": "food",
    "water": "product",
    "drain": "product",
}


@dataclass(frozen=True, slots=True)
class Total:
    """A sum: `amount` None where nothing can be added; `parts` are the keeper's own units, each added up.

    `counted` and `uncounted` are ids of entries with and without an amount, `left_out` those whose amount
    could not be brought to the unit; `how` says how units were brought together, empty where they are one.
    """

    amount: Amount | None
    parts: tuple[Amount, ...]
    counted: tuple[str, ...]
    uncounted: tuple[str, ...]
    left_out: tuple[str, ...]
    how: str
    sources: tuple[str, ...] = ()


Group = tuple[str, str | None, str]
"""Unit, item and kind of entries that are added up before anything is converted."""


def total(entries: Sequence[Entry], facts: Facts, unit: str | None = None) -> Total:
    """The sum of the amounts of some entries, in `unit` where one is asked for."""
    groups: dict[Group, list[float]] = {}
    members: dict[Group, list[str]] = {}
    counted: list[str] = []
    uncounted: list[str] = []
    for entry in entries:
        record = entry.record
        amount = record.amount
        if amount is None:
            uncounted.append(entry.id)
            continue
        counted.append(entry.id)
        key = amount.unit, record.item, record.kind
        held = groups.get(key)
        if held is None:
            groups[key], members[key] = [amount.low, amount.best, amount.high], [entry.id]
            continue
        held[0] += amount.low
        held[1] += amount.best
        held[2] += amount.high
        members[key].append(entry.id)
    sums = _by_unit(groups)
    if not sums:
        return Total(None, (), (), tuple(uncounted), (), "")
    if len(sums) == 1 and unit in (None, sums[0].unit):
        return Total(sums[0], sums, tuple(counted), tuple(uncounted), (), "")
    return _brought(groups, members, sums, facts, unit, tuple(counted), tuple(uncounted))


def _by_unit(groups: Mapping[Group, Sequence[float]]) -> tuple[Amount, ...]:
    """One amount for each unit, in the order in which the units first came."""
    sums: dict[str, Spread] = {}
    for (unit, _, _), (low, best, high) in groups.items():
        sums[unit] = sums.get(unit, NOTHING).plus(Spread(low, best, high))
    return tuple(Amount(*spread, unit) for unit, spread in sums.items())


def _brought(
    groups: Mapping[Group, Sequence[float]],
    members: Mapping[Group, Sequence[str]],
    sums: tuple[Amount, ...],
    facts: Facts,
    unit: str | None,
    counted: tuple[str, ...],
    uncounted: tuple[str, ...],
) -> Total:
    """Several units, or one that is not asked for, brought to one."""
    counts = Counter(
        {one.unit: sum(len(ids) for key, ids in members.items() if key[0] == one.unit) for one in sums}
    )
    into = unit or common_unit(counts, facts)
    whole = _exactly(sums, into, facts)
    if whole is not None:
        return Total(Amount(*whole, into), sums, counted, uncounted, (), own_words(sums, facts))
    result = NOTHING
    left_out: list[Group] = []
    sources: dict[str, None] = {}
    hows: dict[str, None] = {}
    for key, (low, best, high) in groups.items():
        amount = Amount(low, best, high, key[0])
        brought = convert(amount, into, facts, key[1], TOPIC.get(key[2], "product"))
        if brought is None:
            left_out.append(key)
            continue
        result = result.plus(brought.spread)
        sources |= dict.fromkeys(brought.sources)
        hows |= dict.fromkeys(filter(None, (brought.basis,)))
    missing = dict.fromkeys(id_ for key in left_out for id_ in members[key])
    kept = tuple(id_ for id_ in counted if id_ not in missing)
    amount_ = Amount(*result, into) if kept else None
    return Total(amount_, sums, kept, uncounted, tuple(missing), _how(list(hows)), tuple(sources))


def _how(bases: Sequence[str]) -> str:
    if not bases:
        return ""
    shown = "; ".join(bases[:2])
    more = f", and {len(bases) - 2} more like these" if len(bases) > 2 else ""
    return f"reckoned with {shown}{more}"


@dataclass(frozen=True, slots=True)
class Brought:
    """An amount in another unit, how in words (empty where the units are of one dimension), and sources."""

    spread: Spread
    basis: str = ""
    sources: tuple[str, ...] = ()


def convert(
    amount: Amount, into: str, facts: Facts, item: str | None = None, topic: str = "food"
) -> Brought | None:
    """An amount in another unit; mass and volume only by the item's density. None where it cannot be told."""
    spread = Spread(amount.low, amount.best, amount.high)
    if amount.unit == into:
        return Brought(spread)
    if {amount.unit, into} == {"degF", "degC"}:
        change = formulas.celsius if into == "degC" else formulas.fahrenheit
        return Brought(Spread(*map(change, spread)))
    size, target = size_of(amount.unit, facts), size_of(into, facts)
    if size and target and _like(amount.unit, into, facts):
        return Brought(
            Spread(
                *(formulas.convert(a, b, c) for a, b, c in zip(spread, size, reversed_(target), strict=True))
            )
        )
    if any(dimension(one, facts) == "own" and size_of(one, facts) is None for one in (amount.unit, into)):
        return None
    converter = facts.terms.trade.converter
    topic = converter.topic_of(item, topic)
    one, other = converter.weight(amount.unit, item, topic), converter.weight(into, item, topic)
    if not one or not other:
        return None
    kilos = one.kg.times(spread)
    back = Spread(kilos.low / other.kg.high, kilos.best / other.kg.best, kilos.high / other.kg.low)
    if dimension(into, facts) == "mass":
        back = Spread(*(kg / other.kg.best for kg in kilos))
    basis = one.basis if dimension(amount.unit, facts) != "mass" else other.basis
    return Brought(back, basis, tuple(dict.fromkeys((*one.sources, *other.sources))))


def reversed_(spread: Spread) -> Spread:
    """The ends the other way round, for dividing by."""
    return Spread(spread.high, spread.best, spread.low)


def _exactly(sums: Iterable[Amount], into: str, facts: Facts) -> Spread | None:
    """The sum of units of one dimension, None where one is of another."""
    result = NOTHING
    for amount in sums:
        if amount.unit != into and not _like(amount.unit, into, facts):
            return None
        brought = convert(amount, into, facts)
        if brought is None:
            return None
        result = result.plus(brought.spread)
    return result


def _like(unit: str, other: str, facts: Facts) -> bool:
    """Whether two units measure the same: mass, room (the keeper's own measures too), length."""
    one, two = dimension(unit, facts), dimension(other, facts)
    return one == two != "count" or (one in VOLUME and two in VOLUME)


def dimension(unit: str, facts: Facts) -> str:
    """What a unit measures, by lexicon/measures.csv; "count" for pieces and words that it has not got."""
    row = facts.terms.measures.get(unit)
    return row["dimension"] if row else "count"


def size_of(unit: str, facts: Facts) -> Spread | None:
    """The size of a unit in g, ml or cm with its range; None where it has none, or
    where it may be nearly anything ("a bag")."""
    row = facts.terms.measures.get(unit)
    if row is None:
        return None
    if row["base"]:
        return Spread.exactly(float(row["base"]))
    if not row["low"] or not row["high"]:
        return None
    low, high = float(row["low"]), float(row["high"])
    if high > low * facts.terms.limits["own_spread"]:
        return None
    return Spread(low, (low + high) / 2, high)


def common_unit(counts: Counter[str], facts: Facts) -> str:
    """The unit to bring several to: the most used one where all measure the same, else one of mass."""
    dimensions = {dimension(unit, facts) for unit in counts}
    if len(dimensions) == 1 and "count" not in dimensions:
        return counts.most_common(1)[0][0]
    if dimensions <= set(VOLUME):
        exact = Counter({u: n for u, n in counts.items() if dimension(u, facts) == "volume"})
        return exact.most_common(1)[0][0] if exact else counts.most_common(1)[0][0]
    masses = Counter({u: n for u, n in counts.items() if dimension(u, facts) == "mass"})
    if masses:
        return masses.most_common(1)[0][0]
    return "kg" if facts.metric else "lb"


def own_words(sums: Iterable[Amount], facts: Facts) -> str:
    """How the keeper's own measures were taken: "1 handful = 60 to 125 ml"."""
    said = []
    for one in sums:
        size = size_of(one.unit, facts)
        if dimension(one.unit, facts) == "own" and size:
            said.append(f"1 {one.unit} taken as {size.low:g} to {size.high:g} ml")
    return "; ".join(said)


def total_words(found: Total, facts: Facts, one: str) -> str:
    """A total in words: the keeper's units first, the converted second, what has no amount last."""
    said = amounts_words(found.parts)
    if found.amount:
        if len(found.parts) > 1 or found.parts[0].unit != found.amount.unit:
            said += f"; together {'about ' if found.how else ''}{amount_words(found.amount)}"
        second = second_words(found.amount, facts)
        said += f", or {second}" if second else ""
    if found.left_out:
        said += f"; {len(found.left_out)} of them in measures that cannot be brought together"
    if found.uncounted:
        count = len(found.uncounted)
        plural = one if count == 1 or one.endswith("s") else f"{one}s"
        said += f"{', and ' if said else ''}{count} {plural} with no amount"
    return said


def second_words(amount: Amount, facts: Facts) -> str:
    """The amount in the other system of units; empty where it has none."""
    other = SECOND.get(amount.unit)
    brought = convert(amount, other, facts) if other else None
    if not brought or not other:
        return ""
    return f"{figure(brought.spread.best)} {unit_words(other, brought.spread.best)}"
