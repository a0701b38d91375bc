"""What words mean and what the trade knows: data files, and one loader that checks them.

    load()          the whole lexicon, quick after the first time
    inflect(form)   the other number of a noun phrase
    LexiconError    a row that cannot be taken, named by file and row

A thing table (foods.csv, beddings.csv, ...) is a topic: each row a `Thing` with its surface forms and
figures. Every other CSV, here or in words/, is a plain table: `Lexicon.table("measures")`. SCHEMA says
which columns a table must have; one that is not in SCHEMA needs a column `form`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, TypeAlias

from lexicon import compiled
from lexicon.errors import LexiconError
from lexicon.inflection import inflect

__all__ = [
    "SCHEMA",
    "TOPICS",
    "Caution",
    "Figure",
    "Lexicon",
    "LexiconError",
    "Row",
    "Thing",
    "inflect",
    "load",
    "read",
]

Row: TypeAlias = Mapping[str, str]

TOPICS: Mapping[str, str] = {  # topic -> its file
    "food": "foods.csv",
    "bedding": "beddings.csv",
    "cover": "covers.csv",
    "amendment": "amendments.csv",
    "treatment": "treatments.csv",
    "organism": "organisms.csv",
    "product": "products.csv",
}

_LIMITS = ("name", "low", "best", "high", "unit", "applies_to", "source", "note")

SCHEMA: Mapping[str, tuple[str, ...]] = {  # table -> its columns, the first one naming the row
    "measures": ("name", "forms", "dimension", "base", "low", "high", "source", "note"),
    "species": _LIMITS,
    "rules": _LIMITS,
    "sources": ("code", "title", "where", "status"),
    "mishearings": ("heard", "meant", "tag", "near"),
    "irregular": ("word", "other"),
    "classes": ("form", "topic", "like", "advice", "source", "note"),
}


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of the trade, `low <= best <= high`, and the code of its source in sources.csv."""

    low: float
    best: float
    high: float
    source: str


@dataclass(frozen=True, slots=True)
class Thing:
    """Something that goes into, lives in or comes out of a bin.

    `forms` are all its surface forms, lower case, its own name first, singular and plural. `figures` may
    hold moisture (% wet basis), nitrogen (% of dry mass), c_to_n (ratio), density (kg/m3 as poured),
    piece (g of one as it goes into a bin) and refuse (% of the bought item).
    """

    name: str
    topic: str
    forms: tuple[str, ...]
    klass: str
    figures: Mapping[str, Figure]
    note: str


@dataclass(frozen=True, slots=True)
class Caution:
    """A short warning: for records of an item in `items` or a kind in `kinds`, or a word in `words`."""

    id: str
    text: str
    source: str
    items: tuple[str, ...]
    kinds: tuple[str, ...]
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Lexicon:
    """Everything the data files say: things by topic and name, cautions, and the plain tables."""

    things: Mapping[str, Mapping[str, Thing]]
    cautions: tuple[Caution, ...]
    tables: Mapping[str, tuple[Row, ...]]

    def table(self, name: str) -> tuple[Row, ...]:
        """The rows of `name`.csv as stripped strings; LexiconError where there is no such file."""
        try:
            return self.tables[name]
        except KeyError:
            raise LexiconError(f"the lexicon has no table {name}.csv") from None


def _assemble(data: Mapping[str, Any]) -> Lexicon:
    """The values of `Lexicon` from the plain data that `source.gather` gives."""
    things = {
        topic: {
            name: Thing(name, topic, tuple(forms), klass, {k: Figure(*v) for k, v in figures.items()}, note)
            for name, forms, klass, figures, note in rows
        }
        for topic, rows in data["things"].items()
    }
    cautions = tuple(
        Caution(c["id"], c["text"], c["source"], tuple(c["items"]), tuple(c["kinds"]), tuple(c["words"]))
        for c in data["cautions"]
    )
    tables = {
        name: tuple(dict(zip(columns, row, strict=True)) for row in rows)
        for name, (columns, rows) in data["tables"].items()
    }
    return Lexicon(things, cautions, tables)


def _gather(folder: Path) -> dict[str, Any]:
    from lexicon import source  # late: not needed where the compiled cache is fresh

    return source.gather(folder, TOPICS, SCHEMA)


def read(folder: Path) -> Lexicon:
    """The lexicon of `folder`, read and checked anew, with no cache; LexiconError names the first bad row."""
    return _assemble(_gather(folder))


@cache
def load() -> Lexicon:
    """The shipped lexicon, once a process; from the compiled cache where that is fresh and readable."""
    folder = Path(__file__).parent
    return _assemble(compiled.fetch(folder, _gather))
