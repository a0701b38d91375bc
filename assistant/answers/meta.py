"""Questions about the log itself: what was understood, what was changed, how many bins there are."""

from __future__ import annotations

from dataclasses import replace

from assistant.answers.answer import Found
from assistant.answers.facts import Facts
from assistant.answers.query import Query
from assistant.answers.recall import ids
from assistant.answers.wording import count_words, joined, line, lines


def last_note(query: Query, facts: Facts) -> Found:
    """What was read from the last note."""
    if not facts.entries:
        return Found("Nothing yet: the log is empty.", [])
    newest = max(facts.entries, key=lambda e: (e.said_on, e.note))
    held = [e for e in facts.entries if e.note == newest.note]
    told = "".join(f"\n{line(e, facts.bins)}{_doubt(e.record.unsure)}" for e in held)
    return Found(
        f"{count_words(len(held), ())} from your note of {newest.said_on[:10]}:{told}",
        [line(e, facts.bins) for e in held],
        records=ids(held),
    )


def _doubt(unsure: tuple[str, ...]) -> str:
    return f"  [unsure: {'; '.join(unsure)}]" if unsure else ""


def changes(query: Query, facts: Facts) -> Found:
    """The records that were corrected, or what was done in a period where one is named."""
    changed = [e for e in facts.choose(replace(query, kinds=())) if e.version > 1]
    if not changed:
        return Found("No record was changed.", [])
    return Found(
        f"{count_words(len(changed), ())} changed:{lines(changed, facts.bins)}",
        [line(e, facts.bins) for e in changed],
        records=ids(changed),
    )


def bins(query: Query, facts: Facts) -> Found:
    """How many bins the set-up has, and which."""
    names = [one.name for one in facts.setup]
    if not names:
        return Found("The log has no set-up yet.")
    told = joined(f"{one.name} ({one.tiers} tiers)" if one.tiers > 1 else one.name for one in facts.setup)
    return Found(f"{len(names)}: {told}.", float(len(names)))


def nothing(query: Query, facts: Facts) -> Found:
    """Where the words ask nothing that is known here."""
    return Found('I can\'t tell what is asked. Try "when did I last feed the top tray?" or "what\'s due?"')
