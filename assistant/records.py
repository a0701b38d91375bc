"""The values that every layer hands on: amounts, records, bins, notes. Immutable; no input or output.

The shapes are those of the record contract, section 2: `to_json` gives them and `from_json` reads them.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

State: TypeAlias = Literal["done", "planned", "expected", "ruled_out"]

ACTIONS = frozenset(
    "feed bed water drain amend move remove turn harvest cover treat restack start refresh worms_added "
    "worms_removed prepare buy sell give check".split()
)
READINGS = frozenset("moisture temperature ph sighting leftover progress smell worm_estimate".split())
KINDS = ACTIONS | READINGS | {"remark"}


@dataclass(frozen=True, slots=True)
class Amount:
    """A quantity with its range, `low <= best <= high`, in `unit`: the contract's spelling, or as said."""

    low: float
    best: float
    high: float
    unit: str

    @classmethod
    def exactly(cls, value: float, unit: str) -> Amount:
        """An amount with no spread."""
        return cls(value, value, value, unit)

    def scaled(self, factor: float) -> Amount:
        """The same unit, every bound times `factor`."""
        return Amount(self.low * factor, self.best * factor, self.high * factor, self.unit)

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Amount:
        """Read `{"low", "best", "high", "unit"}`; ValueError where a figure is missing or not finite."""
        best = float(data["best"])
        low, high = float(data.get("low", best)), float(data.get("high", best))
        if not all(map(math.isfinite, (low, best, high))):
            raise ValueError("an amount is not a finite number")
        return cls(low, best, high, str(data["unit"]))

    def to_json(self) -> dict[str, Any]:
        """`{"low", "best", "high", "unit"}`, whole numbers without a fraction."""
        return {
            "low": _plain(self.low),
            "best": _plain(self.best),
            "high": _plain(self.high),
            "unit": self.unit,
        }


@dataclass(frozen=True, slots=True)
class Price:
    """The total paid or got."""

    value: float
    currency: str = "USD"


@dataclass(frozen=True, slots=True)
class Bin:
    """A bin of the set-up; tier 1 is the top. `tier_names` maps a position to what the keeper calls it."""

    name: str
    tiers: int = 1
    also: tuple[str, ...] = ()
    tier_names: tuple[tuple[int, tuple[str, ...]], ...] = ()
    species: tuple[str, ...] = ()
    started: str | None = None

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Bin:
        """Read one entry of a set-up; ValueError where the name is missing or the tiers are not a count."""
        name = str(data.get("name") or "").strip()
        if not name:
            raise ValueError("a bin needs a name")
        tiers = int(data.get("tiers") or 1)
        if not 1 <= tiers <= 99:
            raise ValueError(f"{name}: {tiers} tiers is not a count that can be kept")
        names = data.get("tier_names") or {}
        return cls(
            name,
            tiers,
            tuple(map(str, data.get("also") or ())),
            tuple(sorted((int(k), tuple(map(str, v))) for k, v in names.items())),
            tuple(map(str, data.get("species") or ())),
            data.get("started"),
        )

    def to_json(self) -> dict[str, Any]:
        """The set-up entry of the contract; slots that say nothing are left out."""
        full = {
            "name": self.name,
            "tiers": self.tiers,
            "also": list(self.also),
            "tier_names": {str(k): list(v) for k, v in self.tier_names},
            "species": list(self.species),
            "started": self.started,
        }
        return {k: v for k, v in full.items() if v or k == "name"}


SetUp: TypeAlias = tuple[Bin, ...]


def setup_from_json(data: Sequence[Mapping[str, Any]]) -> SetUp:
    """Read a set-up: a list of bins. ValueError names the bin that cannot be taken."""
    return tuple(Bin.from_json(entry) for entry in data)


@dataclass(frozen=True, slots=True)
class Record:
    """One thing done, planned, expected, ruled out or seen; the fields are those of contract section 2."""

    kind: str
    state: State = "done"
    bin: str | None = None
    tier: int | None = None
    to_tier: int | None = None
    spot: str | None = None
    item: str | None = None
    amount: Amount | None = None
    level: float | None = None
    price: Price | None = None
    when: str | None = None
    text: str = ""
    start: int = 0
    end: int = 0
    unsure: tuple[str, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """The record as the contract writes it, every field present."""
        return {
            "kind": self.kind,
            "state": self.state,
            "bin": self.bin,
            "tier": self.tier,
            "to_tier": self.to_tier,
            "spot": self.spot,
            "item": self.item,
            "amount": self.amount.to_json() if self.amount else None,
            "level": None if self.level is None else _plain(self.level),
            "price": {"value": _plain(self.price.value), "currency": self.price.currency}
            if self.price
            else None,
            "when": self.when,
            "text": self.text,
            "start": self.start,
            "end": self.end,
            "unsure": list(self.unsure),
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Record:
        """Read what `to_json` wrote; ValueError or KeyError where it does not hold together."""
        kind, state = str(data["kind"]), str(data.get("state") or "done")
        if kind not in KINDS:
            raise ValueError(f"'{kind}' is not a kind of record")
        if state not in ("done", "planned", "expected", "ruled_out"):
            raise ValueError(f"'{state}' is not a state of a record")
        price = data.get("price")
        level = data.get("level")
        return cls(
            kind,
            state,  # type: ignore[arg-type]
            data.get("bin"),
            _int(data.get("tier")),
            _int(data.get("to_tier")),
            data.get("spot"),
            data.get("item"),
            Amount.from_json(data["amount"]) if data.get("amount") else None,
            None if level is None else float(level),
            Price(float(price["value"]), str(price.get("currency") or "USD")) if price else None,
            data.get("when"),
            str(data.get("text") or ""),
            int(data.get("start") or 0),
            int(data.get("end") or 0),
            tuple(map(str, data.get("unsure") or ())),
        )


@dataclass(frozen=True, slots=True)
class Entry:
    """A record as the log keeps it: with its id, the note it came from, and the place in the recording.

    `said_on` is the note's own date-time (ISO); `at` is seconds into the recording, None for a typed note;
    `version` is 1 when first read and one more for each amendment.
    """

    id: str
    note: str
    said_on: str
    record: Record
    at: float | None = None
    version: int = 1

    @property
    def day(self) -> str:
        """The ISO day: when it happened or is due, else the day it was said."""
        return (self.record.when or self.said_on)[:10]


@dataclass(frozen=True, slots=True)
class Note:
    """A note as it came: raw text for ever. `source` says where from ("typed", or a file's name)."""

    id: str
    said_on: str
    text: str
    source: str = "typed"
    reader: str = ""
    marks: tuple[tuple[int, float], ...] = ()
    """(character, second) pairs: from that character on, the recording stands at that second."""


def _plain(x: float) -> float | int:
    return int(x) if float(x).is_integer() and abs(x) < 1e15 else round(float(x), 6)


def _int(x: Any) -> int | None:
    return None if x is None else int(x)
