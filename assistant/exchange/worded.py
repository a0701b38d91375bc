"""A row of a spreadsheet put in words, as a keeper would have typed it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TypeAlias

from assistant.exchange.headings import PHRASES, Column

Cells: TypeAlias = dict[str, str]
"""Field to cell, empty cells left out. Columns that are not understood stand as words under ""."""

FIGURES = ("tier", "to_tier", "amount", "low", "high", "level", "price", "start", "end", "at")
"""Fields that hold a number in a row that is a record."""

FEEDING = "food foods fed feedstock scraps what fed"
"""Headings of an item that say it was fed."""

_NUMBER = re.compile(r"^[−-]?(?:\d+(?:\.\d+)?|\.\d+)$")
_COMMA_NUMBER = re.compile(r"^[−-]?\d+,\d+$")


def named_cells(columns: Sequence[Column], row: Sequence[str], delimiter: str) -> tuple[Cells, int]:
    """The row's cells by field, and how many cells stand beyond the last heading (kept as words).

    A unit in a heading joins the figure below it: "Temp (F)" over 68 is "68 F"; for an amount it is the unit.
    A decimal comma becomes a point where commas do not part the cells.
    """
    named: Cells = {}
    words = []
    for column, cell in zip(columns, row, strict=False):
        if not cell.strip():
            continue
        if delimiter != "," and _COMMA_NUMBER.match(cell.strip()):
            cell = cell.replace(",", ".")
        if column.field is None:
            words.append(f"{column.heading} {cell.strip()}")
        elif column.unit and column.field == "amount":
            named |= {"amount": cell, "unit": column.unit}
        else:
            named[column.field] = f"{cell.strip()} {column.unit}" if column.unit and is_figure(cell) else cell
        if column.field == "item" and column.heading.lower() in FEEDING.split():
            named["verb"] = "fed"
    spare = [cell.strip() for cell in row[len(columns) :] if cell.strip()]
    named[""] = ", ".join(words + spare)
    return named, len(spare)


def in_words(named: Cells) -> str:
    """The row as a note; a row of nothing but a note is that note, as it stands."""
    said = {name: " ".join(cell.split()) for name, cell in named.items() if name != "note"}
    tier = said.get("tier", "")
    place = ", ".join(part for part in (said.get("bin"), f"tray {tier}" if is_figure(tier) else tier) if part)
    deed = [said.get("kind", said.get("verb", "")).replace("_", " ")]
    deed += [said.get(name, "") for name in ("amount", "unit", "item", "spot")]
    parts = [" ".join(part for part in deed if part)]
    parts += [PHRASES[name].format(said[name]) for name in PHRASES if name in said]
    parts += [f"{name} {said[name]}" for name in ("level", "price") if name in said]
    parts += [said.get("", ""), named.get("note", "")]
    state = said.get("state", "done")
    lead = [place, state.replace("_", " ") if state != "done" else ""]
    text = ". ".join(part for part in parts if part.strip())
    return ": ".join(part for part in (*lead, text) if part) if text else ""


def figure(cell: str) -> float | None:
    """The number in a cell, None where it holds none."""
    bare = cell.strip()
    return float(bare.replace("−", "-")) if _NUMBER.match(bare) and len(bare) < 30 else None


def is_figure(cell: str) -> bool:
    """Whether the cell holds a plain number."""
    return bool(_NUMBER.match(cell.strip()))
