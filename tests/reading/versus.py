"""Two versions of the reading side by side: what got better and what got worse, note by note."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from tests.reading.scoring import NoteScore, Score
from tests.reading.tables import brief


def compared(before: Score, now: Score) -> Iterator[str]:
    """Figures of both, then every note whose faults are not the same; both hold the same notes."""
    for label, was, is_now in (("found", before.found, now.found), ("whole", before.whole, now.whole)):
        yield f"  {label}  F1 {was.f1:.3f} -> {is_now.f1:.3f} ({is_now.f1 - was.f1:+.3f})"
    yield f"  invented {before.invented:.2f} -> {now.invented:.2f} per 1,000 words"
    yield f"  notes without a fault {before.clean:.3f} -> {now.clean:.3f}"
    better = worse = 0
    told: list[str] = []
    for a, b in zip(before.notes, now.notes, strict=True):
        lines = list(_turned(a, b))
        better += len(b.faults) < len(a.faults)
        worse += len(b.faults) > len(a.faults)
        if lines:
            told += [f"\n{a.note['id']}: {len(a.faults)} -> {len(b.faults)} faults", *lines]
    yield f"  {better} notes better, {worse} worse, of {len(now.notes)}"
    yield from told


def _turned(a: NoteScore, b: NoteScore) -> Iterator[str]:
    """A line for every fault that is gone, new or another one than before."""
    old, new = _faults(a), _faults(b)
    for about in {**old, **new}:
        if about not in new:
            yield f"  mended  {old[about]}"
        elif about not in old:
            yield f"  broken  {new[about]}"
        elif old[about] != new[about]:
            yield f"  changed {old[about]}\n       to {new[about]}"


def _faults(note: NoteScore) -> Mapping[str, str]:
    """Each fault in words, by what it is about: the gold record, or the record that is one too many."""
    found: dict[str, str] = {}
    for fault in note.faults:
        about = _about(fault.gold if fault.gold is not None else fault.read or {})
        while about in found:
            about += "'"
        was = "" if fault.gold is None or fault.read is None else f"  read as {brief(fault.read)}"
        found[about] = f"{', '.join(fault.why)}: {brief(fault.gold or fault.read)}{was}"
    return found


def _about(record: Mapping[str, Any]) -> str:
    said = {k: v for k, v in record.items() if k not in ("unsure", "start", "end")}
    return json.dumps(said, sort_keys=True)
