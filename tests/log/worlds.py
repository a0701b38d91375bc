"""The model that the simulator holds the log against: histories that could explain what is seen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Any


@dataclass(frozen=True)
class Change:
    """One operation as the model sees it: entries by the words of their record, which are unique."""

    notes: tuple[str, ...] = ()
    levels: tuple[tuple[str, float], ...] = ()
    added: tuple[tuple[str, float], ...] = ()
    dropped: tuple[str, ...] = ()
    value: tuple[str, str] | None = None
    source: str = ""
    undoes: Change | None = None
    redoes: Change | None = None
    number: int = 0


@dataclass(frozen=True)
class World:
    """A history that explains what was seen.

    `firm` survives a power cut. Of what is `open` it was never said whether it was kept, and nothing was
    acknowledged since: whether it is seen now or not, a power cut may leave it or not.
    """

    firm: tuple[Change, ...] = ()
    open: tuple[tuple[Change, bool], ...] = ()

    def every(self) -> tuple[Change, ...]:
        return self.firm + tuple(change for change, seen in self.open if seen)

    def left(self) -> Iterator[tuple[Change, ...]]:
        """What a power cut may leave."""
        for count in range(len(self.open) + 1):
            for part in combinations(self.open, count):
                yield self.firm + tuple(change for change, _ in part)

    def standing(self) -> list[Change]:
        stands: dict[Change, bool] = {}
        for change in self.every():
            if change.undoes or change.redoes:
                stands[change.undoes or change.redoes] = bool(change.redoes)  # type: ignore[index]
            else:
                stands.setdefault(change, True)
        return [change for change in self.every() if stands.get(change)]

    def last_step(self) -> Change | None:
        steps = [change for change in self.standing() if change.source != "only"]
        return steps[-1] if steps else None

    def last_undone(self) -> Change | None:
        undone: list[Change] = []
        for change in self.every():
            if change.undoes:
                undone.append(change.undoes)
            elif change.redoes:
                undone = [other for other in undone if other != change.redoes]
            elif change.source != "only":
                undone = []
        known = self.every()
        return next((change for change in reversed(undone) if change in known), None)

    def seen(self) -> Any:
        entries: dict[str, tuple[float, str, int]] = {}
        notes: list[str] = []
        values: dict[str, str] = {}
        sources: set[str] = set()
        for change in self.standing():
            notes += change.notes
            for words, level in change.added:
                entries[words] = (level, change.notes[-1], 1)
            for words, level in change.levels:
                if words in entries:
                    entries[words] = (level, entries[words][1], entries[words][2] + 1)
            for words in change.dropped:
                entries.pop(words, None)
            values.update([change.value] if change.value else [])
            sources |= {change.source} - {"", "only"}
        return entries, sorted(notes), values, sources
