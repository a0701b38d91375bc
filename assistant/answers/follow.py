"""Short questions that lean on the one before: "and the tub?", "in pounds?", "why?", "and last month?"."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from assistant.answers.facts import Facts
from assistant.answers.periods import periods
from assistant.answers.phrases import Heard, phrases
from assistant.answers.query import Query
from assistant.answers.understand import read, topic_of

LONGEST = 7
"""A follow-up has at most so many words."""
LEANING = frozenset(("that", "them", "those", "it"))
RECALL = frozenset(("total", "last", "first", "count", "list", "level", "rate", "yes_no"))
ALONE = {
    "why": ("explain", "why"),
    "how come": ("explain", "why"),
    "when": ("last", "day"),
    "when was that": ("last", "day"),
    "where": ("last", "place"),
    "how much": ("total", "amount"),
    "how many": ("total", "amount"),
    "how many times": ("count", "times"),
    "how often": ("rate", "every"),
    "which ones": ("list", "what"),
    "which bin": ("last", "bin"),
    "how long ago": ("last", "days"),
    "what was it": ("last", "item"),
    "and before that": ("", "earlier"),
    "before that": ("", "earlier"),
    "and the time before": ("", "earlier"),
}


def follow(heard: Heard, facts: Facts, before: Query) -> Query | None:
    """The query of a follow-up, None where the words make a question of their own."""
    words = [w for w in heard.words if w not in ("and", "ok", "so")]
    if not words or len(heard) > LONGEST:
        return None
    alone = ALONE.get(" ".join(words)) or ALONE.get(" ".join(heard.words))
    if alone:
        return _again(before, alone, facts)
    reading = read(heard, facts, before.bin)
    if set(reading.cues) - {
        "each",
        "have",
        "stock",
        "what",
        "compare",
        "most",
        "least",
        "sofar",
        "money",
    } or (reading.subject.acts and "what" not in words[:1]):
        return None
    changed = replace(before, taken=(), topic=before.topic)
    where = reading.targets
    if where.unknown:
        changed = replace(changed, unknown=where.unknown, bin=None, tiers=())
    elif where.spots:
        bin_, tiers = where.spots[0].bin, tuple(s.tier for s in where.spots if s.tier)
        changed = replace(changed, unknown="", bin=bin_, tiers=tiers, spots=(), by="")
    if reading.subject.items:
        changed = replace(
            changed,
            items=reading.subject.items,
            kinds=before.kinds if _same_topic(before, reading.subject.kinds) else reading.subject.kinds,
        )
    elif reading.subject.kinds:
        changed = replace(changed, kinds=reading.subject.kinds, items=())
    days = periods(heard.sketch, (0, len(heard.sketch.words)), before.want == "next")
    if days:
        changed = replace(changed, first=days[0][0], last=days[0][1], after=None, before=None)
    unit = next((hit.row["unit"] for hit in phrases(facts.lexicon, "units").longest(heard.words)), None)
    if unit:
        changed = replace(changed, unit=unit)
    return None if changed == replace(before, taken=()) else changed


def _same_topic(before: Query, kinds: tuple[str, ...]) -> bool:
    """Whether the new thing can be asked about as the one before was."""
    return (
        not kinds
        or bool(set(before.kinds) & set(kinds))
        or bool(set(before.kinds) & {"sell", "give", "buy", "prepare"})
    )


def _again(before: Query, asked: tuple[str, str], facts: Facts) -> Query:
    """The same records, another side of them."""
    want, asks = asked
    if asks == "earlier":
        found = facts.choose(before)
        marks = [e for e in found if e.day == found[-1].day]
        return replace(before, want="last", before=marks[0].id if marks else None)
    query = replace(before, want=want, asks=asks, taken=())
    return (
        replace(query, topic=topic_of(" ".join((*before.items, *before.kinds)).split(), facts, "advice"))
        if want == "explain"
        else query
    )


def leaning(query: Query, heard: Heard, facts: Facts, before: Query) -> Query:
    """A question of its own that says "that" or "them": what it leaves open is as in the question before."""
    said = query.kinds and "that" not in heard.words
    if not LEANING & set(heard.words) or query.items or said or query.want not in RECALL:
        return query
    filled = replace(
        query, kinds=before.kinds, items=before.items, state=before.state, unknown=before.unknown
    )
    if not (query.bin or query.tiers or query.spots):
        filled = replace(filled, bin=before.bin, tiers=before.tiers)
    if query.first or query.last:
        return filled
    if before.want not in ("last", "first"):
        return replace(filled, first=before.first, last=before.last, after=before.after, before=before.before)
    found = facts.choose(before)
    if not found:
        return filled
    day = date.fromisoformat(found[0 if before.want == "first" else -1].day)
    return replace(filled, first=day, last=day)
