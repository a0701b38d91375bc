"""What there is: stocks kept beside the bins, food waiting in them, worms, and the few reckonings that rest on them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from statistics import fmean

from assistant.answers.answer import Found, Value
from assistant.answers.facts import Facts
from assistant.answers.levels import figures
from assistant.answers.query import Query
from assistant.answers.recall import ids, silent
from assistant.answers.sums import second_words, total
from assistant.answers.wording import day_of, day_words, joined, lines, place_words
from assistant.balance.rows import BalanceRow, rows
from assistant.balance.spread import Spread
from assistant.balance.spread import total as spread_total
from assistant.balance.stocks import Population, Stock, stocks
from assistant.balance.wording import amount_words, amounts_words, figure, heap_words, spread_words
from assistant.records import Amount, Entry


def stock(query: Query, facts: Facts) -> Found:
    """What is left of something: beside the bins, or waiting as food in a bin that is named."""
    if query.unknown:
        return silent(query, facts)
    if query.bin or query.tiers or query.kinds in (("feed",), ("leftover",)):
        return _waiting(query, facts)
    kept = [one for one in stocks(facts.books) if not query.items or facts.like(one.item, query.items)]
    if not kept:
        return silent(query, facts)
    told = "; ".join(f"{one.item}: {_stock_words(one)}" for one in kept)
    records = tuple(dict.fromkeys(id_ for one in kept for id_ in one.records))
    doubts = "".join(f"\n? {doubt.text}" for one in kept for doubt in one.doubts)
    if len(kept) == 1:
        now = kept[0].now
        head = f"{amount_words(now)} by what came in and went out" if now else "The log does not say how much"
        return Found(
            f"{head[:1].upper()}{head[1:]}. {told}.{doubts}",
            now.best if now else None,
            now.unit if now else None,
            now.low if now else None,
            now.high if now else None,
            records,
        )
    values: list[Value] = [
        [one.item, round(one.now.best, 4) if one.now else None, one.now.unit if one.now else None]
        for one in kept
    ]
    return Found(f"{told[:1].upper()}{told[1:]}.{doubts}", values, records=records)


def _stock_words(one: Stock) -> str:
    parts = [
        f"{word} {amounts_words(held)}" for word, held in (("in", one.came_in), ("out", one.went_out)) if held
    ]
    if one.uncounted:
        parts.append(f"{len(one.uncounted)} with no amount")
    return ", ".join(parts) + (f", should be {amount_words(one.now)}" if one.now else "")


def _waiting(query: Query, facts: Facts) -> Found:
    """Food reckoned to be waiting in a bin or tray."""
    held = [row for row in rows(facts.books) if _meant(row, query) and row.food.records]
    if not held:
        return silent(query, facts)
    kilos = [row.food.kg for row in held if row.food.kg]
    told = "; ".join(
        f"{place_words(r.bin, r.tier, facts.bins)}: {heap_words(r.food, 'feeding')} put in, {amounts_words(r.food.left) or 'amount not known'} reckoned left"
        for r in held
    )
    records = tuple(dict.fromkeys(id_ for row in held for id_ in row.food.records))
    if not kilos:
        return Found(f"The log does not say how much is left: {told}.", records=records)
    kg = spread_total(kilos)
    a = _keepers(kg, facts)
    return Found(
        f"About {amount_words(a)} of food reckoned as uneaten. {told}.",
        a.best,
        a.unit,
        a.low,
        a.high,
        records,
    )


def _meant(row: BalanceRow, query: Query) -> bool:
    return (query.bin is None or row.bin == query.bin) and (not query.tiers or row.tier in query.tiers)


def _keepers(kg: Spread, facts: Facts) -> Amount:
    """Kilograms as the keeper would say them."""
    if facts.metric:
        return Amount(*kg, "kg")
    pound = float(facts.measures["lb"]["base"]) / 1000
    return Amount(*kg.scaled(1 / pound), "lb")


def estimate(query: Query, facts: Facts) -> Found:
    """Worms, days that they can be left, a misting, a price, or when a bin is full or recovered."""
    asked = {
        "mean": mean_amount,
        "population": worms,
        "leave": _leave,
        "charge": _charge,
        "recover": _recover,
        "full": _full,
        "whatif": _what_if,
    }
    if query.unknown:
        return silent(query, facts)
    if query.asks in asked:
        return asked[query.asks](query, facts)
    return (
        worms(query, facts)
        if not query.kinds or "worm_estimate" in query.kinds
        else mean_amount(query, facts)
    )


def worms(query: Query, facts: Facts) -> Found:
    """Worms by the last estimate, with what was put in and taken out since."""
    held = [
        (row, one)
        for row in rows(facts.books)
        if _meant(row, query)
        for one in row.worms
        if _named(one, query, facts)
    ]
    if not held:
        return silent(replace(query, kinds=("worm_estimate", "worms_added")), facts)
    parts = [(row, one, _count(one)) for row, one in held]
    records = tuple(dict.fromkeys(id_ for _, one in held for id_ in one.records))
    told = "".join(
        f"\n{place_words(row.bin, row.tier, facts.bins) or 'no bin named'}, {one.name}: {_worm_words(one)}"
        for row, one in held
    )
    known = [count for _, _, count in parts if count]
    if not known:
        return Found(f"The log does not say how many.{told}", records=records)
    units = {one.unit for one in known}
    if len(units) > 1:
        return _by_weight(held, facts, told, records)
    low, best, high = (sum(getattr(one, end) for one in known) for end in ("low", "best", "high"))
    a = Amount(max(0.0, low), max(0.0, best), max(0.0, high), units.pop())
    what = "worms" if a.unit == "piece" else f"{a.unit} of worms"
    return Found(
        f"About {spread_words(Spread(a.low, a.best, a.high))} {what}, by what was said and counted; nobody can count them all.{told}",
        a.best,
        a.unit,
        a.low,
        a.high,
        records,
    )


def _named(one: Population, query: Query, facts: Facts) -> bool:
    return not query.items or facts.like(one.name, query.items) or one.name == "worms"


def _count(one: Population) -> Amount | None:
    """The estimate with what came and went since, where all are in one unit."""
    start = one.estimate.amount if one.estimate else None
    amounts = [*(a for a in one.added), *(a.scaled(-1) for a in one.removed)]
    units = {a.unit for a in amounts} | ({start.unit} if start else set())
    if len(units) != 1:
        return None
    every = [*([start] if start else []), *amounts]
    ends = [(min(a.low, a.high), a.best, max(a.low, a.high)) for a in every]
    return Amount(*(sum(end) for end in zip(*ends, strict=True)), units.pop())


def _worm_words(one: Population) -> str:
    parts = [f"estimated {amount_words(one.estimate.amount)}"] if one.estimate and one.estimate.amount else []
    parts += [
        f"{word} {amounts_words(held)}"
        for word, held in (("added", one.added), ("taken out", one.removed))
        if held
    ]
    if one.uncounted:
        parts.append(f"{len(one.uncounted)} times with no amount")
    return ", ".join(parts) or "seen"


def _by_weight(
    held: Sequence[tuple[BalanceRow, Population]], facts: Facts, told: str, records: tuple[str, ...]
) -> Found:
    kilos = [one.kg for _, one in held if one.kg]
    if not kilos:
        return Found(
            f"The log does not say: counts and weights do not go together here.{told}", records=records
        )
    a = _keepers(spread_total(kilos), facts)
    return Found(
        f"About {amount_words(a)} of worms, counts weighed by the size of each kind.{told}",
        a.best,
        a.unit,
        a.low,
        a.high,
        records,
    )


def mean_amount(query: Query, facts: Facts) -> Found:
    """What one of something usually is: the mean of those with an amount."""
    entries = [e for e in facts.choose(query) if e.record.amount]
    if not entries:
        return silent(query, facts)
    summed = total(entries, facts, query.unit)
    if summed.amount is None:
        return silent(query, facts)
    count = len(summed.counted)
    a = summed.amount.scaled(1 / count)
    sizes = [e.record.amount.best for e in entries if e.record.amount and e.record.amount.unit == a.unit]
    low, high = (min(sizes), max(sizes)) if sizes else (a.low, a.high)
    second = second_words(a, facts)
    return Found(
        f"{figure(a.best)} {a.unit} on average of {count}{f' ({second})' if second else ''}, {figure(low)} to {figure(high)}.{lines(entries, facts.bins)}",
        a.best,
        a.unit,
        low,
        high,
        ids(entries),
        summed.sources,
    )


def _leave(query: Query, facts: Facts) -> Found:
    """Days until the food that waits is eaten, at the rule's share of the worms' weight a day."""
    held = [row for row in rows(facts.books) if _meant(row, query)]
    food = [row.food.kg for row in held if row.food.kg]
    mass = [one.kg for row in held for one in row.worms if one.kg]
    rule = facts.trade.rules.need("feed_per_worms")
    gap = facts.trade.rules.need("feed_gap")
    records = tuple(
        dict.fromkeys(
            [i for r in held for i in r.food.records] + [i for r in held for w in r.worms for i in w.records]
        )
    )
    usual = f"Common practice leaves two weeks between feedings at most ({figure(gap.most)} days), less in the warm; bedding feeds them as well."
    if not food or not mass or spread_total(mass).best <= 0:
        return Found(
            f"The log does not say: it needs the food put in and the worms by weight or count. {usual}",
            records=records,
            sources=tuple(gap.source.split(";")),
        )
    eaten, waiting = spread_total(mass), spread_total(food)
    best = waiting.best / (eaten.best * rule.value)
    low, high = waiting.low / (eaten.high * rule.most), waiting.high / (max(eaten.low, 1e-9) * rule.least)
    text = f"About {figure(best)} days ({figure(low)} to {figure(high)}) on the food that waits: about {spread_words(waiting)} kg for {spread_words(eaten)} kg of worms. {usual} Heat and drying out are the greater risk: have somebody look."
    return Found(text, best, "day", low, high, records, (*rule.source.split(";"), *gap.source.split(";")))


def _charge(query: Query, facts: Facts) -> Found:
    """What was got for one before; no market is known here."""
    items = tuple(i for i in query.items if i)
    sales = [e for e in facts.choose(replace(query, kinds=("sell",), items=items)) if e.record.price]
    if not sales:
        return Found(
            "The log does not say: no sale with a price is on record. Prices differ from place to place: look at what is asked near you."
        )
    each = [
        (
            e.record.price.value
            / (e.record.amount.best if e.record.amount and e.record.amount.best > 0 else 1),
            e,
        )
        for e in sales
        if e.record.price
    ]
    prices = [price for price, _ in each]
    unit = sales[-1].record.price.currency if sales[-1].record.price else "USD"
    mean = fmean(prices)
    return Found(
        f"You got {mean:.2f} {unit} each on average of {len(prices)} sales, {min(prices):.2f} to {max(prices):.2f}. That is your own record, not what the market pays.{lines(sales, facts.bins)}",
        mean,
        unit,
        min(prices),
        max(prices),
        ids(sales),
    )


def _recover(query: Query, facts: Facts) -> Found:
    """Half taken away is back after one doubling."""
    rule = facts.trade.rules.find("doubling")
    low, best, high = (rule.least, rule.value, rule.most) if rule else (60.0, 75.0, 90.0)
    today = facts.now.date()
    when = (today + timedelta(days=round(best))).isoformat()
    text = f"About {figure(low)} to {figure(high)} days, to {day_words(when)} or so: a herd under good care is said to double in that time, and half needs one doubling. Room, food and warmth set the pace; look at cocoons and young on the way."
    return Found(text, best, "day", low, high, sources=(rule.source if rule else "STOCK",))


def _full(query: Query, facts: Facts) -> Found:
    """When a bin is full: only by its own readings of depth, else not known."""
    held = [
        e
        for e in facts.choose(replace(query, kinds=("bed", "progress")))
        if e.record.amount and e.record.amount.unit in ("inch", "cm")
    ]
    tail = f"{lines(held, facts.bins)}" if held else ""
    name = query.bin or "that bin"
    return Found(
        f"The log does not say: it has not got the height of {name} or how full it is. Note the depth in inches now and then, and the height of the tray.{tail}",
        records=ids(held),
    )


def _what_if(query: Query, facts: Facts) -> Found:
    """The record's own figures for what is to be changed, and what commonly goes with it."""
    from assistant.answers.advice import told_for

    return told_for(query, facts)


__all__ = ["Entry", "day_of", "estimate", "figures", "joined", "mean_amount", "stock", "worms"]
