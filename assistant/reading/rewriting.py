"""A text with some of its words replaced, and the way back from it to what was written."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from assistant.reading.mend import Mended, rewritten

Repair = tuple[int, int, str, str]
"""Start and end in a text, what was heard and what was meant."""


class Readable(Protocol):
    """A text to read, whose characters lead back to the raw ones."""

    @property
    def text(self) -> str:
        """What is read."""

    @property
    def repairs(self) -> tuple[Repair, ...]:
        """Where it was mended."""

    def raw(self, position: int, end: bool = False) -> int:
        """Where a character stood in the raw text."""


@dataclass(frozen=True, slots=True)
class Rewritten:
    """`before` with a step of replacements on top."""

    before: Readable
    step: Mended
    repairs: tuple[Repair, ...]

    @property
    def text(self) -> str:
        """What is read."""
        return self.step.text

    def raw(self, position: int, end: bool = False) -> int:
        """Where a character stood in the raw text; inside a replacement, its start or end."""
        return self.before.raw(self.step.raw(position, end), end)


def rewrite(before: Readable, changes: Iterable[tuple[int, int, str]]) -> Rewritten:
    """The text with `(start, end, new text)` replaced, in order and without overlap."""
    changes = list(changes)
    step = rewritten(before.text, changes)
    return Rewritten(before, step, tuple(_carried(before.repairs, changes)))


def _carried(repairs: Sequence[Repair], changes: Sequence[tuple[int, int, str]]) -> Iterable[Repair]:
    """The repairs that still stand, where they stand now."""
    for start, end, heard, meant in repairs:
        if any(a < end and start < b for a, b, _ in changes):
            continue
        shift = sum(len(new) - (b - a) for a, b, new in changes if b <= start)
        yield start + shift, end + shift, heard, meant
