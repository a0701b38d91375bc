"""What the files made for reading (.md, .html) show of a log: notes in order of time, with their records."""

from __future__ import annotations

from assistant.exchange.outgoing import Outgoing, place
from assistant.records import Entry, Note, Record

HEADINGS = ("kind", "item", "where", "amount", "when", "state")


def by_note(out: Outgoing) -> list[tuple[str, Note | None, list[Entry]]]:
    """(day and time, the note where it is known, its records), the oldest first."""
    grouped: dict[str, list[Entry]] = {key: [] for key in out.notes}
    for entry in out.entries:
        grouped.setdefault(entry.note, []).append(entry)
    groups = []
    for key, entries in grouped.items():
        note = out.notes.get(key)
        groups.append((note.said_on if note else entries[0].said_on, note, entries))
    return sorted(groups, key=lambda group: group[0])


def row_of(record: Record) -> tuple[str, ...]:
    """The record's cells under `HEADINGS`, as the log has them: not yet safe to show."""
    where = ", ".join(part for part in (place(record.bin, record.tier), record.spot or "") if part)
    if record.to_tier:
        where += f" to tier {record.to_tier}"
    state = record.state.replace("_", " ") + (f" ({'; '.join(record.unsure)})" if record.unsure else "")
    return (
        record.kind.replace("_", " "),
        record.item or "",
        where,
        figures_of(record),
        record.when or "",
        state,
    )


def figures_of(record: Record) -> str:
    """ "2.5 cup (2 to 3)", "level 4", "12 USD": the figures a record has."""
    data = record.to_json()
    amount, price = data["amount"], data["price"]
    parts = []
    if amount:
        spread = "" if amount["low"] == amount["high"] else f" ({amount['low']} to {amount['high']})"
        parts.append(f"{amount['best']} {amount['unit']}{spread}")
    if data["level"] is not None:
        parts.append(f"level {data['level']}")
    if price:
        parts.append(f"{price['value']} {price['currency']}")
    return ", ".join(parts)


def moment(said_on: str) -> str:
    """An ISO date-time as it is read: "2026-03-05 18:30"."""
    return said_on[:16].replace("T", " ")


def tiers(count: int) -> str:
    """ "1 tier", "3 tiers"."""
    return f"{count} tier" if count == 1 else f"{count} tiers"
