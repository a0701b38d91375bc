"""Places that were not looked at, fed or otherwise seen to in a while."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from assistant.answers.answer import Found
from assistant.answers.facts import Facts
from assistant.answers.query import Query, Spot
from assistant.answers.wording import ago, cap, joined, place_words
from assistant.records import READINGS, Entry


def unseen(query: Query, facts: Facts) -> Found:
    """The bins and trays with no such record in the period, and the day of the last one."""
    kinds = tuple(kind for kind in query.kinds if kind != "check") or (*READINGS, "check")
    today = facts.now.date()
    first = query.first or today - timedelta(days=facts.terms.limits["unseen_after"])
    left: list[tuple[str, Entry | None]] = []
    for spot in _spots(query, facts):
        at = replace(
            query,
            kinds=kinds,
            items=query.items,
            bin=spot.bin,
            tiers=(spot.tier,) if spot.tier else (),
            spots=(),
        )
        last = facts.latest(at)
        if last is None or last.day < first.isoformat():
            left.append((place_words(spot.bin, spot.tier, facts.bins), last))
    if not left:
        return Found("Nothing: there is a record of every place since then.", [])
    told = "".join(
        f"\n{name}: {f'last {e.day}, {ago(e.day, today)}' if e else 'not mentioned at all'}"
        for name, e in left
    )
    return Found(
        f"{cap(joined(n for n, _ in left))}.{told}",
        [n for n, _ in left],
        records=tuple(e.id for _, e in left if e),
    )


def _spots(query: Query, facts: Facts) -> list[Spot]:
    """Every tray of the bins asked about, every bin of one tray."""
    bins = [one for one in facts.setup if query.bin in (None, one.name)]
    spots: list[Spot] = []
    for one in bins:
        tiers = range(1, one.tiers + 1) if one.tiers > 1 and query.by != "bin" else (None,)
        spots += [Spot(one.name, tier) for tier in tiers if not query.tiers or tier in query.tiers]
    return spots
