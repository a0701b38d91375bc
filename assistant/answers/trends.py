"""Whether something rises, falls or keeps steady: the median of the slopes between all pairs of looks.

That estimator is from Theil (1950) and Sen (1968), from memory; one odd look does not sway it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from itertools import combinations, pairwise
from statistics import median

from assistant.answers.answer import Found
from assistant.answers.facts import Facts
from assistant.answers.levels import figures, looks
from assistant.answers.query import Query
from assistant.answers.recall import ids, silent
from assistant.answers.sums import total
from assistant.answers.wording import aside, guessed, kinds_words, lines, place_words
from assistant.balance.wording import figure
from assistant.records import READINGS, Entry

Points = Sequence[tuple[float, float]]


def slope(points: Points) -> float | None:
    """The Theil-Sen slope of (day, value) points; None where no two stand on different days."""
    slopes = [(y2 - y1) / (x2 - x1) for (x1, y1), (x2, y2) in combinations(points, 2) if x1 != x2]
    return median(slopes) if slopes else None


def direction(points: Points, step: float) -> str | None:
    """ "rising", "falling", or "steady" where the whole change is under `step`; None for one look."""
    found = slope(points)
    if found is None:
        return None
    change = found * (max(x for x, _ in points) - min(x for x, _ in points))
    if abs(change) < step:
        return "steady"
    return "rising" if change > 0 else "falling"


def trend(query: Query, facts: Facts) -> Found:
    """The trend of a reading, or of what is done in between: amounts a day since the time before."""
    query = _meant(query, facts)
    if not query.kinds:
        return Found(f"The log does not say: it has no readings of that ({query.words(facts.bins)}).")
    if all(kind in READINGS for kind in query.kinds):
        held = looks(query, facts)
        numbers = figures(held, query, facts)
        points = [(float(date.fromisoformat(e.day).toordinal()), value, e) for e, value, _ in numbers]
    else:
        points = _flow(query, facts)
    points = points if query.first else points[-int(facts.terms.limits["trend_most"]) :]
    pairs = [(x, y) for x, y, _ in points]
    found = direction(pairs, _step(query.kinds[0], pairs, facts))
    entries = [e for _, _, e in points]
    if found is None:
        if not entries:
            return silent(query, facts)
        return Found(
            f"The log does not say: one record is no trend.{lines(entries, facts.bins)}", records=ids(entries)
        )
    return Found(_told(query, facts, found, pairs, entries), found, records=ids(entries))


def _told(query: Query, facts: Facts, found: str, pairs: Points, entries: Sequence[Entry]) -> str:
    row = _row(query.kinds[0], facts)
    word = {"rising": row["up"], "falling": row["down"]}.get(found, "steady") if row else found
    place = place_words(query.bin, query.tiers[0] if query.tiers else None, facts.bins)
    head = (
        f"{found.capitalize()}{', ' + word if word != found else ''}: "
        f"{kinds_words(query.kinds, query.items)}{aside(place)}, "
    )
    head += (
        f"{figure(pairs[0][1])} to {figure(pairs[-1][1])} over {len(pairs)} records from "
        f"{entries[0].day} to {entries[-1].day}."
    )
    taken = guessed(query.taken)
    return head + taken + lines(entries, facts.bins)


def _meant(query: Query, facts: Facts) -> Query:
    """One kind: the first with two records. A population is what was estimated, else what was seen."""
    if len(query.kinds) > 1:
        told = [kind for kind in query.kinds if len(facts.choose(query, (kind,))) > 1]
        return replace(query, kinds=tuple(told[:1]) or query.kinds[:1])
    if query.kinds == ("worm_estimate",) and len(facts.choose(query)) < 2:
        seen = facts.choose(replace(query, kinds=("sighting",), items=("worms", "juvenile worms", "cocoons")))
        if len(seen) > 1:
            return replace(query, kinds=("sighting",), items=("worms", "juvenile worms", "cocoons"))
    return query


def _flow(query: Query, facts: Facts) -> list[tuple[float, float, Entry]]:
    """For what is done: the amount a day since the time before; once in so many days where amounts lack."""
    by: dict[str, list[Entry]] = {}
    every = facts.choose(query)
    for entry in every:
        by.setdefault(entry.day, []).append(entry)
    whole = total(every, facts, query.unit)
    unit = whole.amount.unit if whole.amount else None
    told = {day: total(held, facts, unit).amount for day, held in by.items()} if unit else {}
    sizes = {day: amount.best for day, amount in told.items() if amount and amount.unit == unit}
    if len(sizes) * 2 < len(by):
        sizes = dict.fromkeys(by, 1.0)
    found = []
    for before, day in pairwise(by):
        apart = date.fromisoformat(day).toordinal() - date.fromisoformat(before).toordinal()
        if day in sizes:
            found.append(
                (float(date.fromisoformat(day).toordinal()), sizes[day] / max(1, apart), by[day][-1])
            )
    return found


def _row(kind: str, facts: Facts) -> dict[str, str] | None:
    return next((dict(row) for row in facts.lexicon.table("trends") if row["form"] == kind), None)


def _step(kind: str, pairs: Points, facts: Facts) -> float:
    """The least change that counts: of lexicon/words/trends.csv, else a share of the middle value."""
    row = _row(kind, facts)
    if row and row["step"]:
        return float(row["step"])
    share = float((_row("", facts) or _row("other", facts) or {"share": "0.1"})["share"] or 0.1)
    return share * abs(median(y for _, y in pairs)) if pairs else 0.0
