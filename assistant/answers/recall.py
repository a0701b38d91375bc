"""What happened: lists, the last and the first time, where, and whether at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from assistant.answers.answer import Found
from assistant.answers.facts import Facts
from assistant.answers.query import Query
from assistant.answers.wording import (
    cap,
    count_words,
    day_words,
    guessed,
    joined,
    kinds_words,
    lines,
    place_words,
    since,
    tell,
    where_words,
)
from assistant.records import ACTIONS, READINGS, Entry, Record
from assistant.wording import what


def ids(entries: Sequence[Entry]) -> tuple[str, ...]:
    """The ids of some entries."""
    return tuple(entry.id for entry in entries)


def silent(query: Query, facts: Facts) -> Found:
    """The answer where the log says nothing of it, which is not the same as "none"."""
    said = query.words(facts.bins)
    if query.unknown:
        return Found(f"The log does not say: it has nothing on {query.unknown}.")
    named = query.state == "done" and (query.kinds or query.items)
    ruled = facts.choose(replace(query, level=None), state="ruled_out") if named else []
    note = f" You ruled it out on {day_words(ruled[-1].day)}." if ruled else ""
    return Found(f"The log does not say: you did not mention it ({said}).{note}", records=ids(ruled))


def seen(entry: Entry) -> bool:
    """Whether a record tells of something there: not a look that found none."""
    return entry.record.kind != "sighting" or entry.record.level != 0


def found(query: Query, facts: Facts) -> list[Entry]:
    """The entries a recall rests on: those of the query, looks that found nothing left out."""
    if query.unknown:
        return []
    entries = facts.choose(query)
    return [e for e in entries if seen(e)] if not query.kinds or "sighting" in query.kinds else entries


def last(query: Query, facts: Facts) -> Found:
    """When, where, or what it was the last time; days since."""
    if query.asks == "age" or query.kinds == ("start",):
        return _begun(query, facts)
    entries = found(query, facts)
    if query.asks == "added":
        entries = [entry for entry in entries if entry.record.tier is None]
    if query.limit and entries and query.asks == "day":
        return listing(replace(query, asks="what"), facts)
    return _one(query, facts, entries, entries[-1:] and entries[-1].day)


def _begun(query: Query, facts: Facts) -> Found:
    """When a bin was started: by its record, else by the set-up; or how many days ago that is."""
    known = [one for one in facts.setup if one.started and query.bin in (None, one.name)]
    started = [] if query.unknown else facts.choose(replace(query, kinds=("start",), items=()))
    if not started and len(known) != 1:
        return silent(replace(query, kinds=("start",)), facts)
    day = started[-1].day if started else str(known[0].started)
    said = tell(started[-1:], facts.bins) if started else f"{known[0].name}, by the set-up"
    if query.asks != "age":
        return Found(f"{cap(since(day, facts.now.date()))}: {said}.", day, records=ids(started[-1:]))
    days = (facts.now.date() - date.fromisoformat(day[:10])).days
    return Found(
        f"{days} days, since {day_words(day)}: {said}.", float(days), "day", records=ids(started[-1:])
    )


def first(query: Query, facts: Facts) -> Found:
    """As `last`, for the first time on record."""
    entries = found(query, facts)
    return _one(query, facts, entries, entries[:1] and entries[0].day)


def _one(query: Query, facts: Facts, entries: list[Entry], day: str | Sequence[Entry]) -> Found:
    """The answer from the entries of one day."""
    if not entries or not isinstance(day, str):
        return silent(query, facts)
    that_day = [entry for entry in entries if entry.day == day]
    told = ASKED.get(query.asks, _day)(query, facts, that_day)
    return replace(told, text=told.text + moved(that_day[-1], query, facts))


def moved(entry: Entry, query: Query, facts: Facts) -> str:
    """A word where a tier is asked about and trays have changed places since."""
    if not query.tiers or entry.record.bin is None:
        return ""
    change = facts.latest(Query("last", kinds=("restack",), bin=entry.record.bin))
    if change is None or facts.place[change.id] < facts.place[entry.id]:
        return ""
    return f" Trays changed places on {day_words(change.day)}: the position is that of the day."


def _day(query: Query, facts: Facts, entries: list[Entry]) -> Found:
    day = entries[0].day
    coming = entries[0].record.state in ("planned", "expected")
    head = (
        f"Due {since(day, facts.now.date())}"
        if coming and entries[0].record.when
        else f"Said on {since(day, facts.now.date())}"
        if coming
        else since(day, facts.now.date())
    )
    value = None if coming and not entries[0].record.when else day
    return Found(f"{head}: {tell(entries, facts.bins)}.{guessed(query.taken)}", value, records=ids(entries))


def _days(query: Query, facts: Facts, entries: list[Entry]) -> Found:
    day = entries[0].day
    count = (facts.now.date() - date.fromisoformat(day)).days
    text = (
        f"{count} {'day' if count == 1 else 'days'}: {tell(entries, facts.bins)}, "
        f"{day_words(day)}.{guessed(query.taken)}"
    )
    return Found(text, float(count), "day", records=ids(entries))


def _took(query: Query, facts: Facts, entries: list[Entry]) -> Found:
    """How long food took to go: from the day it was given to the first look that found it gone."""
    given = entries[0].day
    gone = replace(query, kinds=("leftover",), level=(0.0, 0.0), first=date.fromisoformat(given))
    looks = facts.choose(gone)
    if not looks:
        text = f"The log does not say: no look found it gone. {cap(tell(entries, facts.bins))}, {given}."
        return Found(text, records=ids(entries))
    days = (date.fromisoformat(looks[0].day) - date.fromisoformat(given)).days
    seen_gone = f"{tell(looks[:1], facts.bins)}, {looks[0].day}"
    text = f"{days} days or less: {tell(entries, facts.bins)}, {given}; {seen_gone}."
    return Found(text, float(days), "day", records=ids([*entries, looks[0]]))


def _place(query: Query, facts: Facts, entries: list[Entry]) -> Found:
    places = list(dict.fromkeys(filter(None, (where_words(e.record, facts.bins) for e in entries))))
    day = entries[0].day
    if not places:
        return Found(
            f"The log does not say where ({tell(entries, facts.bins)}, {since(day, facts.now.date())}).",
            records=ids(entries),
        )
    value = joined(places)
    return Found(
        f"{cap(value)}: {joined(dict.fromkeys(what(e.record) for e in entries))}, "
        f"{since(day, facts.now.date())}.{guessed(query.taken)}",
        value,
        records=ids(entries),
    )


def _bin(query: Query, facts: Facts, entries: list[Entry]) -> Found:
    names = list(dict.fromkeys(e.record.bin for e in entries if e.record.bin))
    if not names:
        return _place(query, facts, entries)
    day = entries[0].day
    value = joined(names)
    return Found(
        f"{cap(value)}: {tell(entries, facts.bins)}, {since(day, facts.now.date())}.{guessed(query.taken)}",
        value,
        records=ids(entries),
    )


def _item(query: Query, facts: Facts, entries: list[Entry]) -> Found:
    items = list(dict.fromkeys(e.record.item for e in entries if e.record.item))
    day = entries[0].day
    if not items:
        return _day(query, facts, entries)
    value = items[0] if len(items) == 1 else joined(items)
    return Found(
        f"{cap(value)}: {tell(entries, facts.bins)}, {since(day, facts.now.date())}.{guessed(query.taken)}",
        value,
        records=ids(entries),
    )


ASKED = {"took": _took, "day": _day, "days": _days, "place": _place, "bin": _bin, "item": _item}
"""What is wanted of the records of the day -> how it is told."""


def listing(query: Query, facts: Facts) -> Found:
    """What was done, planned or seen, as a list."""
    if query.asks == "who" and query.kinds == ("buy",):
        query = replace(query, kinds=("sell", "give"))  # "who bought the castings" asks for our sales
    kinds = query.kinds or (
        tuple(ACTIONS) if query.asks == "what" and query.state == "done" and not query.items else ()
    )
    entries = [] if query.unknown else facts.choose(query, kinds)
    if query.asks == "what" and query.kinds:
        entries = [entry for entry in entries if seen(entry)]
    if query.limit:
        entries = _some(entries, query)
    also = _also(query, facts)
    if not entries:
        return (
            Found(f"Nothing is on record as done{_between(query, facts)}; {also.text}")
            if also
            else silent(query, facts)
        )
    values = [_short(entry.record, entry.day) for entry in entries]
    head = f"{_counted(entries)}{_between(query, facts)}"
    looks = f"\nAnd {also.text}" if also else ""
    return Found(
        f"{head}:{guessed(query.taken)}{lines(entries, facts.bins)}{looks}",
        list(values),
        records=ids(entries),
    )


def _also(query: Query, facts: Facts) -> Found | None:
    """The looks of a period, where what was done is asked for."""
    if query.kinds or query.items or query.state != "done" or query.unknown:
        return None
    looks = facts.choose(query, tuple(READINGS))
    number = "look" if len(looks) == 1 else "looks"
    return Found(f"{len(looks)} {number} besides.") if looks else None


def _counted(entries: Sequence[Entry]) -> str:
    kinds = tuple(dict.fromkeys(e.record.kind for e in entries))
    return count_words(len(entries), kinds)


def _between(query: Query, facts: Facts) -> str:
    """The items, places and days of a query."""
    words = replace(query, kinds=(), state="done").words(facts.bins).removeprefix("everything").lstrip(", ")
    return f", {words}" if words else ""


def _some(entries: Sequence[Entry], query: Query) -> list[Entry]:
    """The last (or first) so many times; several foods of one feeding are one time."""
    times = list(dict.fromkeys(map(occasion, entries)))
    kept = set(times[: query.limit] if query.pick == "first" else times[-query.limit :])
    return [entry for entry in entries if occasion(entry) in kept]


def occasion(entry: Entry) -> tuple[str, str, str, str | None, int | None]:
    """What makes two records one time: day, note, kind and place."""
    return entry.day, entry.note, entry.record.kind, entry.record.bin, entry.record.tier


def _short(record: Record, day: str) -> str:
    place = record.bin or ""
    tier = f" tier {record.tier}" if record.tier else ""
    return f"{day} {what(record)}{', ' + place + tier if place or tier else ''}"


def items(query: Query, facts: Facts) -> Found:
    """Which foods, beddings, creatures: the names, each once."""
    entries = found(query, facts)
    names = list(dict.fromkeys(e.record.item for e in entries if e.record.item))
    if not names:
        return silent(query, facts)
    return Found(
        f"{joined(names)} "
        f"({count_words(len(entries), query.kinds)}).{guessed(query.taken)}{lines(entries, facts.bins)}",
        list(names),
        records=ids(entries),
    )


def places(query: Query, facts: Facts) -> Found:
    """Which bins or trays."""
    entries = found(query, facts)
    names = list(
        dict.fromkeys(
            filter(
                None,
                (
                    place_words(e.record.bin, e.record.tier if query.by == "tier" else None, facts.bins)
                    for e in entries
                ),
            )
        )
    )
    if not names:
        return silent(query, facts)
    value = names[0] if len(names) == 1 else list(names)
    return Found(
        f"{joined(names)}: {kinds_words(query.kinds, query.items, query.state)}.{lines(entries, facts.bins)}",
        value,
        records=ids(entries),
    )


def source(query: Query, facts: Facts) -> Found:
    """Where worms or a thing came from: taken out of another bin, bought, or not said."""
    kinds = ("worms_removed", "buy", "move", "worms_added")
    entries = [
        e for e in facts.choose(replace(query, kinds=kinds, asks="")) if e.record.kind != "worms_added"
    ]
    if not entries:
        return silent(replace(query, kinds=kinds[:2]), facts)
    entry = entries[-1]
    value = "bought" if entry.record.kind == "buy" else where_words(entry.record, facts.bins)
    if entry.record.bin and entry.record.kind != "buy":
        value = entry.record.bin
    return Found(
        f"{cap(value)}: {tell([entry], facts.bins)}, {since(entry.day, facts.now.date())}.",
        value,
        records=(entry.id,),
    )
