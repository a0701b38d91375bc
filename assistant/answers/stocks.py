"""What there is: stocks beside the bins, food waiting in them, worms, and the few reckonings on top."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from statistics import fmean

from assistant.answers.advice import told_for
from assistant.answers.answer import Found, Value
from assistant.answers.facts import Facts
from assistant.answers.query import Query
from assistant.answers.recall import ids, silent
from assistant.answers.sums import common_unit, convert, dimension, second_words, size_of, total
from assistant.answers.wording import count_words, day_words, joined, lines, place_words
from assistant.balance.rows import BalanceRow
from assistant.balance.spread import Spread
from assistant.balance.spread import total as spread_total
from assistant.balance.stocks import Stock, stocks
from assistant.balance.wording import (
    amount_words,
    amounts_words,
    figure,
    heap_words,
    spread_words,
    unit_words,
)
from assistant.records import Amount, Entry


def stock(query: Query, facts: Facts) -> Found:
    """What is left of something: beside the bins, or waiting as food in a bin that is named."""
    if query.unknown:
        return silent(query, facts)
    if query.bin or query.tiers or query.kinds in (("feed",), ("leftover",)):
        return _waiting(query, facts)
    kept = [one for one in stocks(facts.books) if _asked(one, query, facts)]
    if not kept:
        return silent(query, facts)
    told = "".join(f"\n{one.item}: {_stock_words(one, facts)}" for one in kept)
    records = tuple(dict.fromkeys(id_ for one in kept for id_ in one.records))
    if len(kept) > 1:
        values: list[Value] = [_stock_row(one, facts) for one in kept]
        return Found(f"{joined(one.item for one in kept).capitalize()}:{told}", values, records=records)
    now = _now(kept[0], facts)
    if now is None:
        return Found(f"The log does not say how much is left.{told}", records=records)
    head = f"About {amount_words(now)} of {kept[0].item}, by what came in and went out"
    return Found(f"{head}.{told}", now.best, now.unit, now.low, now.high, records)


def _asked(one: Stock, query: Query, facts: Facts) -> bool:
    """A stock that a question names; finished castings where it only asks what is ready or curing."""
    items = query.items or (("castings",) if query.kinds == ("progress",) else ())
    return not items or facts.terms.like(one.item, items)


def _now(one: Stock, facts: Facts) -> Amount | None:
    """What should be there; None where units do not go together, or more went out than came in on record."""
    units = {a.unit for a in (*one.came_in, *one.went_out)}
    wide = any(dimension(unit, facts) == "own" and size_of(unit, facts) is None for unit in units)
    if one.now is None or one.now.best < 0 or (len(units) > 1 and wide):
        return None
    return one.now


def _stock_row(one: Stock, facts: Facts) -> Value:
    now = _now(one, facts)
    return [one.item, round(now.best, 4) if now else None, now.unit if now else None]


def _stock_words(one: Stock, facts: Facts) -> str:
    parts = [
        f"{word} {amounts_words(held)}" for word, held in (("in", one.came_in), ("out", one.went_out)) if held
    ]
    if one.uncounted:
        parts.append(f"{len(one.uncounted)} with no amount")
    now = _now(one, facts)
    if now:
        return f"{', '.join(parts)}, should be {amount_words(now)}"
    units = {a.unit for a in (*one.came_in, *one.went_out)}
    why = "these measures do not go together" if len(units) > 1 else "more went out than came in on record"
    return f"{', '.join(parts)}; {why}" if units else ", ".join(parts)


def _waiting(query: Query, facts: Facts) -> Found:
    """Food reckoned to be waiting in a bin or tray."""
    held = [row for row in facts.rows if _meant(row, query) and row.food.records]
    if not held:
        return silent(query, facts)
    kilos = [row.food.kg for row in held if row.food.kg]
    told = "; ".join(
        f"{place_words(r.bin, r.tier, facts.bins)}: {heap_words(r.food, 'feeding')} "
        f"put in, {amounts_words(r.food.left) or 'amount not known'} reckoned left"
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
    pound = float(facts.terms.measures["lb"]["base"]) / 1000
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
    """Worms by the last estimate of each bin, with what was put in and taken out since."""
    flows = facts.choose(replace(query, kinds=("worm_estimate", "worms_added", "worms_removed"), first=None))
    if not flows:
        return silent(replace(query, kinds=("worm_estimate", "worms_added")), facts)
    counted = [entry for held in _since_estimate(flows) for entry in held]
    units = Counter(e.record.amount.unit for e in counted if e.record.amount)
    told = lines(counted, facts.bins)
    if not units:
        return Found(f"The log does not say how many.{told}", records=ids(counted))
    unit = query.unit or ("piece" if "piece" in units else common_unit(units, facts))
    low = best = high = 0.0
    left_out = 0
    for entry in counted:
        brought = (
            convert(entry.record.amount, unit, facts, entry.record.item, "organism")
            if entry.record.amount
            else None
        )
        if brought is None:
            left_out += 1
        elif entry.record.kind == "worms_removed":
            low, best, high = low - brought.spread.high, best - brought.spread.best, high - brought.spread.low
        else:
            low, best, high = low + brought.spread.low, best + brought.spread.best, high + brought.spread.high
    a = Amount(max(0.0, low), max(0.0, best), max(0.0, high), unit)
    what = "worms" if unit == "piece" else f"{unit_words(unit, best)} of worms"
    missing = f", and {left_out} times with no amount" if left_out else ""
    text = (
        f"About {spread_words(Spread(a.low, a.best, a.high))} {what} by estimate and "
        f"count{missing}; nobody can count them all."
    )
    return Found(text + told + _gone(query, facts), a.best, a.unit, a.low, a.high, ids(counted))


def _since_estimate(flows: Sequence[Entry]) -> list[list[Entry]]:
    """For each bin: the last estimate of its worms, and what came and went after it (or ever)."""
    by: dict[str | None, list[Entry]] = {}
    for entry in flows:
        held = by.setdefault(entry.record.bin, [])
        if entry.record.kind == "worm_estimate":
            held[:] = [
                one
                for one in held
                if one.record.kind == "worm_estimate" and one.record.tier != entry.record.tier
            ]
            if entry.record.tier is None:
                held.clear()
        held.append(entry)
    return list(by.values())


def _gone(query: Query, facts: Facts) -> str:
    """Worms sold or given away, which no bin is named for and which are not taken off."""
    gone = facts.choose(
        replace(query, kinds=("sell", "give"), bin=None, tiers=(), items=query.items or ("worms",))
    )
    return (
        f"\nNot taken off: {count_words(len(gone), ())} of worms sold or given away with no bin named."
        if gone and not query.bin
        else ""
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
    text = f"{amount_words(a)}{f' ({second})' if second else ''} on average of {count}"
    text += f", {figure(low)} to {figure(high)}" if low < high else ""
    return Found(
        f"{text}.{lines(entries, facts.bins)}", a.best, a.unit, low, high, ids(entries), summed.sources
    )


def _leave(query: Query, facts: Facts) -> Found:
    """Days until the food that waits is eaten, at the rule's share of the worms' weight a day."""
    held = [row for row in facts.rows if _meant(row, query)]
    food = [row.food.kg for row in held if row.food.kg]
    mass = [one.kg for row in held for one in row.worms if one.kg]
    rule = facts.terms.trade.rules.need("feed_per_worms")
    gap = facts.terms.trade.rules.need("feed_gap")
    records = tuple(
        dict.fromkeys(
            [i for r in held for i in r.food.records] + [i for r in held for w in r.worms for i in w.records]
        )
    )
    usual = (
        f"Common practice leaves two weeks between feedings at most ({figure(gap.most)} "
        "days), less in the warm; bedding feeds them as well."
    )
    if not food or not mass or spread_total(mass).best <= 0:
        return Found(
            f"The log does not say: it needs the food put in and the worms by weight or count. {usual}",
            records=records,
            sources=tuple(gap.source.split(";")),
        )
    eaten, waiting = spread_total(mass), spread_total(food)
    best = waiting.best / (eaten.best * rule.value)
    low, high = waiting.low / (eaten.high * rule.most), waiting.high / (max(eaten.low, 1e-9) * rule.least)
    text = (
        f"About {figure(best)} days ({figure(low)} to {figure(high)}) on the food that "
        f"waits: about {spread_words(waiting)} kg for {spread_words(eaten)} kg of worms. "
        f"{usual} Heat and drying out are the greater risk: have somebody look."
    )
    return Found(text, best, "day", low, high, records, (*rule.source.split(";"), *gap.source.split(";")))


def _charge(query: Query, facts: Facts) -> Found:
    """What was got for one before; no market is known here."""
    sales = [e for e in facts.choose(replace(query, kinds=("sell",))) if e.record.price]
    if query.unit:
        sales = [e for e in sales if e.record.amount and e.record.amount.unit == query.unit]
    if not sales:
        return Found(
            "The log does not say: no such sale with a price is on record. Prices "
            "differ from place to place: "
            "look at what is asked near you."
        )
    prices, currency = [], ""
    for entry in sales:
        amount, price = entry.record.amount, entry.record.price
        if price:
            prices.append(price.value / (amount.best if amount and amount.best > 0 else 1))
            currency = price.currency
    mean, low, high = fmean(prices), min(prices), max(prices)
    spread = f", {low:.2f} to {high:.2f}" if low < high else ""
    one = f"a {unit_words(query.unit, 1)}" if query.unit else "each"
    text = f"You got {mean:.2f} {currency} {one} on average of {count_words(len(sales), ('sell',))}{spread}. "
    text += f"That is your own record, not what the market pays.{lines(sales, facts.bins)}"
    return Found(text, mean, currency, low, high, ids(sales))


def _recover(query: Query, facts: Facts) -> Found:
    """Half taken away is back after one doubling."""
    rule = facts.terms.trade.rules.find("doubling")
    low, best, high = (rule.least, rule.value, rule.most) if rule else (60.0, 75.0, 90.0)
    today = facts.now.date()
    when = (today + timedelta(days=round(best))).isoformat()
    text = (
        f"About {figure(low)} to {figure(high)} days, to {day_words(when)} or so: a herd "
        "under good care is said to double in that time, and half needs one doubling. "
        "Room, food and warmth set the pace; look at cocoons and young on the way."
    )
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
        f"The log does not say: it has not got the height of {name} or how full it is. "
        f"Note the depth in inches now and then, and the height of the tray.{tail}",
        records=ids(held),
    )


def _what_if(query: Query, facts: Facts) -> Found:
    """The record's own figures for what is to be changed, and what commonly goes with it."""
    told = told_for(query, facts)
    row = next((row for row in facts.lexicon.table("glossary") if row["form"] == query.topic), None)
    if row:
        codes = row["source"].replace(";", ", ")
        return replace(
            told, text=f"{row['text']} [{codes}]", records=(), sources=tuple(row["source"].split(";"))
        )
    pace = _twice(query, facts) if query.pick == "double" else None
    if pace is None:
        return told
    sources = tuple(dict.fromkeys((*pace.sources, *told.sources)))
    records = tuple(dict.fromkeys((*pace.records, *told.records)))
    return replace(told, text=f"{pace.text}\n{told.text}", records=records, sources=sources)


def _twice(query: Query, facts: Facts) -> Found | None:
    """What twice the feeding of late would be, beside what the worms on record eat by the rule."""
    today = facts.now.date()
    days = facts.terms.limits["advice_days"]
    fed = facts.choose(replace(query, kinds=("feed",), items=(), first=today - timedelta(days=days)))
    summed = total(fed, facts, "kg")
    mass = [one.kg for row in facts.rows if _meant(row, query) for one in row.worms if one.kg]
    if summed.amount is None or not mass:
        return None
    rule = facts.terms.trade.rules.need("feed_per_worms")
    week = facts.terms.limits["week"]
    twice = _keepers(
        Spread(summed.amount.low, summed.amount.best, summed.amount.high).scaled(2 * week / days), facts
    )
    eaten = spread_total(mass)
    eats = _keepers(
        Spread(eaten.low * rule.least, eaten.best * rule.value, eaten.high * rule.most).scaled(week), facts
    )
    text = f"Twice what you fed over the last {days:g} days is {amount_words(twice)} a week; "
    text += f"the worms on record would eat {amount_words(eats)} a week by the rule of thumb."
    return Found(text, records=ids(fed), sources=tuple(rule.source.split(";")))
