"""Sums of the trade on what is asked: a mix brought to a wetness, a C:N, an amount in another unit."""

from __future__ import annotations

from dataclasses import replace

from assistant import formulas
from assistant.answers.answer import Found
from assistant.answers.facts import Facts
from assistant.answers.query import Query
from assistant.answers.recall import silent
from assistant.answers.stocks import _keepers
from assistant.answers.sums import convert as brought_to
from assistant.answers.sums import dimension, second_words
from assistant.balance.spread import Spread
from assistant.balance.wording import amount_words, figure, spread_words, unit_words
from assistant.records import Amount
from assistant.wording import what

GOAL = "mix_moisture"


def convert(query: Query, facts: Facts) -> Found:
    """An amount in another unit, by the definition of the units, or by the density of what is named."""
    if not query.amounts or not query.unit:
        return Found("I can't tell: give an amount and the unit that it is to be in.")
    amount = next((a for a in query.amounts if a.unit != query.unit), query.amounts[0])
    item = query.items[0] if query.items else None
    topics = [thing.topic for thing in facts.terms.things.get(item or "", ())]
    brought = (
        brought_to(amount, query.unit, facts, item, topics[0] if topics else "food")
        if _can(amount, query, facts, item)
        else None
    )
    if brought is None:
        return Found(
            f"I can't tell: {amount.unit} and {query.unit} do not measure the "
            f"same{'' if item else ', and nothing is named whose density could bridge them'}."
        )
    a = Amount(*brought.spread, query.unit)
    basis = f" ({brought.basis})" if brought.basis else ""
    of = f" of {item}" if item else ""
    return Found(
        f"{amount_words(amount)}{of} = {_fine(brought.spread)} {unit_words(query.unit, a.best)}{basis}.",
        a.best,
        a.unit,
        a.low,
        a.high,
        sources=brought.sources,
    )


def _fine(spread: Spread) -> str:
    low, best, high = (f"{value:.4g}" for value in spread)
    return best if low == high else f"{best} ({low} to {high})"


def _can(amount: Amount, query: Query, facts: Facts, item: str | None) -> bool:
    """Between mass and volume only for something that is named."""
    one, two = dimension(amount.unit, facts), dimension(query.unit or "", facts)
    bulk = {"volume", "own"}
    return one == two or {one, two} <= bulk or item is not None


def mix(query: Query, facts: Facts) -> Found:
    """How much of a material brings a bed or a named amount to the right wetness; or the C:N of a mix."""
    if query.topic == "c_to_n":
        return _ratio(query, facts)
    percents = [a.best for a in query.amounts if a.unit == "percent"]
    masses = [a for a in query.amounts if dimension(a.unit, facts) == "mass"]
    bedding = next(
        (i for i in query.items if any(t.topic == "bedding" for t in facts.terms.things.get(i, ()))),
        "shredded cardboard",
    )
    dry = facts.terms.trade.converter.substance(bedding, "bedding").moisture
    rule = facts.terms.trade.rules.find(GOAL) or facts.terms.trade.rules.need("bin_moisture")
    goal = percents[1] if len(percents) > 1 else rule.value
    if masses and percents:
        return _named(masses[0], percents[0], goal, bedding, dry.best if dry else None, rule.source)
    return _bed(query, facts, bedding, dry.best if dry else None, goal, rule.source)


def _named(mass: Amount, has: float, goal: float, bedding: str, dry: float | None, source: str) -> Found:
    """An amount and its wetness as said."""
    try:
        if goal > has:
            need, added = formulas.water_to_add(mass.best, has, goal), "water"
        elif dry is None:
            return Found(f"I can't tell: the moisture of {bedding} is not known.")
        else:
            need, added = formulas.second_for_moisture(mass.best, has, dry, goal), bedding
    except ValueError as why:
        return Found(f"I can't tell: {why}.")
    told = f" at {figure(dry)} % moisture" if added != "water" and dry is not None else ""
    return Found(
        f"{need:.3g} {mass.unit} of {added}{told} brings {figure(mass.best)} "
        f"{mass.unit} at {figure(has)} % to {figure(goal)} %. Add it by halves and "
        "squeeze in between.",
        need,
        mass.unit,
        sources=("CWMI-moist", source),
    )


def _bed(query: Query, facts: Facts, bedding: str, dry: float | None, goal: float, source: str) -> Found:
    """The bed as it is reckoned to be, or by the last figure in percent."""
    last = facts.latest(replace(query, kinds=("moisture",), items=(), state="done", level=None))
    records = (last.id,) if last else ()
    bed = _reckoned(query, facts)
    if bed is None or dry is None:
        said = f" Last look: {what(last.record)}, {last.day}." if last else ""
        return Found(
            "The log does not say enough: it needs the weight of the bed and how wet it is. Common practice "
            f"is a double handful of dry {bedding}, mixed in, and another look the next day.{said}",
            records=records,
            sources=("MEMORY",),
        )
    mass, has = bed
    amount = last.record.amount if last else None
    if amount and amount.unit == "percent":
        has = amount.best
    if has <= goal:
        return Found(
            f"By the record it is at {figure(has)} %, not above {figure(goal)} %: no dry bedding is needed "
            "to bring it there. Trust a squeeze more than this figure.",
            0.0,
            "kg",
            records=records,
            sources=("CWMI-moist", source),
        )
    need = formulas.second_for_moisture(mass, has, dry, goal)
    loose = facts.terms.limits["mix_loose"]
    a = _keepers(Spread(need * (1 - loose), need, need * (1 + loose)), facts)
    second = second_words(a, facts)
    text = (
        f"About {amount_words(a)}{f', or {second}' if second else ''} of dry {bedding}, reckoned from "
        f"{figure(mass)} kg on record at {figure(has)} % to {figure(goal)} %. "
        "It is a rough figure: add half, mix, squeeze."
    )
    return Found(text, a.best, a.unit, a.low, a.high, records, ("CWMI-moist", source))


def _reckoned(query: Query, facts: Facts) -> tuple[float, float] | None:
    """The fresh mass (kg) and moisture (%) of what was put in and is still there; None where not known."""
    held = [
        row
        for row in facts.rows
        if query.bin in (None, row.bin) and (not query.tiers or row.tier in query.tiers)
    ]
    made = [row.makeup for row in held if row.makeup.moisture and row.makeup.dry.best > 0]
    mass = sum(one.dry.best + one.water.best for one in made)
    return (mass, formulas.moisture(mass, sum(one.dry.best for one in made))) if made else None


def _ratio(query: Query, facts: Facts) -> Found:
    """The C:N of the materials named, each with its amount."""
    parts, told = [], []
    for item, amount in zip(query.items, query.amounts, strict=False):
        topic = next((t.topic for t in facts.terms.things.get(item, ())), "food")
        of = facts.terms.trade.converter.substance(item, topic)
        kilos = facts.terms.trade.converter.kilograms(amount, item, topic)
        if not kilos or not of.moisture or not of.nitrogen or not of.c_to_n:
            return Found(f"I can't tell: the weight, moisture or nitrogen of {item} is not known.")
        carbon = formulas.carbon_from_ratio(of.nitrogen.best, of.c_to_n.best)
        parts.append(formulas.Ingredient(kilos.best, of.moisture.best, carbon, of.nitrogen.best))
        told.append(f"{amount_words(amount)} {item} ({spread_words(kilos)} kg, C:N {figure(of.c_to_n.best)})")
    if not parts:
        return silent(query, facts)
    ratio = formulas.blend_c_to_n(parts)
    return Found(f"C:N about {figure(ratio)}: {', '.join(told)}.", ratio, "ratio", sources=("CWMI-2",))
