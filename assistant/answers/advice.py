"""Should I, why, what if: what the record shows, what commonly goes with it, where to look. No verdict."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from assistant.answers.answer import Found
from assistant.answers.facts import Facts
from assistant.answers.query import Query
from assistant.answers.recall import ids
from assistant.answers.wording import ago, aside, line, place_words
from assistant.outlook import cautions
from assistant.records import READINGS, Entry, Record
from lexicon import Row

DEFAULT = "feed moisture smell temperature sighting leftover"


def advise(query: Query, facts: Facts) -> Found:
    """Should I ...: the record, the usual, and where to look; the keeper decides."""
    return told_for(query, facts)


def told_for(query: Query, facts: Facts) -> Found:
    """The three parts for the topic of a query."""
    row = topic_row(query, facts)
    entries = list(_shown(query, facts, row["looks"] if row else DEFAULT))
    place = place_words(query.bin, query.tiers[0] if query.tiers else None, facts.bins)
    shows = "".join(f"\n  {line(e, facts.bins)} ({ago(e.day, facts.now.date())})" for e in entries)
    head = (
        f"What the record shows{aside(place)}:{shows}"
        if entries
        else "The log does not say: nothing of it is on "
        f"record{' for ' + place if place else ''} in the last "
        f"{facts.terms.limits['advice_days']:g} days."
    )
    parts = [head]
    sources: tuple[str, ...] = ()
    if row:
        codes = row["source"].replace(";", ", ")
        parts.append(f"Possibly related: {row['goes_with'][:1].lower()}{row['goes_with'][1:]} [{codes}].")
        parts.append(f"To look at next: {row['next']}.")
        sources = tuple(row["source"].split(";"))
    else:
        parts.append(
            "To look at next: how wet it is, the smell, the warmth in the middle, and "
            "what is left of the last food."
        )
    warned = _cautions(query, facts, entries)
    parts += [f"Caution: {text}" for text, _ in warned]
    sources = tuple(dict.fromkeys((*sources, *(code for _, code in warned))))
    return Found("\n".join(parts), None, records=ids(entries), sources=sources)


def topic_row(query: Query, facts: Facts) -> Row | None:
    """The row of advice.csv for the topic that was understood."""
    return next((row for row in facts.lexicon.table("advice") if row["form"] == query.topic), None)


def _shown(query: Query, facts: Facts, looks: str) -> Iterator[Entry]:
    """The latest records of each sort that the topic calls for, in time order."""
    first = query.first or facts.now.date() - timedelta(days=facts.terms.limits["advice_days"])
    found: dict[str, Entry] = {}
    about = [(kind, query.items) for kind in query.kinds if query.items and kind != "harvest"]
    for kind, items in [*about, *(_sort(one) for one in looks.split())]:
        wanted = replace(query, kinds=(kind,), items=items, first=first, state="done", level=None)
        for entry in facts.choose(wanted)[-int(facts.terms.limits["advice_each"]) :]:
            found[entry.id] = entry
    yield from sorted(found.values(), key=lambda e: facts.place[e.id])


def _sort(word: str) -> tuple[str, tuple[str, ...]]:
    """ "sighting:fungus" -> a kind and its item."""
    kind, _, item = word.partition(":")
    return kind, (item,) if item else ()


def _cautions(query: Query, facts: Facts, entries: list[Entry]) -> list[tuple[str, str]]:
    """Usual cautions that the question touches."""
    asked = [
        Record(kind, item=item) for kind in query.kinds or ("remark",) for item in query.items or (None,)
    ]
    words = f"{query.topic} {' '.join(query.items)}"
    return [(one.text, one.source) for one in cautions(asked, words, facts.lexicon)][:2]


def why_record(query: Query, facts: Facts) -> Found | None:
    """ "Why did I stop using coir?" asks the record: what was last done with it, ruled out, and remarked."""
    if not query.items:
        return None
    done = facts.choose(replace(query, kinds=(), state="done"))
    ruled = facts.choose(replace(query, kinds=(), state="ruled_out"))
    remarks = facts.choose(replace(query, kinds=("remark",), state="done"))
    held = sorted({e.id: e for e in (*done[-1:], *ruled, *remarks)}.values(), key=lambda e: facts.place[e.id])
    if not held:
        return Found(f"The log does not say: nothing on {' or '.join(query.items)} is in it.")
    last = done[-1] if done else held[-1]
    around = [
        e
        for e in facts.choose(Query("list", kinds=tuple(READINGS), bin=last.record.bin))
        if 0 <= _days(last, e) <= facts.terms.limits["after_days"]
    ][:4]
    told = "".join(f"\n  {line(e, facts.bins)}" for e in held)
    seen = "".join(f"\n  {line(e, facts.bins)}" for e in around)
    reason = f"\nYour words: {'; '.join(e.record.text for e in ruled if e.record.text)}" if ruled else ""
    after = f"\nSeen in the three weeks after (possibly related):{seen}" if seen else ""
    return Found(
        f"{'The log gives no reason' if not ruled else 'From the log'}:{told}{reason}{after}",
        None,
        records=ids([*held, *around]),
    )


def _days(first: Entry, second: Entry) -> int:
    return (date.fromisoformat(second.day) - date.fromisoformat(first.day)).days
