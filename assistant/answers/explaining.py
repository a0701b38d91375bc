"""What a word of the trade means, why something may be so, and the story of a bin."""

from __future__ import annotations

from assistant.answers.advice import told_for, topic_row, why_record
from assistant.answers.answer import Found
from assistant.answers.facts import Facts
from assistant.answers.query import Query
from assistant.answers.recall import ids, silent
from assistant.answers.wording import count_words, day_words, joined, lines, place_words
from assistant.records import ACTIONS, Entry
from assistant.wording import what


def explain(query: Query, facts: Facts) -> Found:
    """The glossary for what a word means; the record and the usual for why."""
    if query.asks == "why":
        return _why(query, facts)
    if query.topic == "story":
        return story(query, facts)
    row = next((row for row in facts.lexicon.table("glossary") if row["form"] == query.topic), None)
    if row is None:
        return (
            told_for(query, facts)
            if topic_row(query, facts)
            else Found(
                "That is not in the glossary. Ask about a word of the trade, or about what is in the log."
            )
        )
    codes = row["source"].replace(";", ", ")
    return Found(f"{row['text']} [{codes}]", row["text"], sources=tuple(row["source"].split(";")))


def _why(query: Query, facts: Facts) -> Found:
    own = why_record(query, facts) if query.pick == "record" else None
    return own or told_for(query, facts)


def story(query: Query, facts: Facts) -> Found:
    """What the log has of a bin, from its start, in a few sentences."""
    if query.unknown:
        return silent(query, facts)
    entries = facts.choose(query, kinds=())
    if not entries:
        return silent(query, facts)
    place = place_words(query.bin, None, facts.bins) or "your bins"
    known = next((one for one in facts.setup if one.name == query.bin), None)
    since = f" It was started on {day_words(known.started)}." if known and known.started else ""
    fed = [e for e in entries if e.record.kind == "feed"]
    foods = list(dict.fromkeys(e.record.item for e in fed if e.record.item))
    marks = [
        e
        for e in entries
        if e.record.kind
        in ("start", "restack", "refresh", "harvest", "worms_added", "worms_removed", "treat")
    ]
    done = [e for e in entries if e.record.kind in ACTIONS]
    parts = [
        f"The story of {place}, from {day_words(entries[0].day)} to {day_words(entries[-1].day)}.{since}"
    ]
    if fed:
        parts.append(
            f"It was fed {count_words(len(fed), ('feed',))} of "
            f"{joined(foods[:6])}{' and more' if len(foods) > 6 else ''}."
        )
    parts.append(
        f"In all {count_words(len(done), ())} of work and {len(entries) - len(done)} "
        f"looks. The marks on the way:{lines(marks, facts.bins)}"
        if marks
        else f"In all {count_words(len(entries), ())}."
    )
    parts.append(_now(entries))
    return Found(" ".join(filter(None, parts)), " ".join(parts), records=ids(marks or entries[-8:]))


def _now(entries: list[Entry]) -> str:
    """The last look of each sort."""
    last: dict[str, Entry] = {
        e.record.kind: e for e in entries if e.record.kind not in ACTIONS and e.record.kind != "remark"
    }
    seen = [f"{what(e.record)} ({e.day})" for e in last.values()]
    return f"\nLast seen: {joined(seen)}." if seen else ""
