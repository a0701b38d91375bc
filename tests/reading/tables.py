"""Scores in words, as lines for a terminal."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from tests.reading.scoring import NoteScore, Score, Share

SHOWN = ("kind", "state", "bin", "tier", "to_tier", "item", "amount", "level", "price", "when")


def summary(name: str, score: Score) -> Iterator[str]:
    """The main figures of a set."""
    found, whole = score.found, score.whole
    yield f"{name}: {len(score.notes)} notes, {whole.gold} records to find, {whole.read} read"
    for label, share in (("found", found), ("whole", whole)):
        yield f"  {label}  precision {share.precision:.3f}  recall {share.recall:.3f}  F1 {share.f1:.3f}"
    slots = (f"{slot} {right / of:.3f}/{of}" for slot, (right, of) in score.slots.items())
    yield f"  slots  {'  '.join(slots)}"
    yield f"  invented {score.invented:.2f} per 1,000 words; notes without a fault {score.clean:.3f}"
    yield f"  by kind   {_shares(score.by_kind())}"
    yield f"  by style  {_shares(score.by_style())}"
    yield f"  doubt     {_doubt(score)}"


def _shares(shares: Mapping[str, Share]) -> str:
    """Whole F1 of each group, and how many there were to find."""
    return "  ".join(f"{name} {share.f1:.2f}/{share.gold}" for name, share in shares.items())


def _doubt(score: Score) -> str:
    """Honest doubt: what is marked unsure should be wrong more often than what is not."""
    parts = (
        f"{name} {share.precision:.3f} whole-right of {share.read}" for name, share in score.doubt().items()
    )
    return "; ".join(parts)


def worst(score: Score, count: int) -> Iterator[str]:
    """The notes with most faults, each fault as should and was."""
    for note in sorted(score.notes, key=lambda n: -len(n.faults))[:count]:
        yield ""
        yield from faults(note)


def faults(note: NoteScore) -> Iterator[str]:
    """All that is wrong in one note."""
    yield f"{note.note['id']} ({len(note.faults)} faults): {note.note['text']}"
    for fault in note.faults:
        yield f"  {', '.join(fault.why)}"
        yield f"    should be {brief(fault.gold)}"
        yield f"    was read  {brief(fault.read)}"


def brief(record: Mapping[str, Any] | None) -> str:
    """The slots of a record that say something, the words it comes from last."""
    if record is None:
        return "-"
    kept = {k: record[k] for k in SHOWN if record.get(k) is not None}
    doubt = f"  unsure: {'; '.join(record['unsure'])}" if record.get("unsure") else ""
    return f"{json.dumps(kept, ensure_ascii=False)}  <{record.get('text', '')}>{doubt}"
