"""What a spreadsheet's headings mean: a table from heading words to the columns that are understood.

The words are common practice, no source. A heading that is not listed is kept as "heading value" in the note.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

HEADINGS: dict[str, str] = {
    "said_on": "date day said_on note_date entry_date recorded_on datetime date_time timestamp",
    "time": "time clock hour",
    "when": "when due due_date due_on",
    "note": "text note notes comment comments remark remarks observation observations description entry",
    "kind": "kind what action event activity task record record_kind what_happened what_i_did type",
    "state": "state",
    "bin": "bin bin_name worm_bin box container system tower farm which_bin",
    "tier": "tier tray tier_no tray_no layer shelf",
    "to_tier": "to_tier to_tray",
    "spot": "spot place where location corner",
    "item": "item food foods fed feedstock material scraps what_fed ingredient",
    "amount": "amount best qty quantity how_much weight volume measure_amount size",
    "low": "low amount_low",
    "high": "high amount_high",
    "unit": "unit units measure",
    "level": "level scale",
    "price": "price cost paid total_price",
    "currency": "currency",
    "bedding": "bedding carbon browns",
    "water": "water watered water_added",
    "harvest": "harvest harvested castings",
    "temperature": "temperature temp bed_temp bin_temp bed_temperature",
    "ph": "ph acidity",
    "moisture": "moisture dampness wetness",
    "smell": "smell odour odor",
    "start": "start",
    "end": "end",
    "unsure": "unsure doubts",
    "id": "id record_id",
    "note_id": "note_id",
    "at": "at second seconds",
}

PHRASES: dict[str, str] = {
    "bedding": "added {} for bedding",
    "water": "watered {}",
    "harvest": "harvested {}",
    "temperature": "temperature {}",
    "ph": "pH {}",
    "moisture": "moisture {}",
    "smell": "smell {}",
}
"""How a column is put in words, for the note that is then read like any other."""

_SPELLED = """
handful cup pint quart gallon litre ml tbsp tsp spoon fl_oz scoop bucket caddy barrow bag tub tray sheet slice
piece spray lb oz g kg ton tonne yard inch cm percent degF degC pH min
"""
UNITS = frozenset(_SPELLED.split())
"""The contract's spellings, section 2."""

_FIELD_OF = {word: name for name, words in HEADINGS.items() for word in words.split()}
_UNIT_ASIDE = re.compile(r"\(([^()]{1,20})\)|\[([^\[\]]{1,20})\]|\bin ([a-z°]{1,12})$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its heading, the field it is read as (None: kept as words), the unit its heading names."""

    heading: str
    field: str | None
    unit: str | None = None

    def told(self) -> str:
        """How the column was understood, in plain words."""
        meaning = f"read as {self.field.replace('_', ' ')}" if self.field else "kept as words in the note"
        return f"'{self.heading}' is {meaning}" + (f", in {self.unit}" if self.unit else "")


def columns_of(headings: Sequence[str]) -> tuple[Column, ...]:
    """A column for each heading; the first to claim a field has it, a later one is kept as words."""
    taken: set[str] = set()
    columns = []
    for heading in headings:
        column = _column(" ".join(heading.split()))
        if column.field in taken:
            column = Column(column.heading, None, column.unit)
        taken |= {column.field} if column.field else set()
        columns.append(column)
    return tuple(columns)


def _column(heading: str) -> Column:
    aside = _UNIT_ASIDE.search(heading)
    unit = next((part for part in aside.groups() if part), None) if aside else None
    bare = heading[: aside.start()] + heading[aside.end() :] if aside else heading
    word = "_".join(re.findall(r"[^\W_]+", bare.lower()))
    return Column(heading, _FIELD_OF.get(word), unit)
