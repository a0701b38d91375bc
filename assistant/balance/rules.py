"""Thresholds and rates of lexicon/rules.csv and species.csv, looked up by name and what they apply to."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, TypeAlias

from lexicon import Lexicon, LexiconError, Row

Side: TypeAlias = Literal["below", "above"]


@dataclass(frozen=True, slots=True)
class Limit:
    """One row: a figure or a band (either end may be open), what it applies to, and its source code."""

    name: str
    low: float | None
    best: float | None
    high: float | None
    unit: str
    applies_to: str
    source: str
    note: str

    @property
    def value(self) -> float:
        """The best figure, else the middle of the band, else its one end."""
        ends = [end for end in (self.low, self.high) if end is not None]
        return self.best if self.best is not None else sum(ends) / len(ends)

    @property
    def least(self) -> float:
        """The lower end of the figure's range; the figure itself where no range is given."""
        return self.low if self.low is not None else self.value

    @property
    def most(self) -> float:
        """The upper end of the figure's range; the figure itself where no range is given."""
        return self.high if self.high is not None else self.value

    def side(self, value: float) -> Side | None:
        """Where `value` (in `unit`) lies outside the band: `below`, `above`, or None where it lies within."""
        if self.low is not None and value < self.low:
            return "below"
        return "above" if self.high is not None and value > self.high else None


class Rules:
    """All limits of a lexicon."""

    def __init__(self, lexicon: Lexicon) -> None:
        limits = [_limit(row) for table in ("rules", "species") for row in lexicon.table(table)]
        self._limits = {(limit.name, limit.applies_to.lower()): limit for limit in limits}

    def find(self, name: str, applies: Iterable[str] = ()) -> Limit | None:
        """The limit `name` for the first of `applies` that has one, else the general one."""
        for what in (*applies, ""):
            limit = self._limits.get((name, what.lower()))
            if limit:
                return limit
        return None

    def need(self, name: str, applies: Iterable[str] = ()) -> Limit:
        """As `find`; LexiconError where the rule is missing from the data."""
        wanted = tuple(applies)
        limit = self.find(name, wanted)
        if limit is None:
            raise LexiconError(f"rules.csv has no rule {name!r} for {' or '.join(wanted) or 'everything'}")
        return limit


def _limit(row: Row) -> Limit:
    low, best, high = (float(row[end]) if row[end] else None for end in ("low", "best", "high"))
    return Limit(row["name"], low, best, high, row["unit"], row["applies_to"], row["source"], row["note"])
