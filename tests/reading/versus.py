"""Two versions of the reading side by side: what got better and what got worse, note by note."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from tests.reading.scoring import NoteScore, Score
from tests.reading.tables import brief


def compared(before: Score, now: Score) -> Iterator[str]:
    """Figures of both, then every note whose faults are not the same; `before` and `now` hold the same notes."""
    for label, a, b in (("found", before.found, now.found), ("whole", before.whole, now.whole)):
        yield f"  {label}  F1 {a.f1:.3f} -> {b.f1:.3f} ({b.f1 - a.f1:+.3f})"
    yield f"  invented {before.invented:.2f} -> {now.invented:.2f}; notes without a fault {before.clean:.3f} -> {now.clean:.3f}"
    better = worse = 0
    told: list[str] = []
    for a, b in zip(before.notes, now.notes, strict=True):
        gone, new = _only(a, b), _only(b, a)
        if gone or new:
            better += len(gone) > len(new)
            worse += len(new) > len(gone)
            told.append(f"\n{a.note['id']}: {len(a.faults)} -> {len(b.faults)} faults")
            told += [f"  mended  {line}" for line in gone] + [f"  broken  {line}" for line in new]
    yield f"  {better} notes better, {worse} worse, of {len(now.notes)}"
    yield from told


def _only(a: NoteScore, b: NoteScore) -> list[str]:
    """The faults of `a` that `b` has not."""
    others = _faults(b)
    return [line for key, line in _faults(a).items() if key not in others]


def _faults(note: NoteScore) -> Mapping[str, str]:
    """Each fault by what it is about (the gold record and its wrong slots, or the record too many)."""
    found: dict[str, str] = {}
    for fault in note.faults:
        key = _key(fault.gold if fault.gold is not None else fault.read, fault.why)
        while key in found:
            key += "'"
        was = "" if fault.gold is None or fault.read is None else f"  read as {brief(fault.read)}"
        found[key] = f"{', '.join(fault.why)}: {brief(fault.gold or fault.read)}{was}"
    return found


def _key(record: Any, why: tuple[str, ...]) -> str:
    said = {k: v for k, v in record.items() if k not in ("unsure", "start", "end")}
    return f"{'+'.join(why)} {json.dumps(said, sort_keys=True)}"
