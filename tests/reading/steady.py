"""What must not change a reading: talk that records nothing around it, capitals and full stops."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tests.reading.notesets import read

Json = Mapping[str, Any]

TALK_BEFORE = "Good morning everyone, hope you are all well.\n\n"
TALK_AFTER = "\n\nThanks for listening, bye for now."

CHANGES: dict[str, Callable[[str], str]] = {
    "talk before": lambda text: TALK_BEFORE + text,
    "talk after": lambda text: text + TALK_AFTER,
    "no capitals": str.lower,
    "no full stops": lambda text: re.sub(r"(?<=\w)\.(?=\s|$)", "", text),
    "neither": lambda text: re.sub(r"(?<=\w)\.(?=\s|$)", "", text).lower(),
}
"""What is done to a note's text; the records should say the same."""


def says(records: Iterable[Json]) -> Counter[str]:
    """What records say, whatever words of the note they come from."""
    aside = ("text", "start", "end", "unsure", "spot")
    return Counter(repr(sorted((k, v) for k, v in r.items() if k not in aside)) for r in records)


@dataclass(frozen=True)
class Kept:
    """How much of a reading stays under a change: notes read just the same, and records of all notes."""

    notes: int
    of_notes: int
    records: int
    of_records: int

    def __str__(self) -> str:
        share = self.records / max(self.of_records, 1)
        return f"{self.notes} of {self.of_notes} notes the same, {share:.3f} of {self.of_records} records"


def steady(notes: Sequence[Json], change: Callable[[str], str]) -> Kept:
    """Read every note twice, as it is and with its text changed."""
    pairs = [(says(read(note)), says(read(note, change(note["text"])))) for note in notes]
    return Kept(
        sum(a == b for a, b in pairs),
        len(pairs),
        sum((a & b).total() for a, b in pairs),
        sum(max(a.total(), b.total()) for a, b in pairs),
    )


def told(notes: Sequence[Json]) -> Iterator[str]:
    """A line for every change."""
    for change, make in CHANGES.items():
        yield f"  steady under {change}: {steady(notes, make)}"
