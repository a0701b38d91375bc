"""A question as one small typed query, which can be shown in words before it is answered."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, NamedTuple

from assistant.answers.wording import kinds_words, period_words, place_words
from assistant.records import Amount, SetUp, State


class Spot(NamedTuple):
    """A bin, or one tier of it (1 = top); either may be None."""

    bin: str | None
    tier: int | None = None


@dataclass(frozen=True, slots=True)
class Query:
    """What is asked of the log.

    `want` is a word of the contract, section 7; `asks` says which side of the records is wanted (day, place,
    item, ...), `by` what to tell apart. `kinds`, `items`, `bin`, `tiers` and the days `first` to `last` (both
    inclusive, None: open) choose the records; empty ones choose all. `spots` are bins or tiers to be held
    against each other, `periods` the same for days. `after` and `before` are ids of records between which it
    happened ("since the refresh"). `level` bounds a reading. `topic` is a row of the glossary or the advice.
    `taken` says, in words, what was guessed, `unknown` what the log has not got.
    """

    want: str
    asks: str = ""
    kinds: tuple[str, ...] = ()
    items: tuple[str, ...] = ()
    bin: str | None = None
    tiers: tuple[int, ...] = ()
    first: date | None = None
    last: date | None = None
    unit: str | None = None
    state: State = "done"
    by: str = ""
    pick: str = ""
    limit: int = 0
    spots: tuple[Spot, ...] = ()
    periods: tuple[tuple[date, date], ...] = ()
    after: str | None = None
    before: str | None = None
    level: tuple[float, float] | None = None
    amounts: tuple[Amount, ...] = ()
    topic: str = ""
    unknown: str = ""
    taken: tuple[str, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """`read_as` of the contract; `kind`, `item` and `tier` are lists where there are several."""
        return {
            "want": self.want,
            "kind": _one_or_all(self.kinds),
            "item": _one_or_all(self.items),
            "bin": self.bin,
            "tier": _one_or_all(self.tiers),
            "from": self.first.isoformat() if self.first else None,
            "to": self.last.isoformat() if self.last else None,
            "asks": self.asks or None,
            "state": self.state,
            "unit": self.unit,
        }

    def words(self, setup: SetUp = ()) -> str:
        """The query for a person: "feedings, bottom tray of the tower, 16 to 22 March"."""
        parts = [kinds_words(self.kinds, self.items, self.state)]
        if self.spots:
            parts.append(" and ".join(place_words(spot.bin, spot.tier, setup) for spot in self.spots))
        elif self.unknown:
            parts.append(self.unknown)
        else:
            parts += [place_words(self.bin, tier, setup) for tier in self.tiers or (None,)]
        parts.append(period_words(self.first, self.last))
        return ", ".join(filter(None, parts))


def _one_or_all(values: tuple[Any, ...]) -> Any:
    return None if not values else values[0] if len(values) == 1 else list(values)
